import type { Notice } from "../../errors/index.ts";
import { numberText } from "../../units/index.ts";
import type { Plan, PlanField } from "../document/document-types.ts";
import { type BinProduct, type FieldProducts, oxideIn } from "../document/field-products.ts";
import { type MeterLimits, meterLimits } from "../rig/strip-limits.ts";
import type { RatedPieces } from "./strip-rates.ts";

/**
 * Rates that the meters can lay and the field's maximum rates let them; one raised to its least that would break the cap
 * of every place is not laid at all.
 */
export function withinMeters(
  plan: Plan,
  field: PlanField,
  laid: FieldProducts,
  maps: readonly RatedPieces[],
  most: number,
): { readonly maps: readonly RatedPieces[]; readonly notices: readonly Notice[] } {
  const maximums = laid.bins.map((one) => maximumOf(field, one));
  const meters = laid.bins.map(({ bin }, b) => {
    const { leastLbPerAc, mostLbPerAc } = meterLimits(plan, bin);
    return { leastLbPerAc, mostLbPerAc: Math.min(mostLbPerAc, maximums[b]!) };
  });
  if (meters.every((one) => one.leastLbPerAc === 0 && one.mostLbPerAc === Number.POSITIVE_INFINITY)) {
    return { maps, notices: [] };
  }
  const step = plan.rig.rateStepLbPerAc;
  const laidRates = maps.map((map, b) => map.rateLbPerAc.map((rate) => withinMeter(rate, meters[b]!, step)));
  const kept = maps.map((map, b) => {
    const own = laidRates[b]!;
    // A stretch has one rate: where one of its pieces breaks the cap, none of it is laid.
    const broken = new Set<number>();
    own.forEach((rate, k) => {
      const all = laidRates.reduce((total, rates) => total + rates[k]!, 0);
      if (rate > map.rateLbPerAc[k]! && all > most + 1e-9) broken.add(map.stretchOf?.[k] ?? k);
    });
    return { ...map, rateLbPerAc: own.map((rate, k) => (broken.has(map.stretchOf?.[k] ?? k) ? 0 : rate)) };
  });
  const notices = maps.flatMap(({ rateLbPerAc }, b) => {
    const maximum = maximums[b]!;
    const isLowered = rateLbPerAc.some((rate) => rate > maximum + 1e-9);
    return isLowered ? [loweredTo(field, laid.bins[b]!, maximum, step)] : [];
  });
  return { maps: kept, notices };
}

/** lb product/ac at which the field's maximum of an oxide is reached; a flat rate is laid as typed. */
function maximumOf({ nutrients }: PlanField, { bin, product }: BinProduct): number {
  if (bin.flatLbPerAc !== undefined) return Number.POSITIVE_INFINITY;
  const byOxide = (["P2O5", "K2O"] as const).map((oxide) => {
    const share = oxideIn(product.grade, oxide);
    const maximum = nutrients?.[oxide]?.maxLbPerAc ?? Number.POSITIVE_INFINITY;
    return share > 0 ? maximum / share : Number.POSITIVE_INFINITY;
  });
  return Math.min(...byOxide);
}

function loweredTo({ id, name }: PlanField, { product }: BinProduct, maximum: number, step: number): Notice {
  const [most, highest] = [numberText(maximum, 1), numberText(stepsWithin(maximum, step), 0)];
  const message = `${name}: the field's maximum is ${most} lb ${product.id}/ac, so the strip's rates in steps of ${step} lb/ac end at ${highest}; the balance tells what that leaves short`;
  return { code: "maximum-below-step", message, where: id };
}

const stepsWithin = (most: number, step: number): number => Math.floor(most / step + 1e-9) * step;

/** The nearest step that the meter can lay, or nothing. */
function withinMeter(rate: number, { leastLbPerAc, mostLbPerAc }: MeterLimits, step: number): number {
  if (rate > mostLbPerAc) {
    const lowered = stepsWithin(mostLbPerAc, step);
    return lowered < leastLbPerAc ? 0 : lowered;
  }
  if (rate > 0 && rate < leastLbPerAc) {
    const raised = Math.ceil(leastLbPerAc / step - 1e-9) * step;
    return rate >= leastLbPerAc / 2 && raised <= mostLbPerAc + 1e-9 ? raised : 0;
  }
  return rate;
}
