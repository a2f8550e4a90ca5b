/// <reference path="./geojson-validation.d.ts" />
import { ringArea } from "../geo/index.ts";
import type { Feature, Properties } from "./feature.ts";
import { closedRings, polygonGeometry, type RereadGeometry, readBackFault } from "./reread-geometry.ts";

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
  if (faults.length > 0) throw readBackFault(name, faults.slice(0, 3).join("; "));
  const { type, features } = root as { type: string; features: readonly RereadFeature[] };
  if (type !== "FeatureCollection" || features.length === 0) throw readBackFault(name, "no features");
  return features.map((feature, index) => {
    const where = `${name}, feature ${index + 1}`;
    if (feature.geometry === null) throw readBackFault(where, "no shape");
    checkDirections(feature.geometry, where);
    const geometry = polygonGeometry(feature.geometry, where);
    return { record: index + 1, geometry, properties: feature.properties ?? {} };
  });
}

function parse(bytes: Uint8Array, name: string): unknown {
  try {
    return JSON.parse(new TextDecoder("utf-8", { fatal: true, ignoreBOM: true }).decode(bytes));
  } catch (error) {
    throw readBackFault(name, error instanceof Error ? error.message : String(error));
  }
}

function checkDirections(shape: RereadGeometry, where: string): void {
  for (const polygon of closedRings(shape, where)) {
    polygon.forEach((ring, index) => {
      const area = ringArea(ring);
      if (index === 0 ? !(area > 0) : !(area < 0)) {
        throw readBackFault(where, `ring ${index + 1} runs the wrong way`);
      }
    });
  }
}
