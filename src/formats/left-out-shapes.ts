import type { Notice } from "../errors/index.ts";
import type { GeoJsonShapes } from "./geojson-geometry.ts";

/** A notice for what a feature of several kinds of shape loses: its polygons are read, or else its lines. */
export function leftOutShapes(shapes: GeoJsonShapes, where: string): Notice[] {
  const counts: [number, string][] = [];
  if (shapes.polygons.length > 0) counts.push([shapes.lines.length, "line"]);
  if (shapes.polygons.length + shapes.lines.length > 0) counts.push([shapes.points.length, "point"]);
  const words = counts.filter(([n]) => n > 0).map(([n, kind]) => (n === 1 ? `a ${kind}` : `${n} ${kind}s`));
  if (words.length === 0) return [];
  const kept = shapes.polygons.length > 0 ? "polygons" : "lines";
  const was = words.length > 1 || !words[0]?.startsWith("a ") ? "were" : "was";
  const message = `${words.join(" and ")} ${was} ignored; the ${kept} of this feature are read`;
  return [{ code: "shape-ignored", message, where }];
}
