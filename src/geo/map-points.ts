import type { MultiPolygon, Point } from "./types.ts";

/** The same polygons with every vertex moved, such as from degrees into a field's plane. */
export const mapPoints = (area: MultiPolygon, to: (point: Point) => Point): MultiPolygon =>
  area.map((polygon) => polygon.map((ring) => ring.map((point) => to(point))));
