import { boundsOf } from "./bounds.ts";
import { edgeFaults } from "./edge-faults.ts";
import { boxHolds, liesInside } from "./lies-inside.ts";
import { ringArea } from "./plane-area.ts";
import type { CleanRing, RingFault } from "./ring-fault.ts";
import type { MultiPolygon, Point, Ring } from "./types.ts";

const closeTo = ([ax, ay]: Point, [bx, by]: Point, tolerance: number): boolean =>
  Math.abs(ax - bx) <= tolerance && Math.abs(ay - by) <= tolerance;

/** Drops vertices that repeat the one before, noting each. */
const cleaned = (
  ring: Ring,
  part: number,
  index: number,
  tolerance: number,
  faults: RingFault[],
): CleanRing => {
  const points: Point[] = [];
  const numbers: number[] = [];
  ring.forEach((point, vertex) => {
    const before = vertex > 0 ? ring[vertex - 1]! : ring[ring.length - 1]!;
    if (ring.length > 1 && closeTo(point, before, tolerance)) {
      faults.push({ kind: "repeated", place: point, part, ring: index, vertex });
    } else {
      points.push(point);
      numbers.push(vertex);
    }
  });
  return { part, ring: index, points, numbers };
};

/** Rings that do not cross but stand in one another where they should not. */
const nestingFaults = (area: MultiPolygon): RingFault[] => {
  const faults: RingFault[] = [];
  const boxes = area.map((polygon) => polygon.map((ring) => boundsOf([[ring]])));
  const inside = (part: number, ring: number, otherPart: number, otherRing: number): boolean =>
    boxHolds(boxes[otherPart]![otherRing]!, boxes[part]![ring]!) &&
    liesInside(area[part]![ring]!, area[otherPart]![otherRing]!);
  area.forEach((polygon, part) => {
    polygon.forEach((points, ring) => {
      const at = { place: points[0]!, part, ring, vertex: 0 };
      if (ring > 0) {
        if (!inside(part, ring, part, 0)) faults.push({ kind: "hole-outside", ...at });
        const home = polygon.findIndex(
          (_, other) => other > 0 && other !== ring && inside(part, ring, part, other),
        );
        if (home > 0) faults.push({ kind: "overlap", ...at, other: { part, ring: home, vertex: 0 } });
        return;
      }
      area.forEach((host, other) => {
        if (other === part || !inside(part, 0, other, 0)) return;
        if (host.some((_, hole) => hole > 0 && inside(part, 0, other, hole))) return;
        faults.push({ kind: "overlap", ...at, other: { part: other, ring: 0, vertex: 0 } });
      });
    });
  });
  return faults;
};

/**
 * What keeps rings from bounding land: edges that cross or lie on one another, spikes, repeated vertices, rings of fewer
 * than three vertices or no area, holes outside their part, parts in one another's land. Empty for sound rings.
 * Rings may touch at a vertex, also at a vertex on another's edge. Which way they run does not matter.
 * Distances up to 1e-12 of the largest coordinate count as none. In plane metres that is about a nanometre.
 */
export const ringFaults = (area: MultiPolygon): RingFault[] => {
  const faults: RingFault[] = [];
  const { minX, minY, maxX, maxY } = boundsOf(area);
  const tolerance = 1e-12 * Math.max(Math.abs(minX), Math.abs(minY), Math.abs(maxX), Math.abs(maxY));
  const rings: CleanRing[] = [];
  let bounding = true;
  area.forEach((polygon, part) => {
    polygon.forEach((ring, index) => {
      const clean = cleaned(ring, part, index, tolerance, faults);
      const { points } = clean;
      const at = { place: ring[0] ?? ([Number.NaN, Number.NaN] as Point), part, ring: index, vertex: 0 };
      if (points.length < 3) {
        bounding = false;
        faults.push({ kind: "too-few", ...at });
        return;
      }
      rings.push(clean);
      if (Math.abs(ringArea(points)) <= tolerance * Math.max(maxX - minX, maxY - minY)) {
        bounding = false;
        faults.push({ kind: "zero-area", ...at });
      }
    });
  });
  const meeting = edgeFaults(rings, tolerance);
  faults.push(...meeting);
  // Where edges cross, inside and outside mean nothing.
  if (bounding && meeting.every(({ kind }) => kind === "spike")) faults.push(...nestingFaults(area));
  return faults;
};
