import {
  broadcastDots,
  contour,
  type FieldResult,
  type Layer,
  nestRings,
  type Plan,
  type Ring,
  regionsAbove,
  surfaceOf,
} from "#core";
import { rounded } from "./lon-lat.ts";
import type { DrawnLayer } from "./protocol.ts";
import { ShapeStack } from "./shape-stack.ts";

/** Dots of a broadcast layer from one end of the field to the other. */
const DOTS_ACROSS = 26;

/** What the map draws of a layer, in degrees; the layer's arrays are copied. */
export function drawLayer(plan: Plan, field: FieldResult, layer: Layer): DrawnLayer {
  const { toLonLat } = field.checked.frame;
  const copy: Layer = { ...layer, values: layer.values.slice(), areaAc: layer.areaAc.slice() };
  if (layer.draws === "dots") {
    const dots = broadcastDots(plan, field, layer, extentM(field) / DOTS_ACROSS);
    const flat = new Float64Array(dots.length * 4);
    for (const [i, { at, radiusM, step }] of dots.entries())
      flat.set([...rounded(toLonLat(at)), radiusM, step], 4 * i);
    return { layer: copy, shapes: null, dots: flat };
  }
  if (layer.draws === "passes") return { layer: copy, shapes: null, dots: null };
  const stack = new ShapeStack();
  const regions = regionsAbove(surfaceOf(field.cells.grid, layer.values), layer.classes.limits);
  for (const [limit, rings] of regions.entries()) {
    const closed = rings.filter((ring) => ring.length > 2);
    for (const polygon of nestRings(closed)) stack.fill(polygon, limit);
  }
  for (const ring of criticalLine(field, layer)) stack.line(ring);
  return { layer: copy, shapes: stack.shapes(toLonLat), dots: null };
}

/** The longer side of the field's box, metres. */
function extentM({ checked }: FieldResult): number {
  let [west, south, east, north] = [0, 0, 0, 0];
  for (const [x, y] of checked.boundary.flat(2)) {
    [west, south] = [Math.min(west, x), Math.min(south, y)];
    [east, north] = [Math.max(east, x), Math.max(north, y)];
  }
  return Math.max(east - west, north - south);
}

/** Rings along which the test equals its critical level. */
function criticalLine(field: FieldResult, layer: Layer): Ring[] {
  if (!layer.critical) return [];
  const { ppm } = layer.critical;
  const gap = layer.values.map((value, i) => value - ppm[i]!);
  return contour(surfaceOf(field.cells.grid, gap), 0);
}
