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

/** How a long computation lets its host breathe, show progress and stop it. */
export interface Pacing {
  /** Called after each finished row band with the rows done so far. */
  readonly onRow?: (rowsDone: number) => void;
  /** Looked at every time the work pauses; true ends it with a `StoppedError`. */
  readonly signal?: { readonly aborted: boolean };
  /** Awaited about every 10 ms of work; the host's way to run its own queue. */
  readonly pause?: () => Promise<void>;
}
