import type { Notice } from "../../errors/index.ts";
import type { MultiPolygon, Point, Polygon } from "../../geo/index.ts";
import type { Overlaps } from "../../prescription/index.ts";
import type { Segment, WorkedRun, WorkedSegment } from "../../strips/index.ts";

/** The field in passes of the rig, in the order it drives them. */
export interface LaidPasses extends Pieces {
  readonly pieces: readonly WorkedSegment[];
  /** In working order; their segments are numbers of `pieces`, in the order driven. */
  readonly runs: readonly WorkedRun[];
  /** What they were laid along, metres in the field's plane: the guidance line, in odd years moved by half a row. */
  readonly along: readonly Point[];
  /** How far it was moved, metres to its right; 0 when it was not. */
  readonly shiftM: number;
  readonly widthM: number;
  readonly headlandPasses: number;
  /** Land inside the headland, metres in the field's plane. */
  readonly interior: MultiPolygon;
  readonly interiorAc: number;
  readonly headlandAc: number;
  readonly notices: readonly Notice[];
}

/** Land covered twice and land left out by the passes of the interior. */
export interface Overlap {
  /** `typed` as a share of the interior, worked out by `geometry`, or not known along a curve. */
  readonly by: "typed" | "geometry" | "unknown";
  readonly sections: number;
  /** Whether sections and delays are the plan's own; else the whole rig starts and stops at once. */
  readonly areSectionsTyped: boolean;
  readonly overlapAc: number;
  readonly skipAc: number;
  /** What goes down on the overlap and is missing on the skip, lb of each product at its map's mean. */
  readonly products: readonly {
    readonly product: string;
    readonly overlapLb: number;
    readonly skipLb: number;
  }[];
}

/** What a field's passes come to. */
export interface DriveFigures {
  readonly pattern: "back-and-forth" | "every-second" | "skip";
  readonly headlands: "last" | "first";
  readonly headlandPasses: number;
  readonly interiorAc: number;
  readonly headlandAc: number;
  /** Numbers of the first and the last pass of the interior; null when there is none. */
  readonly firstPass: number | null;
  readonly lastPass: number | null;
  readonly passes: number;
  readonly runs: number;
  readonly segments: number;
  readonly centrelineM: number;
  readonly turnM: number;
  readonly moveM: number;
  readonly turnRadiusM: number;
  readonly isTurnRadiusTyped: boolean;
  /** Null where every segment has a rate of its own. */
  readonly stretches: {
    readonly shortestM: number;
    readonly mph: number;
    readonly responseS: number;
    readonly isResponseTyped: boolean;
    readonly leadM: number;
  } | null;
  readonly overlap: Overlap;
  readonly notices: readonly Notice[];
}

/** A pass cut into segments, or the spreader's cells: shapes as they will be written. */
export interface Pieces {
  readonly pieces: readonly Segment[];
  /** Longitude and latitude as written, one polygon a piece. */
  readonly written: readonly Polygon[];
  /** Acres of the written polygons on the ellipsoid. */
  readonly areaAc: Float64Array;
  /** How they lie on the field's cells. */
  readonly overlaps: Overlaps;
}
