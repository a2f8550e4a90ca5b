import { ellipsoidArea } from "./ellipsoid-area.ts";
import { fillRings } from "./fill-rings.ts";
import { fieldFrame, frameCentre } from "./frame.ts";
import { orient } from "./orient.ts";
import { repairLonLat } from "./repair-lon-lat.ts";
import type { RingFault } from "./ring-fault.ts";
import { ringFaults } from "./ring-faults.ts";
import type { MultiPolygon, Point } from "./types.ts";

/** Three ways to read the land inside rings that may cross; all three agree on sound rings. */
interface BoundaryReadings {
  readonly faults: readonly RingFault[];
  readonly evenOdd: MultiPolygon;
  readonly nonZero: MultiPolygon;
  /** Square metres on the ellipsoid. */
  readonly evenOddM2: number;
  readonly nonZeroM2: number;
  /** The rings' own signed areas added up, outer rings less holes: what a table of areas would say. */
  readonly ringSumM2: number;
  /** Whether the three lie within 1 m2, or a millionth, of each other. */
  readonly agree: boolean;
}

/**
 * Filled by the even-odd rule in the boundary's own plane, as the repair is: where two long edges cross, edges straight
 * in degrees cross centimetres away from edges straight in the plane. Vertices that stay keep their degrees.
 */
const evenOddLonLat = (lonLat: MultiPolygon): MultiPolygon => {
  const frame = fieldFrame(...frameCentre(lonLat));
  const known = new Map<string, Point>();
  const plane = lonLat.map((polygon) =>
    polygon.map((ring) =>
      ring.map((point) => {
        const moved = frame.toPlane(point);
        known.set(moved.join(), point);
        return moved;
      }),
    ),
  );
  const back = (point: Point): Point => known.get(point.join()) ?? frame.toLonLat(point);
  return fillRings(plane, "even-odd").map((polygon) => polygon.map((ring) => ring.map(back)));
};

/** Reads a boundary in longitude and latitude three ways. Outer rings come first in each polygon, in any direction. */
export const boundaryReadings = (lonLat: MultiPolygon): BoundaryReadings => {
  const area = orient(lonLat);
  const ringSumM2 = ellipsoidArea(area);
  const faults = ringFaults(area);
  if (faults.every(({ kind }) => kind === "repeated")) {
    const whole = { evenOdd: area, nonZero: area, evenOddM2: ringSumM2, nonZeroM2: ringSumM2 };
    return { faults, ...whole, ringSumM2, agree: true };
  }
  const evenOdd = evenOddLonLat(area);
  // Not by the winding of all rings at once: two holes that lie over one another would make land of what they share.
  const nonZero = repairLonLat(area).repaired;
  const evenOddM2 = ellipsoidArea(evenOdd);
  const nonZeroM2 = ellipsoidArea(nonZero);
  const areas = [evenOddM2, nonZeroM2, ringSumM2];
  const apart = Math.max(...areas) - Math.min(...areas);
  return {
    faults,
    evenOdd,
    nonZero,
    evenOddM2,
    nonZeroM2,
    ringSumM2,
    agree: apart <= Math.max(1, 1e-6 * nonZeroM2),
  };
};
