import { ClipType, type Paths64 } from "clipper2-ts";
import { combinePaths, fromPaths, toPaths } from "./clipper-paths.ts";
import { orient } from "./orient.ts";
import { polygonArea, ringArea } from "./plane-area.ts";
import type { RingFault } from "./ring-fault.ts";
import { ringFaults } from "./ring-faults.ts";
import type { MultiPolygon, Point, Polygon } from "./types.ts";

/** Parts and holes smaller than this are left by digitising and are dropped. */
const CRUMB_M2 = 0.1;

/** A part or a hole under 0.1 m2 that a repair left and dropped. */
interface Crumb {
  readonly kind: "part" | "hole";
  readonly place: Point;
  readonly areaM2: number;
}

export interface Repair {
  /** Sound, oriented; the input itself when nothing was wrong with it. */
  readonly repaired: MultiPolygon;
  readonly crumbs: readonly Crumb[];
  /** What was wrong, and where. Empty: nothing was done. */
  readonly places: readonly RingFault[];
}

/**
 * A boundary with its digitising faults mended, in plane metres. A shell keeps what its ring winds round, either way
 * (non-zero rule); its own holes are united and taken away, and never add land; parts are mended one by one, then united.
 * Vertices move by under a micrometre. Sound rings come back as they were, turned land-left.
 * Whether to mend at all is for the caller to settle: rate layers never, boundaries when the readings of their rings agree.
 */
export const repairBoundary = (boundary: MultiPolygon): Repair => {
  const places = ringFaults(boundary);
  if (places.length === 0) return { repaired: orient(boundary), crumbs: [], places };
  const parts = boundary.flatMap((polygon) => mendedPart(polygon));
  const crumbs: Crumb[] = [];
  const repaired: Polygon[] = [];
  for (const [shell, ...holes] of fromPaths(united(parts))) {
    const areaM2 = polygonArea([shell!]);
    if (areaM2 < CRUMB_M2) {
      crumbs.push({ kind: "part", place: shell![0]!, areaM2 });
      continue;
    }
    const kept = holes.filter((hole) => {
      const holeM2 = -ringArea(hole);
      if (holeM2 < CRUMB_M2) crumbs.push({ kind: "hole", place: hole[0]!, areaM2: holeM2 });
      return holeM2 >= CRUMB_M2;
    });
    repaired.push([shell!, ...kept]);
  }
  return { repaired, crumbs, places };
};

const united = (paths: Paths64): Paths64 => combinePaths(ClipType.Union, paths, []);

const mendedPart = ([shell, ...holes]: Polygon): Paths64 => {
  if (shell === undefined) return [];
  const land = united(toPaths([shell]));
  // Each hole by itself first: two that run opposite ways would cancel where they lie over one another.
  const water = united(holes.flatMap((hole) => united(toPaths([hole]))));
  return water.length === 0 ? land : combinePaths(ClipType.Difference, land, water);
};
