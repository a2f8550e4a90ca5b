import type { Highs } from "highs";
import { hoursAtRate, requireNumber } from "../capacity/index.ts";
import { InputError, type Notice } from "../errors/index.ts";
import { sum } from "../numeric/index.ts";
import type { FieldZones } from "./split-optimum-field.ts";
import { mergeEqualZones, SPLIT_NUTRIENTS } from "./split-optimum-merge.ts";
import { choosePasses, type PassChoice } from "./split-optimum-passes.ts";
import type {
  NutrientAmounts,
  OptimumField,
  OptimumInput,
  OptimumProduct,
  OptimumZone,
  OptimumZoneRates,
  SplitOptimum,
} from "./split-optimum-types.ts";
import { stripWorth } from "./split-optimum-worth.ts";

/**
 * The cheapest split of every zone's need between strip and broadcast under floors, salt caps, meter limits and one
 * target, field by field with or without a broadcast pass. What cannot be placed comes back as a shortage, never as a
 * crash. Zones with equal figures are solved as one; results are in the order of the zones given.
 * Throws `number-not-usable`, `no-product-for-need`, `no-time-lines`, `two-targets`, `hours-below-bare-work`.
 */
export function splitOptimum(highs: Highs, input: OptimumInput): SplitOptimum {
  checkInput(input);
  const merged = mergeEqualZones(input.zones);
  const fields = fieldsOf(merged.zones);
  const ordered = fields.flatMap((field) => field.zones);
  const choice = choosePasses(highs, input, fields, input.shortagePricePerLb ?? shortagePrice(input));
  const placeOf = new Map(ordered.map((zone, i) => [zone, i]));
  const zones = input.zones.map((zone, i) =>
    zoneRates(input, zone, choice, placeOf.get(merged.zones[merged.placeOf[i]!]!)!),
  );
  const summaries = fields.map((field, f) => fieldSummary(input, field, f, choice, zones));
  const lb = (zone: OptimumZoneRates, p: number): number =>
    (zone.stripLbPerAc[p]! + zone.broadcastLbPerAc[p]!) * zone.areaAc;
  const productCost = sum(
    zones.flatMap((zone) => input.products.map(({ pricePerLb }, p) => pricePerLb * lb(zone, p))),
  );
  const placedValue = sum(
    zones.flatMap((zone, i) =>
      SPLIT_NUTRIENTS.map(
        (n) =>
          (input.zones[i]!.valuePerLb?.[n] ?? 0) *
          brought(input.products, zone.stripLbPerAc, n) *
          zone.areaAc,
      ),
    ),
  );
  const hours = input.lines === undefined ? null : sum(summaries.map((field) => field.hours!));
  const hourCost = (input.hourValue ?? 0) * (hours ?? 0);
  const passCost = sum(summaries.map((field) => (field.pass ? (input.passFeePerAc ?? 0) * field.areaAc : 0)));
  const areaAc = sum(zones.map((zone) => zone.areaAc));
  return {
    objective: productCost - placedValue + hourCost + passCost,
    productCost,
    placedValue,
    hourCost,
    passCost,
    zones,
    fields: summaries,
    meanStripLbPerAc: sum(zones.map((zone) => sum(zone.stripLbPerAc) * zone.areaAc)) / areaAc,
    hours,
    worth: stripWorth(input, summaries, choice.solved.targetPrice),
    gapDollars: choice.gapDollars,
    mergedZones: merged.zones.length,
    solves: choice.solves,
    notices: noticesOf(zones, choice),
  };
}

const brought = (
  products: readonly OptimumProduct[],
  rates: readonly number[],
  n: keyof NutrientAmounts,
): number => sum(rates.map((rate, p) => (rate * (products[p]!.grade[n] ?? 0)) / 100));

function fieldsOf(zones: readonly OptimumZone[]): FieldZones[] {
  return [...new Set(zones.map((zone) => zone.fieldId))].map((id) => {
    const own = zones.filter((zone) => zone.fieldId === id);
    return { id, zones: own, areaAc: sum(own.map((zone) => zone.areaAc)) };
  });
}

function zoneRates(
  input: OptimumInput,
  zone: OptimumZone,
  { solved }: PassChoice,
  place: number,
): OptimumZoneRates {
  const stripLbPerAc = solved.strip[place]!;
  const broadcastLbPerAc = solved.broadcast[place]!;
  const over = SPLIT_NUTRIENTS.map((n): [string, number] => {
    const counts = zone.stripCounts?.[n] ?? 1;
    const all =
      counts * brought(input.products, stripLbPerAc, n) + brought(input.products, broadcastLbPerAc, n);
    return [n, Math.max(0, all - (zone.needLbPerAc[n] ?? 0))];
  });
  const { id, fieldId, areaAc } = zone;
  return {
    id,
    fieldId,
    areaAc,
    stripLbPerAc,
    broadcastLbPerAc,
    shortLbPerAc: solved.short[place]!,
    overLbPerAc: Object.fromEntries(over),
    floorShortLbPerAc: solved.floorShort[place]!,
  };
}

function fieldSummary(
  input: OptimumInput,
  field: FieldZones,
  f: number,
  choice: PassChoice,
  zones: readonly OptimumZoneRates[],
): OptimumField {
  const own = zones.filter((zone) => zone.fieldId === field.id);
  const mean = (rates: (zone: OptimumZoneRates) => readonly number[]): number =>
    sum(own.map((zone) => sum(rates(zone)) * zone.areaAc)) / field.areaAc;
  const meanStripLbPerAc = mean((zone) => zone.stripLbPerAc);
  const time = input.lines === undefined ? null : hoursAtRate(input.lines, meanStripLbPerAc);
  const extra = choice.solved.targetPrice;
  const perHour = (input.hourValue ?? 0) + (input.hoursMost === undefined ? 0 : extra);
  const perLb = input.hoursMost === undefined ? extra : 0;
  return {
    id: field.id,
    areaAc: field.areaAc,
    pass: choice.pass[f]!,
    hours: time === null ? null : time.hoursPerAc * field.areaAc,
    meanStripLbPerAc,
    meanBroadcastLbPerAc: mean((zone) => zone.broadcastLbPerAc),
    costWithoutPass: choice.without[f]!,
    costWithPass: choice.with[f]!,
    dollarsPerStripLb: perLb + perHour * (time?.hoursPerLb ?? 0),
    bound: time?.bound ?? null,
  };
}

/** A pound of nutrient short costs 100 times the dearest way to bring one. */
function shortagePrice({ products, lines, hourValue = 0, passFeePerAc = 0 }: OptimumInput): number {
  const hour = hourValue * Math.max(lines?.rig.hoursPerLb ?? 0, lines?.tender?.hoursPerLb ?? 0);
  const dearest = products.flatMap(({ grade, pricePerLb }) =>
    SPLIT_NUTRIENTS.map((n) => ((grade[n] ?? 0) > 0 ? (pricePerLb + hour) / (grade[n]! / 100) : 0)),
  );
  return 100 * Math.max(1, passFeePerAc, ...dearest);
}

function noticesOf(zones: readonly OptimumZoneRates[], choice: PassChoice): Notice[] {
  const notices: Notice[] = [];
  for (const n of SPLIT_NUTRIENTS) {
    for (const [key, code, what] of [
      ["shortLbPerAc", "need-short", "short of the need"],
      ["floorShortLbPerAc", "floor-short", "of the strip's floor without a place under the caps"],
    ] as const) {
      const hit = zones.filter((zone) => (zone[key][n] ?? 0) > 1e-6);
      if (hit.length === 0) continue;
      const lb = sum(hit.map((zone) => zone[key][n]! * zone.areaAc));
      const ac = sum(hit.map((zone) => zone.areaAc));
      const message = `${lb.toFixed(0)} lb ${n} ${what} on ${ac.toFixed(1)} ac; allow a broadcast pass or raise the cap`;
      notices.push({ code, message, where: hit[0]!.fieldId });
    }
  }
  if (choice.gapDollars > 1) {
    const message = `another choice of broadcast passes could be up to $${choice.gapDollars.toFixed(0)} cheaper`;
    notices.push({ code: "passes-not-proven", message, where: "" });
  }
  return notices;
}

function checkInput(input: OptimumInput): void {
  const { products, zones, lines, hoursMost, meanStripLbPerAcMost, hourValue } = input;
  for (const { id, pricePerLb } of products) requireNumber(`pricePerLb of ${id}`, pricePerLb);
  for (const zone of zones) {
    requireNumber(`areaAc of zone ${zone.id}`, zone.areaAc, { above: 0 });
    for (const n of SPLIT_NUTRIENTS) {
      const need = requireNumber(`need ${n} of zone ${zone.id}`, zone.needLbPerAc[n] ?? 0);
      const floor = requireNumber(`floor ${n} of zone ${zone.id}`, zone.floorLbPerAc?.[n] ?? 0);
      if ((need > 0 || floor > 0) && !products.some((product) => (product.grade[n] ?? 0) > 0)) {
        const remedy = `Add a product that brings ${n}, or set its need to 0.`;
        throw new InputError(
          "no-product-for-need",
          `zone ${zone.id} needs ${n} and no product brings it`,
          remedy,
        );
      }
    }
  }
  requireNumber("the number of zones", zones.length, { atLeast: 1 });
  if (hoursMost !== undefined && meanStripLbPerAcMost !== undefined) {
    throw new InputError(
      "two-targets",
      `both ${hoursMost} hours and a mean of ${meanStripLbPerAcMost} lb/ac are targets`,
      "Give one of hoursMost and meanStripLbPerAcMost.",
    );
  }
  if (lines === undefined && (hoursMost !== undefined || (hourValue ?? 0) > 0)) {
    throw new InputError(
      "no-time-lines",
      "hours count and there are no time lines",
      "Give lines, from timeLines.",
    );
  }
  if (hoursMost === undefined) return;
  const bare = sum(zones.map((zone) => zone.areaAc)) * hoursAtRate(lines!, 0).hoursPerAc;
  if (bare > hoursMost) {
    throw new InputError(
      "hours-below-bare-work",
      `the rig needs ${bare.toFixed(1)} h with an empty bin and ${hoursMost} h are given`,
      "Give more hours, a wider or faster rig, or fewer acres.",
    );
  }
}
