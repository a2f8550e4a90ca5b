import type { FieldResult } from "#core";
import { polygonsInDegrees, rounded } from "./lon-lat.ts";
import type { LonLat, LonLatRings, Outline } from "./protocol.ts";

/** A field on the farm's plat, its label where the field is widest. */
export function outlineOf(id: string, checked: FieldResult["checked"]): Outline {
  const boundary = polygonsInDegrees(checked.boundaryLonLat, ([lon, lat]) => [lon, lat]);
  const [a, b] = [checked.line[0], checked.line.at(-1)!];
  return {
    id,
    boundary,
    label: labelPlace(boundary),
    line: [rounded(checked.frame.toLonLat(a)), rounded(checked.frame.toLonLat(b))],
  };
}

/** Heights at which a place for the label is looked for. */
const LEVELS = 15;

/** The middle of the widest stretch, east to west, that lies in the field and clear of its holes. */
function labelPlace(boundary: readonly LonLatRings[]): LonLat {
  const lats = boundary.flat(2).map(([, lat]) => lat);
  const [south, north] = [Math.min(...lats), Math.max(...lats)];
  let best = { score: -1, at: [0, 0] as LonLat };
  for (let level = 1; level < LEVELS; level++) {
    const lat = south + ((north - south) * level) / LEVELS;
    const cuts = boundary.flat().flatMap((ring) => crossings(ring, lat));
    cuts.sort((p, q) => p - q);
    for (let k = 0; k + 1 < cuts.length; k += 2) {
      const [west, east] = [cuts[k]!, cuts[k + 1]!];
      const middling = 1 - Math.abs(level / LEVELS - 0.5);
      const score = (east - west) * middling;
      if (score > best.score) best = { score, at: [(west + east) / 2, lat] };
    }
  }
  return best.at;
}

function crossings(ring: readonly LonLat[], lat: number): number[] {
  const found: number[] = [];
  for (let k = 0; k + 1 < ring.length; k++) {
    const [[x0, y0], [x1, y1]] = [ring[k]!, ring[k + 1]!];
    if (y0 < lat !== y1 < lat) found.push(x0 + ((lat - y0) / (y1 - y0)) * (x1 - x0));
  }
  return found;
}
