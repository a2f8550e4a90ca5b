import { ellipsoidArea } from "./ellipsoid-area.ts";
import { fillRings } from "./fill-rings.ts";
import { orient } from "./orient.ts";
import { repairLonLat } from "./repair-lon-lat.ts";
import type { RingFault } from "./ring-fault.ts";
import { ringFaults } from "./ring-faults.ts";
import type { MultiPolygon } from "./types.ts";

/** Three ways to read the land inside rings that may cross; all three agree on sound rings. */
export interface BoundaryReadings {
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

/** Reads a boundary in longitude and latitude three ways. Outer rings come first in each polygon, in any direction. */
export const boundaryReadings = (lonLat: MultiPolygon): BoundaryReadings => {
  const area = orient(lonLat);
  const ringSumM2 = ellipsoidArea(area);
  const faults = ringFaults(area);
  if (faults.every(({ kind }) => kind === "repeated")) {
    const whole = { evenOdd: area, nonZero: area, evenOddM2: ringSumM2, nonZeroM2: ringSumM2 };
    return { faults, ...whole, ringSumM2, agree: true };
  }
  const evenOdd = fillRings(area, "even-odd");
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
