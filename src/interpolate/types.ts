import type { Grid } from "../geo/index.ts";

/** Samples in the field's plane, metres; n of each, in one order. Values in the test's own unit, all finite. */
export interface Samples {
  readonly x: Float64Array;
  readonly y: Float64Array;
  readonly value: Float64Array;
}

/** Places to estimate at, metres. */
export interface Targets {
  readonly x: Float64Array;
  readonly y: Float64Array;
}

export type StructureType = "spherical" | "exponential" | "gaussian" | "matern";

/**
 * One part of a variogram. `partialSill` in squared units of the value, `range` in metres: the distance where
 * a spherical structure reaches its sill; the divisor of the distance in exp(-h/r), exp(-(h/r)^2) and the
 * Matern form (h/r)^kappa K_kappa(h/r) 2^(1-kappa)/Gamma(kappa). `kappa` belongs to matern alone.
 */
export interface Structure {
  readonly type: StructureType;
  readonly partialSill: number;
  readonly range: number;
  readonly kappa?: number;
}

/** The longer axis clockwise from north, in degrees, and range across it over range along it, 0 < ratio <= 1. */
export interface Anisotropy {
  readonly angleDeg: number;
  readonly ratio: number;
}

/** Semivariance is 0 at distance 0 and nugget + structures at any other distance. */
export interface VariogramModel {
  readonly nugget: number;
  readonly structures: readonly Structure[];
  readonly anisotropy?: Anisotropy;
}

/** A rectangle centred on each target, sides along x and y, metres. */
export interface Block {
  readonly widthM: number;
  readonly heightM: number;
}

export interface KrigeOptions {
  /** Mean over a block around each target instead of the value at a point. */
  readonly block?: Block;
  /** Use only this many samples, nearest by plain distance. Left out: all, as a map should. */
  readonly nearest?: number;
}

/** In target order; `variance` in squared units of the value. */
export interface Kriged {
  readonly estimate: Float64Array<ArrayBuffer>;
  readonly variance: Float64Array<ArrayBuffer>;
}

export interface InverseDistanceOptions {
  /** Weight = distance^-power; 2 when left out. */
  readonly power?: number;
  readonly nearest?: number;
  readonly block?: Block;
}

/** How a long computation lets its host breathe, show progress, stop it and spread it over threads. */
export interface Pacing {
  /** Called after each finished row band with the rows done so far. */
  readonly onRow?: (rowsDone: number) => void;
  /** Looked at every time the work pauses; true ends it with a `StoppedError`. */
  readonly signal?: { readonly aborted: boolean };
  /** Awaited about every 10 ms of work; the host's way to run its own queue. */
  readonly pause?: () => Promise<void>;
  /** Used for a grid whose work is long enough; the map is the same to the last bit. */
  readonly parallel?: Parallel;
}

/**
 * What the heavy loops run on. "fastest" is WebAssembly where the host has it, else plain JavaScript; both give the same
 * bits, so that a plan gives the same files on every machine.
 */
export type Arithmetic = "fastest" | "javascript";

/** All that a thread must be told to krige bands of a grid; plain values that can be sent. */
export interface GridJob {
  readonly samples: Samples;
  readonly model: VariogramModel;
  readonly grid: Grid;
  /** 1 = wanted; nx * ny. */
  readonly wanted: Uint8Array;
  readonly variance: boolean;
  readonly support: "cell" | "point";
  readonly arithmetic: Arithmetic;
}

/** Rows `row` to `row + rows - 1` of a grid, from the south. */
export interface RowBand {
  readonly row: number;
  readonly rows: number;
}

/** Threads that the host runs, each with this engine in it. */
export interface Parallel {
  readonly threads: number;
  /**
   * Has every band kriged, each by `gridKriger(job).band` on some thread, and hands each over as it comes, in any
   * order. Rejects when a thread fails, and with a `StoppedError` soon after `signal` says so.
   */
  readonly bands: (
    job: GridJob,
    bands: readonly RowBand[],
    onBand: (band: RowBand, kriged: Kriged) => void,
    signal?: Pacing["signal"],
  ) => Promise<void>;
}
