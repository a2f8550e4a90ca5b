import type { FieldResult } from "#core";
import { polygonsInDegrees } from "./lon-lat.ts";
import type { LonLat, Outline } from "./protocol.ts";

/** A field on the farm's plat, its label in the middle of its largest part. */
export function outlineOf(id: string, checked: FieldResult["checked"]): Outline {
  const boundary = polygonsInDegrees(checked.boundaryLonLat, ([lon, lat]) => [lon, lat]);
  return { id, boundary, label: labelPlace(boundary.map((polygon) => polygon[0]!)) };
}

/** Centroid of the largest ring, or the middle of its box where the centroid lies outside a crooked field. */
function labelPlace(outers: readonly (readonly LonLat[])[]): LonLat {
  let best: { size: number; at: LonLat } = { size: -1, at: [0, 0] };
  for (const ring of outers) {
    let [area, x, y] = [0, 0, 0];
    const [x0, y0] = ring[0]!;
    for (let k = 0; k + 1 < ring.length; k++) {
      const [ax, ay] = [ring[k]![0] - x0, ring[k]![1] - y0];
      const [bx, by] = [ring[k + 1]![0] - x0, ring[k + 1]![1] - y0];
      const cross = ax * by - bx * ay;
      area += cross;
      x += (ax + bx) * cross;
      y += (ay + by) * cross;
    }
    if (Math.abs(area) > best.size)
      best = { size: Math.abs(area), at: [x0 + x / (3 * area), y0 + y / (3 * area)] };
  }
  return best.at;
}
