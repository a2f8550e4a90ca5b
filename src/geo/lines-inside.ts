import { Clipper64, ClipType, FillRule, type Paths64 } from "clipper2-ts";
import { CLIP_STEPS_PER_METRE, toPaths } from "./clipper-paths.ts";
import { orient } from "./orient.ts";
import type { MultiPolygon, Point } from "./types.ts";

/** The parts of open lines that lie on land, in plane metres, to a micrometre. */
export const linesInside = (lines: readonly (readonly Point[])[], land: MultiPolygon): Point[][] => {
  const clipper = new Clipper64();
  clipper.addOpenSubject(toPaths(lines));
  clipper.addClip(toPaths(orient(land).flat()));
  const closed: Paths64 = [];
  const open: Paths64 = [];
  if (!clipper.execute(ClipType.Intersection, FillRule.NonZero, closed, open)) {
    throw new Error("linesInside: the clipper gave up");
  }
  return open.map((path) =>
    path.map(({ x, y }): Point => [x / CLIP_STEPS_PER_METRE, y / CLIP_STEPS_PER_METRE]),
  );
};
