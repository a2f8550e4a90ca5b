import type { MultiPolygon, Point } from "./types.ts";

/** A shape on the land: a point, a line in one or several parts, or polygons. In metres of a frame or in degrees. */
export type Geometry =
  | { readonly kind: "point"; readonly at: Point }
  | { readonly kind: "line"; readonly parts: readonly (readonly Point[])[] }
  | { readonly kind: "polygon"; readonly polygons: MultiPolygon };
