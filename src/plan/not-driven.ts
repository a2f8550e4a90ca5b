import { sum } from "../numeric/index.ts";
import type { FieldResult } from "./result-types.ts";

/** A stretch of a pass with less of it covered was not driven; acres at either end of the work, or in all, that are no skip (our limits). */
const DRIVEN_SHARE = 0.1;
const LEFT_AT_AN_END = 0.05;
const LEFT_IN_ALL = 0.25;

/**
 * Acres of whole stretches that no log covers where the pass looks unfinished: what lies first or last in working order is
 * over 5 % of the field, or all of it a quarter. 0 where it is finished, or nothing was driven. `skipped`: a list a logged
 * product, by the pieces.
 */
export function notDrivenAc(passes: FieldResult["passes"], skipped: readonly Float64Array[]): number {
  const areaAc = passes.runs.map(() => 0);
  const coveredAc = passes.runs.map(() => 0);
  passes.pieces.forEach(({ run, keptOff }, k) => {
    if (keptOff === true) return;
    const area = passes.areaAc[k]!;
    areaAc[run]! += area;
    coveredAc[run]! += area * Math.max(0, ...skipped.map((share) => 1 - share[k]!));
  });
  const isLeft = areaAc.map((area, r) => coveredAc[r]! < DRIVEN_SHARE * area || area === 0);
  const leftAc = areaAc.map((area, r) => (isLeft[r] ? area : 0));
  const [all, left] = [sum(areaAc), sum(leftAc)];
  const firstDriven = isLeft.indexOf(false);
  if (firstDriven < 0) return 0;
  const atAnEnd = Math.max(
    sum(leftAc.slice(0, firstDriven)),
    sum(leftAc.slice(isLeft.lastIndexOf(false) + 1)),
  );
  return atAnEnd >= LEFT_AT_AN_END * all || left >= LEFT_IN_ALL * all ? left : 0;
}
