import type { Loop } from "./retrace.ts";

/** Twice the signed area, about the first vertex. */
export const doubleArea = (loop: Loop, xs: ArrayLike<number>, ys: ArrayLike<number>): number => {
  const x0 = xs[loop[0]!]!;
  const y0 = ys[loop[0]!]!;
  let area = 0;
  for (let i = 1; i + 1 < loop.length; i++) {
    const a = loop[i]!;
    const b = loop[i + 1]!;
    area += (xs[a]! - x0) * (ys[b]! - y0) - (xs[b]! - x0) * (ys[a]! - y0);
  }
  return area;
};

/** Whether the loop goes round a place that is on none of its edges. */
const goesRound = (
  loop: Loop,
  x: number,
  y: number,
  xs: ArrayLike<number>,
  ys: ArrayLike<number>,
): boolean => {
  let inside = false;
  let from = loop[loop.length - 1]!;
  for (const to of loop) {
    if (ys[from]! > y !== ys[to]! > y) {
      const [low, high] = ys[from]! < ys[to]! ? [from, to] : [to, from];
      const side = (xs[high]! - xs[low]!) * (y - ys[low]!) - (x - xs[low]!) * (ys[high]! - ys[low]!);
      if (side > 0) inside = !inside;
    }
    from = to;
  }
  return inside;
};

/** The loop begun at its south-west-most vertex, so that the same loop always comes out the same. */
const fromLeast = (loop: Loop, xs: ArrayLike<number>, ys: ArrayLike<number>): Loop => {
  let least = 0;
  for (let i = 1; i < loop.length; i++) {
    const a = loop[i]!;
    const b = loop[least]!;
    if (xs[a]! < xs[b]! || (xs[a]! === xs[b]! && ys[a]! < ys[b]!)) least = i;
  }
  return least === 0 ? loop : [...loop.slice(least), ...loop.slice(0, least)];
};

/**
 * Polygons out of simple loops that may touch at vertices but share no edge: each counter-clockwise loop is a shell, each
 * clockwise one a hole of the smallest shell round it. Shells by their first vertex, west to east, then south to north.
 * A hole without a shell is our own mistake and throws.
 */
export const nestLoops = (loops: readonly Loop[], xs: ArrayLike<number>, ys: ArrayLike<number>): Loop[][] => {
  const shells: { loop: Loop; area: number; holes: Loop[] }[] = [];
  const holes: Loop[] = [];
  for (const loop of loops) {
    const area = doubleArea(loop, xs, ys);
    const begun = fromLeast(loop, xs, ys);
    if (area > 0) shells.push({ loop: begun, area, holes: [] });
    else if (area < 0) holes.push(begun);
  }
  const byFirst = (a: Loop, b: Loop): number =>
    xs[a[0]!]! - xs[b[0]!]! || ys[a[0]!]! - ys[b[0]!]! || a.length - b.length;
  shells.sort((a, b) => byFirst(a.loop, b.loop));
  holes.sort(byFirst);
  for (const hole of holes) {
    // The middle of an edge: it may be shared with no shell, as a vertex may.
    const x = (xs[hole[0]!]! + xs[hole[1]!]!) / 2;
    const y = (ys[hole[0]!]! + ys[hole[1]!]!) / 2;
    let home: (typeof shells)[number] | undefined;
    for (const shell of shells) {
      if ((home === undefined || shell.area < home.area) && goesRound(shell.loop, x, y, xs, ys)) home = shell;
    }
    if (home === undefined) throw new Error("nestLoops: a hole lies in no shell");
    home.holes.push(hole);
  }
  return shells.map(({ loop, holes: own }) => [loop, ...own]);
};
