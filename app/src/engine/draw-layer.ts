import {
  broadcastDots,
  contour,
  type FieldResult,
  type Layer,
  nestRings,
  type Plan,
  type Point,
  type Ring,
  regionsAbove,
  surfaceOf,
} from "#core";
import { closedRing, rounded } from "./lon-lat.ts";
import type { Band, DrawnLayer, LonLat } from "./protocol.ts";

/** Dots of a broadcast layer from one end of the field to the other. */
const DOTS_ACROSS = 26;

/** What the map draws of a layer, in degrees; the layer's arrays are copied. */
export function drawLayer(plan: Plan, field: FieldResult, layer: Layer): DrawnLayer {
  const toLonLat = (place: Point) => rounded(field.checked.frame.toLonLat(place));
  const copy: Layer = { ...layer, values: layer.values.slice(), areaAc: layer.areaAc.slice() };
  if (layer.draws === "dots") {
    const dots = broadcastDots(plan, field, layer, extentM(field) / DOTS_ACROSS);
    const flat = new Float64Array(dots.length * 4);
    for (const [i, { at, radiusM, step }] of dots.entries())
      flat.set([...toLonLat(at), radiusM, step], 4 * i);
    return { layer: copy, bands: [], critical: [], dots: flat };
  }
  if (layer.draws === "passes") return { layer: copy, bands: [], critical: [], dots: null };
  return {
    layer: copy,
    bands: bandsOf(field, layer, toLonLat),
    critical: criticalLine(field, layer, toLonLat),
    dots: null,
  };
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

/** Regions above each limit, least class first; the ground under them is the least class. */
function bandsOf(field: FieldResult, layer: Layer, toLonLat: (place: Point) => LonLat): Band[] {
  const { limits, steps } = layer.classes;
  const surface = surfaceOf(field.cells.grid, layer.values);
  const inDegrees = (ring: Ring) => closedRing(ring, toLonLat);
  return regionsAbove(surface, limits).map((rings, k): Band => {
    const closed = rings.filter((ring) => ring.length > 2);
    return {
      step: steps[k + 1]!,
      polygons: nestRings(closed).map((polygon) => polygon.map(inDegrees)),
      edge: closed.map(inDegrees),
    };
  });
}

function criticalLine(field: FieldResult, layer: Layer, toLonLat: (place: Point) => LonLat): LonLat[][] {
  if (!layer.critical) return [];
  const { ppm } = layer.critical;
  const gap = layer.values.map((value, i) => value - ppm[i]!);
  return contour(surfaceOf(field.cells.grid, gap), 0).map((ring) => closedRing(ring, toLonLat));
}
