export { guidanceAt } from "./guidance-at.ts";
export { type GuidanceFrame, guidanceFrame } from "./guidance-frame.ts";
export { COUNTS_M2, layoutFigures } from "./layout-figures.ts";
export { layoutNotices } from "./layout-notices.ts";
export { LEAD_CAUTION, leadRates } from "./lead-rates.ts";
export { type MapLimits, meetLimits } from "./meet-limits.ts";
export { type PassLine, passLines } from "./pass-lines.ts";
export { planterMatch } from "./planter-match.ts";
export { overlapShare, sectionFigures } from "./section-control.ts";
export { type RatedPiece, splitRun } from "./split-run.ts";
export { spreaderCells } from "./spreader-cells.ts";
export { type Stop, stopsOnStrips } from "./stops-on-strips.ts";
export {
  ASSUMED_RESPONSE_S,
  ASSUMED_SPEED_M_PER_S,
  type Stretch,
  shortestStretchM,
  stretchRates,
} from "./stretch-rates.ts";
export { ASSUMED_TURN_RADIUS_M, type LaidStrips, type RigLayout, stripLayout } from "./strip-layout.ts";
export { type Segment, stripSegments } from "./strip-segments.ts";
export { shiftedLine } from "./strip-shift.ts";
export { tightBends } from "./tight-bends.ts";
export { headlandNeeded, turnBetween } from "./turn-length.ts";
export type { WorkedRun, WorkedSegment } from "./work-tiles.ts";
export { type Pattern, type Run, type WorkPlan, type WorkStep, workingOrder } from "./working-order.ts";
