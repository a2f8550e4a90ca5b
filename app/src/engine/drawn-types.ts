import type { Layer, TestName } from "#core";

/** A file by its path in the plan's folder. */
export type NamedFile = readonly [path: string, bytes: Uint8Array<ArrayBuffer>];
export type LonLat = readonly [lonDeg: number, latDeg: number];
/** Rings of longitude and latitude, the first vertex repeated at the end, ready for the map. */
export type LonLatRings = readonly (readonly LonLat[])[];

export interface Ground {
  readonly id: string;
  /** A polygon each: outer ring, then holes. */
  readonly boundary: readonly LonLatRings[];
  readonly line: readonly [LonLat, LonLat];
  /** From A to B, degrees clockwise from north. */
  readonly headingDeg: number;
  /** What the rig follows: A and B, or more places along a curve. */
  readonly guidance: readonly LonLat[];
  readonly samples: readonly SampleMark[];
  readonly methods: { readonly P: string; readonly K: string };
  /** West, south, east, north, degrees. */
  readonly box: readonly [number, number, number, number];
}

interface SampleMark {
  readonly id: string;
  readonly at: LonLat;
  readonly values: Readonly<Record<TestName, number | null>>;
  /** Tests whose map it is left out of. */
  readonly off: readonly TestName[];
}

/** The middle line of every segment as drawn on the map. */
export interface PassLines {
  /** lon, lat of the beginning and of the end: four numbers a segment. */
  readonly ends: Float64Array<ArrayBuffer>;
  readonly pass: Int32Array<ArrayBuffer>;
  readonly column: Int32Array<ArrayBuffer>;
  readonly areaAc: Float64Array<ArrayBuffer>;
  /** Width of the ground each rule stands for, metres: the pass, or what the boundary leaves of it. */
  readonly widthM: Float64Array<ArrayBuffer>;
  /** 1 on the headland. */
  readonly headland: Uint8Array<ArrayBuffer>;
  /** Metres along the pass. */
  readonly lengthM: Float64Array<ArrayBuffer>;
  /** Numbers of the first and the last pass of the interior that count; null where there is none. */
  readonly numbers: readonly [number, number] | null;
  /** Runs in working order. */
  readonly runs: readonly PassRun[];
}

/** A run: a pass, or a part of one, driven without a stop. */
export interface PassRun {
  readonly kind: "interior" | "headland";
  readonly pass: number;
  readonly block: number;
  readonly forward: boolean;
  /** Segments in the order driven. */
  readonly segments: Int32Array<ArrayBuffer>;
}

/** A layer with what the map draws for it. */
export interface DrawnLayer {
  readonly layer: Layer;
  /** Null for passes and dots. */
  readonly shapes: StepShapes | null;
  /** Dots of a broadcast layer: lon, lat, radius in metres, step. */
  readonly dots: Float64Array<ArrayBuffer> | null;
}

/**
 * Flat steps in arrays that the map draws as they are: the region at or above each limit of the classes, least first,
 * later ones over earlier ones, and the lines along which a test equals its critical level.
 */
export interface StepShapes {
  /** lon, lat of every corner of the rings; a ring's first corner is not repeated. */
  readonly places: Float64Array<ArrayBuffer>;
  /** Number of the first corner of each ring, and of all corners at the end. */
  readonly rings: Uint32Array<ArrayBuffer>;
  /** Which limit each ring's region lies above; -1 for a critical line, which bounds none. */
  readonly limits: Int16Array<ArrayBuffer>;
  /** Numbers of three corners each that fill the regions, in the order of the limits. */
  readonly triangles: Uint32Array<ArrayBuffer>;
}

/** A layer by an earlier state of the plan, in the classes it has now. */
export interface MapBefore {
  readonly drawn: DrawnLayer;
  /** Null where the passes lie as they do now. */
  readonly passes: PassLines | null;
}

/** A field on the farm's plat. */
export interface Outline {
  readonly id: string;
  readonly boundary: readonly LonLatRings[];
  /** West, south, east, north, degrees. */
  readonly box: Ground["box"];
  readonly label: LonLat;
  /** From A to B: the way its passes run. */
  readonly line: readonly [LonLat, LonLat];
}
