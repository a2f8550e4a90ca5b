import type { Point } from "../geo/index.ts";
import type { PassLine } from "./pass-lines.ts";

/** A place where a pass bends more sharply than the rig can follow. */
interface TightBend {
  readonly pass: number;
  readonly place: Point;
  /** Radius of the bend there, m; 0 at a corner. */
  readonly radiusM: number;
}

/** Half the stretch of line a bend is measured over, as a share of the smallest radius. */
const REACH = 0.5;

/**
 * The sharpest place of each stretch of a pass that bends by a smaller radius than the rig can: what cannot be driven as
 * laid. Measured by the circle through places half a radius apart along the line, so that a kink of a digitised line in a
 * wide bend does not count, and a corner does.
 */
export const tightBends = (lines: readonly PassLine[], radiusM: number): TightBend[] =>
  lines.flatMap(({ pass, lines: stretches }) =>
    stretches.flatMap((line) => {
      const bend = sharpest(line, REACH * radiusM);
      return bend !== undefined && bend.radiusM < radiusM ? [{ pass, ...bend }] : [];
    }),
  );

const sharpest = (line: readonly Point[], reachM: number): { place: Point; radiusM: number } | undefined => {
  const at: number[] = [];
  line.forEach(([x, y], i) => {
    const [px, py] = line[i - 1] ?? [x, y];
    at.push((at[i - 1] ?? 0) + Math.sqrt((x - px) ** 2 + (y - py) ** 2));
  });
  const lengthM = at[at.length - 1] ?? 0;
  let best: { place: Point; radiusM: number } | undefined;
  let from = 0;
  const placeAt = (metres: number): Point => {
    while (from > 0 && at[from]! > metres) from--;
    while (from + 2 < at.length && at[from + 1]! < metres) from++;
    const share = (metres - at[from]!) / (at[from + 1]! - at[from]!);
    const [ax, ay] = line[from]!;
    const [bx, by] = line[from + 1]!;
    return [ax + share * (bx - ax), ay + share * (by - ay)];
  };
  for (let i = 0; i < line.length; i++) {
    const middle = at[i]!;
    if (middle < reachM || middle > lengthM - reachM) continue;
    const place = line[i]!;
    const radiusM = circleThrough(placeAt(middle - reachM), place, placeAt(middle + reachM));
    if (best === undefined || radiusM < best.radiusM) best = { place, radiusM };
  }
  return best;
};

/** Radius of the circle through three points; infinite when they lie on a line. */
const circleThrough = ([ax, ay]: Point, [bx, by]: Point, [cx, cy]: Point): number => {
  const side = (x1: number, y1: number, x2: number, y2: number): number =>
    Math.sqrt((x2 - x1) ** 2 + (y2 - y1) ** 2);
  const twiceArea = Math.abs((bx - ax) * (cy - ay) - (cx - ax) * (by - ay));
  return (side(ax, ay, bx, by) * side(bx, by, cx, cy) * side(cx, cy, ax, ay)) / (2 * twiceArea);
};
