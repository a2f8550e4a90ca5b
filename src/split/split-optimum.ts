import type { Highs } from "highs";
import { hoursAtRate, requireNumber } from "../capacity/index.ts";
import { InputError, type Notice } from "../errors/index.ts";
import { sum } from "../numeric/index.ts";
import type { FieldClasses } from "./split-optimum-field.ts";
import { mergeEqualClasses, SPLIT_NUTRIENTS } from "./split-optimum-merge.ts";
import { choosePasses, LEAST_SHORT_LB, type PassChoice } from "./split-optimum-passes.ts";
import type {
  NutrientAmounts,
  OptimumClass,
  OptimumClassRates,
  OptimumField,
  OptimumInput,
  OptimumProduct,
  SplitNutrient,
  SplitOptimum,
} from "./split-optimum-types.ts";
import { stripWorth } from "./split-optimum-worth.ts";

/**
 * The cheapest split of every class's need between strip and broadcast under floors, salt caps, meter limits and one
 * target, field by field with or without a broadcast pass. What cannot be placed comes back as a shortage, never as a
 * crash. Classes with equal figures are solved as one; results are in the order of the classes given.
 * Throws `number-not-usable`, `no-product-for-need`, `no-time-lines`, `two-targets`, `hours-below-bare-work`.
 */
export function splitOptimum(highs: Highs, input: OptimumInput): SplitOptimum {
  checkInput(input);
  const merged = mergeEqualClasses(input.classes);
  const fields = fieldsOf(merged.classes);
  const ordered = fields.flatMap((field) => field.classes);
  const choice = choosePasses(highs, input, fields, input.shortagePricePerLb ?? shortagePrice(input));
  const placeOf = new Map(ordered.map((one, i) => [one, i]));
  const classes = input.classes.map((one, i) =>
    classRates(input, one, choice, placeOf.get(merged.classes[merged.placeOf[i]!]!)!),
  );
  const summaries = fields.map((field, f) => fieldSummary(input, field, f, choice, classes));
  const lb = (one: OptimumClassRates, p: number): number =>
    (one.stripLbPerAc[p]! + one.broadcastLbPerAc[p]!) * one.areaAc;
  const productCost = sum(
    classes.flatMap((one) => input.products.map(({ pricePerLb }, p) => pricePerLb * lb(one, p))),
  );
  const placedValue = sum(
    classes.flatMap((one, i) =>
      SPLIT_NUTRIENTS.map(
        (n) =>
          (input.classes[i]!.valuePerLb?.[n] ?? 0) *
          brought(input.products, one.stripLbPerAc, n) *
          one.areaAc,
      ),
    ),
  );
  const hours = input.lines === undefined ? null : sum(summaries.map((field) => field.hours!));
  const hourCost = (input.hourValue ?? 0) * (hours ?? 0);
  const passCost = sum(summaries.map((field) => (field.pass ? (input.passFeePerAc ?? 0) * field.areaAc : 0)));
  const areaAc = sum(classes.map((one) => one.areaAc));
  const hasOwnPrice = input.shortagePricePerLb === undefined && isShort(choice);
  return {
    objective: productCost - placedValue + hourCost + passCost,
    productCost,
    placedValue,
    hourCost,
    passCost,
    classes,
    fields: summaries,
    meanStripLbPerAc: sum(classes.map((one) => sum(one.stripLbPerAc) * one.areaAc)) / areaAc,
    hours,
    worth: stripWorth(input, summaries, choice.solved.targetPrice, hasOwnPrice ? mostPerLb(input) : null),
    gapDollars: choice.gapDollars,
    mergedClasses: merged.classes.length,
    solves: choice.solves,
    notices: noticesOf(classes, choice),
  };
}

const brought = (
  products: readonly OptimumProduct[],
  rates: readonly number[],
  n: keyof NutrientAmounts,
): number => sum(rates.map((rate, p) => (rate * (products[p]!.grade[n] ?? 0)) / 100));

function fieldsOf(classes: readonly OptimumClass[]): FieldClasses[] {
  return [...new Set(classes.map((one) => one.fieldId))].map((id) => {
    const own = classes.filter((one) => one.fieldId === id);
    return { id, classes: own, areaAc: sum(own.map((one) => one.areaAc)) };
  });
}

function classRates(
  input: OptimumInput,
  one: OptimumClass,
  { solved }: PassChoice,
  place: number,
): OptimumClassRates {
  const stripLbPerAc = solved.strip[place]!;
  const broadcastLbPerAc = solved.broadcast[place]!;
  const over = SPLIT_NUTRIENTS.map((n): [string, number] => {
    const counts = one.stripCounts?.[n] ?? 1;
    const all =
      counts * brought(input.products, stripLbPerAc, n) + brought(input.products, broadcastLbPerAc, n);
    return [n, Math.max(0, all - (one.needLbPerAc[n] ?? 0))];
  });
  const { id, fieldId, areaAc } = one;
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
  field: FieldClasses,
  f: number,
  choice: PassChoice,
  classes: readonly OptimumClassRates[],
): OptimumField {
  const own = classes.filter((one) => one.fieldId === field.id);
  const meanStripLbPerAc = sum(own.map((one) => sum(one.stripLbPerAc) * one.areaAc)) / field.areaAc;
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
    costWithoutPass: choice.without[f]!,
    costWithPass: choice.with[f]!,
    dollarsPerStripLb: perLb + perHour * (time?.hoursPerLb ?? 0),
    bound: time?.bound ?? null,
  };
}

/** A pound of nutrient short costs 100 times the dearest way to bring one. */
const shortagePrice = (input: OptimumInput): number => 100 * dearestLb(input);

/** $ of the dearest way to bring a pound of nutrient; no less than 1, or than the fee of a pass. */
function dearestLb({ products, lines, hourValue = 0, passFeePerAc = 0 }: OptimumInput): number {
  const hour = hourValue * Math.max(lines?.rig.hoursPerLb ?? 0, lines?.tender?.hoursPerLb ?? 0);
  const dearest = products.flatMap(({ grade, pricePerLb }) =>
    SPLIT_NUTRIENTS.map((n) => ((grade[n] ?? 0) > 0 ? (pricePerLb + hour) / (grade[n]! / 100) : 0)),
  );
  return Math.max(1, passFeePerAc, ...dearest);
}

/** The most that a pound in the strip can be worth by prices: the dearest pound it stands for, and its placement. */
function mostPerLb(input: OptimumInput): number {
  const most = (of: (one: OptimumClass, n: SplitNutrient) => number): number =>
    input.classes.reduce((high, one) => Math.max(high, ...SPLIT_NUTRIENTS.map((n) => of(one, n))), 0);
  const counts = most((one, n) => one.stripCounts?.[n] ?? 1);
  return counts * dearestLb(input) + most((one, n) => one.valuePerLb?.[n] ?? 0);
}

function isShort({ solved }: PassChoice): boolean {
  const all = [...solved.short, ...solved.floorShort].flatMap((short) => Object.values(short));
  return sum(all) > LEAST_SHORT_LB;
}

function noticesOf(classes: readonly OptimumClassRates[], choice: PassChoice): Notice[] {
  const notices: Notice[] = [];
  for (const n of SPLIT_NUTRIENTS) {
    for (const [key, code, what] of [
      ["shortLbPerAc", "need-short", "short of the need"],
      ["floorShortLbPerAc", "floor-short", "of the strip's floor without a place under the caps"],
    ] as const) {
      const hit = classes.filter((one) => (one[key][n] ?? 0) > 1e-6);
      if (hit.length === 0) continue;
      const lb = sum(hit.map((one) => one[key][n]! * one.areaAc));
      const ac = sum(hit.map((one) => one.areaAc));
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
  const { products, classes, lines, hoursMost, meanStripLbPerAcMost, hourValue } = input;
  for (const { id, pricePerLb } of products) requireNumber(`pricePerLb of ${id}`, pricePerLb);
  for (const one of classes) {
    requireNumber(`areaAc of class ${one.id}`, one.areaAc, { above: 0 });
    for (const n of SPLIT_NUTRIENTS) {
      const need = requireNumber(`need ${n} of class ${one.id}`, one.needLbPerAc[n] ?? 0);
      const floor = requireNumber(`floor ${n} of class ${one.id}`, one.floorLbPerAc?.[n] ?? 0);
      if ((need > 0 || floor > 0) && !products.some((product) => (product.grade[n] ?? 0) > 0)) {
        const remedy = `Add a product that brings ${n}, or set its need to 0.`;
        throw new InputError(
          "no-product-for-need",
          `class ${one.id} needs ${n} and no product brings it`,
          remedy,
        );
      }
    }
  }
  requireNumber("the number of classes", classes.length, { atLeast: 1 });
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
  const bare = sum(classes.map((one) => one.areaAc)) * hoursAtRate(lines!, 0).hoursPerAc;
  if (bare > hoursMost) {
    throw new InputError(
      "hours-below-bare-work",
      `the rig needs ${bare.toFixed(1)} h with an empty bin and ${hoursMost} h are given`,
      "Give more hours, a wider or faster rig, or fewer acres.",
    );
  }
}
