import type { MultiPolygon, Point } from "../geo/index.ts";

/** A farm's ground in its plane, m: where its fields lie and where water runs. */
export interface Land {
  readonly fields: readonly LandField[];
  /** To the middle of the nearest creek or waterway, m; Infinity when there is none. */
  distanceToWater(x: number, y: number): number;
}

export interface LandField {
  readonly name: string;
  readonly polygons: MultiPolygon;
  /** A, then B. */
  readonly line: readonly [Point, Point];
  readonly crop: "corn" | "soybean";
  readonly yieldBuPerAc: number;
}
