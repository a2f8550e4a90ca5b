import type { Point } from "./types.ts";

/** Coordinates x, y, x, y ... of one ring, the first vertex not repeated. */
export type FlatRing = readonly number[];

/** The vertices of a flat ring. */
export const pointsOf = (flat: FlatRing): Point[] =>
  Array.from({ length: flat.length / 2 }, (_, i): Point => [flat[2 * i]!, flat[2 * i + 1]!]);
