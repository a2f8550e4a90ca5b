import type { Notice } from "../../errors/index.ts";
import { sum } from "../../numeric/index.ts";
import { numberText } from "../../units/index.ts";
import type { Plan, PlanField } from "../document/document-types.ts";
import type { FieldProducts } from "../document/field-products.ts";
import type { LaidPasses } from "../results/drive-result-types.ts";
import { meterLimits } from "../rig/strip-limits.ts";
import type { RatedPieces } from "./strip-rates.ts";

/** Share of a map's pounds below which what a meter's least changes is not worth a line (ours). */
const LEAST_SHARE = 0.01;

/** lb/ac above the cap that rounding alone may bring (ours). */
const ROUNDING_LB_PER_AC = 0.5;

/**
 * What the least rate of each meter changes: lb of product raised to it and left out below it, in the order of the bins, and
 * where raised rates bring the strip's mean above its cap. `capLbPerAc`: of the field's mean; null where there is none.
 */
export function meterLeastNotices(
  plan: Plan,
  { id, name }: PlanField,
  laid: FieldProducts,
  { pieces, areaAc }: LaidPasses,
  meant: readonly RatedPieces[],
  metered: readonly RatedPieces[],
  capLbPerAc: number | null,
): Notice[] {
  const poundsBy = (rate: (piece: number) => number): number => sum(areaAc.map((ac, k) => ac * rate(k)));
  let raisedInAll = 0;
  const notices = laid.bins.flatMap(({ bin, product }, b): Notice[] => {
    const { leastLbPerAc } = meterLimits(plan, bin);
    const [before, after] = [meant[b]!.rateLbPerAc, metered[b]!.rateLbPerAc];
    const raisedLb = poundsBy((k) => Math.max(0, after[k]! - before[k]!));
    const leftOutLb = poundsBy((k) => (after[k] === 0 ? before[k]! : 0));
    raisedInAll += raisedLb;
    const worthLb = LEAST_SHARE * poundsBy((k) => before[k]!);
    if (leastLbPerAc === 0 || raisedLb + leftOutLb <= worthLb) return [];
    const parts = [
      ...(raisedLb > 0
        ? [`${pounds(raisedLb)} more than the split means, where rates are raised to it`]
        : []),
      ...(leftOutLb > 0
        ? [
            `${pounds(leftOutLb)} left out where rates are too far below it, for the spreader or short by the balance`,
          ]
        : []),
    ];
    const least = `${numberText(leastLbPerAc, 0)} lb/ac of ${product.id} at least at ${plan.rig.work!.mph} mph`;
    const message = `${name}: the meter of bin ${bin.id} lays ${least}: ${parts.join("; ")}`;
    return [{ code: "meter-least", message, where: id }];
  });
  if (capLbPerAc === null || raisedInAll === 0) return notices;
  const ground = sum(areaAc.filter((_, k) => !pieces[k]!.keptOff));
  const meanOf = (maps: readonly RatedPieces[]): number =>
    poundsBy((k) => sum(maps.map(({ rateLbPerAc }) => rateLbPerAc[k]!))) / ground;
  const mean = meanOf(metered);
  // Steps alone may pass a cap a little; that is no matter of the meters.
  if (mean <= Math.max(capLbPerAc, meanOf(meant)) + ROUNDING_LB_PER_AC) return notices;
  const message = `${name}: with rates raised to the least of the meters the strip has ${numberText(mean, 0)} lb/ac in the mean, above the cap of ${numberText(capLbPerAc, 0)}`;
  return [...notices, { code: "meter-passes-cap", message, where: id }];
}

const pounds = (lb: number): string => `${numberText(lb, 0)} lb`;
