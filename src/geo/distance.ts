import type { Point } from "./types.ts";

/** Metres between two places of a plane. */
export const distance = (a: Point, b: Point): number => Math.sqrt((a[0] - b[0]) ** 2 + (a[1] - b[1]) ** 2);
