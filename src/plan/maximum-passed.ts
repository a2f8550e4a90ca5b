import type { Notice } from "../errors/index.ts";
import { sum } from "../numeric/index.ts";
import { meanOver, type Prescription } from "../prescription/index.ts";
import { acres, numberText } from "../units/index.ts";
import type { Oxide } from "./document-need-types.ts";
import type { PlanField } from "./document-types.ts";
import { oxideIn } from "./field-products.ts";
import { poundsOnCells } from "./field-sums.ts";
import { addTimes, perAcre } from "./rate-loops.ts";
import type { FieldGrid, Pieces } from "./result-types.ts";

/** Share of a maximum rate that rounding may go beyond, and acres, before it is said. */
const OVER_SHARE = 0.001;
const OVER_AC = 0.05;

/**
 * Ground on which strip and broadcast together bring more of an oxide than the field's maximum: the spreader goes by steps
 * and by its own width, flat rates as typed. Told with its acres and the most that lies there.
 */
export function maximumPassed(
  field: PlanField,
  cells: FieldGrid,
  passes: Pieces,
  swaths: Pieces,
  maps: readonly Prescription[],
): Notice[] {
  return (["P2O5", "K2O"] as const).flatMap((oxide): Notice[] => {
    const maximum = field.nutrients?.[oxide]?.maxLbPerAc;
    if (maximum === undefined) return [];
    const bring = maps.filter((map) => oxideIn(map.analysis, oxide) > 0);
    // Read on the pieces of the pass that brings most of it; the other's lie across them and count by their mean.
    const byStrip = sum(bring.map((map) => (map.pass === "strip" ? 1 : -1) * poundsOf(map, oxide))) >= 0;
    const ground = byStrip ? passes : swaths;
    const brought = new Float64Array(ground.areaAc.length);
    for (const map of bring) {
      const own = map.pass === "strip" ? passes : swaths;
      const rates = own === ground ? map.rateLbPerAc : laidOn(ground, map, own, cells);
      addTimes(brought, rates, oxideIn(map.analysis, oxide));
    }
    const { areaAc, most } = above(brought, ground, (1 + OVER_SHARE) * maximum);
    if (areaAc < OVER_AC) return [];
    const message = `${field.name}: rates in steps, and the spreader's over its whole width, bring more than the maximum of ${maximum} lb ${oxide}/ac on ${numberText(areaAc, 1)} ac, up to ${numberText(most, 1)} lb/ac: lower the maximum by as much, or make the steps finer`;
    return [{ code: "maximum-passed", message, where: field.id }];
  });
}

const poundsOf = (map: Prescription, oxide: Oxide): number => map.totalLb * oxideIn(map.analysis, oxide);

/** Acres that get more than a rate, and the most of it. */
function above(lbPerAc: Float64Array, ground: Pieces, maximum: number): { areaAc: number; most: number } {
  let [areaAc, most] = [0, 0];
  lbPerAc.forEach((rate, k) => {
    if (rate <= maximum) return;
    areaAc += ground.areaAc[k]!;
    most = Math.max(most, rate);
  });
  return { areaAc, most };
}

/** lb product/ac that a map of other pieces brings to each piece of a ground in the mean. */
function laidOn(ground: Pieces, map: Prescription, own: Pieces, cells: FieldGrid): Float64Array {
  const onCells = perAcre(
    poundsOnCells(map, own, cells),
    cells.areaM2.map((areaM2) => acres(areaM2)),
  );
  return meanOver(ground.overlaps, onCells);
}
