import type { MultiPolygon, Point } from "./types.ts";

/** A shape drawn on the land: a point, a line in one or several parts, or polygons. */
export type Ground =
  | { readonly kind: "point"; readonly at: Point }
  | { readonly kind: "line"; readonly parts: readonly (readonly Point[])[] }
  | { readonly kind: "polygon"; readonly polygons: MultiPolygon };
