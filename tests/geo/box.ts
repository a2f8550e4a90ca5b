import type { Ring } from "../../src/geo/index.ts";

/** A rectangle as a ring, counter-clockwise from its lower left corner. */
export const box = (minX: number, minY: number, maxX: number, maxY: number): Ring => [
  [minX, minY],
  [maxX, minY],
  [maxX, maxY],
  [minX, maxY],
];
