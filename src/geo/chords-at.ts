import { orient } from "./orient.ts";
import type { MultiPolygon } from "./types.ts";

/** Stretches of a straight line that lie on land. */
interface Chord {
  readonly fromY: number;
  readonly toY: number;
}

/**
 * For each x of a rising list, the stretches of the line of that x that lie on land, southmost first.
 * A line along an edge counts the land to its east. Rings must not cross.
 */
export const chordsAt = (land: MultiPolygon, xs: readonly number[]): Chord[][] => {
  const crossings: number[][] = xs.map(() => []);
  for (const ring of orient(land).flat()) {
    ring.forEach(([ax, ay], i) => {
      const [bx, by] = ring[(i + 1) % ring.length]!;
      const [westX, westY, eastX, eastY] = ax < bx ? [ax, ay, bx, by] : [bx, by, ax, ay];
      for (let line = firstFrom(xs, westX); line < xs.length && xs[line]! < eastX; line++) {
        crossings[line]!.push(westY + ((eastY - westY) * (xs[line]! - westX)) / (eastX - westX));
      }
    });
  }
  return crossings.map((ys) => {
    ys.sort((a, b) => a - b);
    return Array.from({ length: ys.length / 2 }, (_, i) => ({ fromY: ys[2 * i]!, toY: ys[2 * i + 1]! }));
  });
};

/** The place of the first value at or above a limit in a rising list. */
const firstFrom = (values: readonly number[], limit: number): number => {
  let low = 0;
  let high = values.length;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (values[middle]! < limit) low = middle + 1;
    else high = middle;
  }
  return low;
};
