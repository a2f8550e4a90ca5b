/// <reference path="./geojson-validation.d.ts" />
import { InputError } from "../errors/index.ts";
import { type Ring, ringArea } from "../geo/index.ts";
import type { Feature, Properties } from "./feature.ts";
import { polygonGeometry, type RereadGeometry } from "./reread-geometry.ts";

interface RereadFeature {
  readonly properties: Properties | null;
  readonly geometry: RereadGeometry | null;
}

/**
 * Reads a written GeoJSON file of polygons with the platform's JSON parser and has a library check its
 * structure; that library looks at structure only, so finite numbers, the range of degrees, closed rings and the
 * right-hand rule (RFC 7946, 3.1.6) are checked here. Returns polygons in the engine's convention.
 * `name` is the file's name. Throws `read-back` naming the file and the feature.
 */
export async function rereadGeoJson(bytes: Uint8Array, name: string): Promise<Feature[]> {
  const { default: validation } = await import("geojson-validation");
  const root = parse(bytes, name);
  const faults = validation.valid(root, true);
  if (faults.length > 0) throw fault(name, faults.slice(0, 3).join("; "));
  const { type, features } = root as { type: string; features: readonly RereadFeature[] };
  if (type !== "FeatureCollection" || features.length === 0) throw fault(name, "no features");
  return features.map((feature, index) => {
    const where = `${name}, feature ${index + 1}`;
    if (feature.geometry === null) throw fault(where, "no shape");
    checkDirections(feature.geometry, where);
    const geometry = polygonGeometry(feature.geometry, (what) => fault(where, what));
    return { record: index + 1, geometry, properties: feature.properties ?? {} };
  });
}

function parse(bytes: Uint8Array, name: string): unknown {
  try {
    return JSON.parse(new TextDecoder("utf-8", { fatal: true, ignoreBOM: true }).decode(bytes));
  } catch (error) {
    throw fault(name, error instanceof Error ? error.message : String(error));
  }
}

function checkDirections({ type, coordinates }: RereadGeometry, where: string): void {
  if (type !== "Polygon" && type !== "MultiPolygon") throw fault(where, `a ${type}, not a polygon`);
  for (const polygon of (type === "Polygon" ? [coordinates] : coordinates) as Ring[][]) {
    polygon.forEach((ring, index) => {
      const area = ringArea(ring);
      if (index === 0 ? !(area > 0) : !(area < 0)) throw fault(where, `ring ${index + 1} runs the wrong way`);
    });
  }
}

function fault(where: string, what: string): InputError {
  return new InputError("read-back", `${where}: ${what}`, "Do not use the file; write it again.");
}
