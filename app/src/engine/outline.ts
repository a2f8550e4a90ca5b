import type { FieldOutline } from "#core";
import { boxOf, polygonsInDegrees, rounded } from "./lon-lat.ts";
import type { LonLat, LonLatRings, Outline } from "./protocol.ts";
import { crossings } from "./ring-crossings.ts";

/** A field on the farm's plat, its label where the field is widest. */
export function outlineOf(id: string, { boundaryLonLat, lineLonLat: [a, b] }: FieldOutline): Outline {
  const boundary = polygonsInDegrees(boundaryLonLat, ([lon, lat]) => [lon, lat]);
  return { id, boundary, box: boxOf(boundary), label: labelPlace(boundary), line: [rounded(a), rounded(b)] };
}

/** Heights at which a place for the label is looked for. */
const LEVELS = 21;

/** The place with most room to its left and right, also a little above and below it, clear of holes. */
function labelPlace(boundary: readonly LonLatRings[]): LonLat {
  const lats = boundary.flat(2).map(([, lat]) => lat);
  const [south, north] = [Math.min(...lats), Math.max(...lats)];
  const latOf = (level: number) => south + ((north - south) * level) / LEVELS;
  const cuts = Array.from({ length: LEVELS + 1 }, (_, level) =>
    boundary.flat().flatMap((ring) => crossings(ring, 1, latOf(level))),
  );
  let best = { score: -1, at: [0, 0] as LonLat };
  for (let level = 1; level < LEVELS; level++) {
    const here = (cuts[level] ?? []).toSorted((p, q) => p - q);
    for (let k = 0; k + 1 < here.length; k += 2) {
      const middle = (here[k]! + here[k + 1]!) / 2;
      const near = [...here, ...(cuts[level - 1] ?? []), ...(cuts[level + 1] ?? [])];
      const room = near.reduce(
        (least, cut) => Math.min(least, Math.abs(cut - middle)),
        Number.POSITIVE_INFINITY,
      );
      const score = room * (1.2 - Math.abs(level / LEVELS - 0.5));
      if (score > best.score) best = { score, at: [middle, latOf(level)] };
    }
  }
  return best.at;
}
