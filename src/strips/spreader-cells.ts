import type { MultiPolygon, Point } from "../geo/index.ts";
import { type Segment, stripSegments } from "./strip-segments.ts";

interface SpreaderLayout {
  /** Land to be spread, in the field's plane, metres. */
  readonly boundary: MultiPolygon;
  /** The line the spreader drives along, from A to B, in the field's plane, metres. */
  readonly line: readonly Point[];
  /** Spread width, metres: the spacing of the spreader's passes. */
  readonly widthM: number;
  /** Length of a cell along the line, metres. */
  readonly lengthM: number;
  /** Ground to be kept off, in the field's plane, metres. */
  readonly keptOff?: MultiPolygon;
}

/** The land cut into the cells a spreader can put a rate on: the same cut as `stripSegments`, as wide as the spreader throws. */
export const spreaderCells = ({ lengthM, ...layout }: SpreaderLayout): Segment[] =>
  stripSegments({ ...layout, segmentM: lengthM });
