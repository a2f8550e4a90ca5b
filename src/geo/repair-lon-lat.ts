import { CLIP_STEPS_PER_METRE } from "./clipper-paths.ts";
import { fieldFrame, frameCentre } from "./frame.ts";
import { type Repair, repairBoundary } from "./repair-boundary.ts";
import type { MultiPolygon, Point } from "./types.ts";

/**
 * `repairBoundary` for a boundary in longitude and latitude, degrees, through its own plane. Vertices that stay keep their
 * degrees to the last bit; only places where edges cross are new. Places of faults and crumbs are degrees too.
 */
export const repairLonLat = (lonLat: MultiPolygon): Repair => {
  const frame = fieldFrame(...frameCentre(lonLat));
  const known = new Map<string, Point>();
  const keyOf = ([x, y]: Point): string =>
    `${Math.round(x * CLIP_STEPS_PER_METRE)},${Math.round(y * CLIP_STEPS_PER_METRE)}`;
  const plane = lonLat.map((polygon) =>
    polygon.map((ring) =>
      ring.map((point) => {
        const moved = frame.toPlane(point);
        known.set(keyOf(moved), point);
        return moved;
      }),
    ),
  );
  const back = (point: Point): Point => known.get(keyOf(point)) ?? frame.toLonLat(point);
  const { repaired, crumbs, places } = repairBoundary(plane);
  return {
    repaired: repaired.map((polygon) => polygon.map((ring) => ring.map(back))),
    crumbs: crumbs.map((crumb) => ({ ...crumb, place: back(crumb.place) })),
    places: places.map((fault) => ({ ...fault, place: back(fault.place) })),
  };
};
