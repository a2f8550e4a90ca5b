import { Clipper, ClipperOffset, ClipType, EndType, JoinType, type Paths64 } from "clipper2-ts";
import { CLIP_STEPS_PER_METRE, combinePaths, fromPaths, toPaths } from "./clipper-paths.ts";
import { orient } from "./orient.ts";
import type { MultiPolygon } from "./types.ts";

/** Chords of the round corners lie within this of the arc; what is left then agrees with true arcs to 1.2e-5 (measured). */
const ARC_TOLERANCE_M = 0.002;
/** Vertices this near the line between their neighbours are dropped, so that ring after ring does not swell. */
const STRAIGHT_M = 0.0015;

/** Outlines with more vertices than this go in by stages: at once, a walked river bank of 4,700 vertices takes seconds. */
const STAGED_ABOVE = 2_000;
/** Stages help long noisy outlines, not many holes. */
const STAGED_HOLES = 10;
/** Shares of the distance: small steps first, to shed the noise. The rest comes last. */
const STAGES = [1 / 32, 1 / 8, 1 / 2];

/**
 * Land farther than a distance from its border, holes included: where the middle of a round tool of that radius can be.
 * Corners that stick into the land come out round. In plane metres; the land's rings must not cross (`ringFaults`).
 * Result oriented, vertices on whole micrometres; empty when nothing is left.
 */
export const insetLand = (land: MultiPolygon, distanceM: number): MultiPolygon => {
  const rings = orient(land).flat();
  const vertices = rings.reduce((count, ring) => count + ring.length, 0);
  let paths = toPaths(rings);
  let left = distanceM;
  if (vertices > STAGED_ABOVE && rings.length - land.length <= STAGED_HOLES) {
    for (const share of STAGES) {
      const stage = share * distanceM;
      paths = offset(paths, stage);
      left -= stage;
    }
  }
  // United once more: dropping a vertex may have made a neck cross itself.
  return fromPaths(combinePaths(ClipType.Union, offset(paths, left), []));
};

const offset = (paths: Paths64, inwardM: number): Paths64 => {
  const offsetter = new ClipperOffset(2, ARC_TOLERANCE_M * CLIP_STEPS_PER_METRE);
  offsetter.addPaths(paths, JoinType.Round, EndType.Polygon);
  const result: Paths64 = [];
  offsetter.execute(-inwardM * CLIP_STEPS_PER_METRE, result);
  return Clipper.simplifyPaths(result, STRAIGHT_M * CLIP_STEPS_PER_METRE).filter((path) => path.length > 2);
};
