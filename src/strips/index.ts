export { type SpreaderLayout, spreaderCells } from "./spreader-cells.ts";
export {
  ASSUMED_TURN_RADIUS_M,
  type LaidStrips,
  type RigLayout,
  stripLayout,
  type WorkedSegment,
} from "./strip-layout.ts";
export { type Segment, type StripLayout, stripSegments } from "./strip-segments.ts";
export { headlandNeeded, type Turn, type TurnKind, turnBetween } from "./turn-length.ts";
export type { WorkedRun } from "./work-tiles.ts";
export { type Pattern, type Run, type WorkStep, workingOrder } from "./working-order.ts";
