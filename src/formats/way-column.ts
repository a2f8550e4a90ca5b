import type { Notice } from "../errors/index.ts";
import { distance, fieldFrame, type Point } from "../geo/index.ts";
import { M_PER_FT, numberText } from "../units/index.ts";
import type { LoggedPoint } from "./log-passes.ts";

/** Plain names of a column with the way driven since the reading before. */
export const WAY_NAMES: RegExp =
  /^(travel(l?ed)?|driven)?(distance|dist)(travel(l?ed)?|driven)?(ft|feet|m)?$/;

/** Ways that are together more than so many times those between the positions are no ways from reading to reading (ours). */
const TOLD_TIMES = 3;

/** A column whose unit is not in its name tells no ways. */
export const wayWithoutUnit = (column: string, where: string): Notice => ({
  code: "way-not-used",
  message: `the column ${column} does not say its unit: it is not used, the ways are measured between the positions`,
  where,
});

/** Notice that a column counts the way on from the start, so that it tells none from reading to reading; null where it tells them. */
export function wayThatCountsOn(
  points: readonly LoggedPoint[],
  column: string,
  where: string,
): Notice | null {
  const first = points[0];
  if (first === undefined) return null;
  const frame = fieldFrame(first.at[0], first.at[1]);
  const before = new Map<string, Point>();
  let [toldFt, apartFt] = [0, 0];
  for (const { at, distanceFt, product } of points) {
    const place = frame.toPlane(at);
    const last = before.get(product);
    before.set(product, place);
    if (last === undefined || Number.isNaN(distanceFt)) continue;
    toldFt += distanceFt;
    apartFt += distance(place, last) / M_PER_FT;
  }
  if (apartFt === 0 || toldFt <= TOLD_TIMES * apartFt) return null;
  const message = `the column ${column} counts on from reading to reading (${numberText(toldFt, 0)} ft together, where the positions are ${numberText(apartFt, 0)} ft apart): it is not used, the ways are measured between the positions`;
  return { code: "way-not-used", message, where };
}
