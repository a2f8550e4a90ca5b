import type { Structure } from "./types.ts";

/**
 * A covariance with a tail as polynomials of the distance: exp and Bessel functions are called once for each, here, and
 * what is left for the many pairs of places is + - x alone. Four pieces an octave, [4/4, 5/4), [5/4, 6/4), ... of
 * it, `PIECE` numbers each: middle, 1 / half width, and coefficients of t = (h - middle) / half width, from t^0 up.
 */
export interface CovarianceTable {
  /** Pieces are filled when first asked for; NaN until then. */
  readonly values: Float64Array;
  /** What the exponent and the two highest bits of the fraction are at the start of the first piece. */
  readonly first: number;
  readonly pieces: number;
  /** Covariance before the first piece, and from it the covariance at no distance differs by less than 1e-14 of it. */
  readonly near: number;
  readonly fill: (piece: number) => void;
}

const DEGREE = 11;
const POINTS = DEGREE + 1;
/** Numbers in a piece. */
const PIECE: number = POINTS + 2;
/** Octaves of distance below the shortest range and beyond the longest that are tabulated; past the last the covariance is 0. */
const BELOW = 46;
const BEYOND = 7;

const double = new Float64Array(1);
const words = new Uint32Array(double.buffer);
const UPPER = new Uint8Array(new Uint32Array([1]).buffer)[0] === 1 ? 1 : 0;

/** Which quarter of an octave a number above 0 lies in. */
function quarterOf(h: number): number {
  double[0] = h;
  return words[UPPER]! >>> 18;
}

/**
 * Table of a covariance that is smooth but at 0, of structures with the given ranges. Its error stays below 1e-14 of
 * the largest value on a piece, as long as the function is no wilder there than a Gaussian.
 */
export function covarianceTable(
  of: (h: number) => number,
  structures: readonly Structure[],
): CovarianceTable {
  const ranges = structures.map((s) => s.range);
  const first = quarterOf(2 ** (Math.floor(Math.log2(Math.min(...ranges))) - BELOW));
  const last = quarterOf(2 ** (Math.floor(Math.log2(Math.max(...ranges))) + BEYOND));
  const pieces = last - first;
  const values = new Float64Array(pieces * PIECE).fill(Number.NaN);
  const sampled = new Float64Array(POINTS);
  const fill = (piece: number): void => {
    const quarter = first + piece;
    const octave = 2 ** ((quarter >> 2) - 1023);
    const halfWidth = octave / 8;
    const middle = octave * (1 + (quarter & 3) / 4) + halfWidth;
    for (let i = 0; i < POINTS; i++) sampled[i] = of(middle + halfWidth * NODES[i]!);
    const at = piece * PIECE;
    values[at] = middle;
    values[at + 1] = 1 / halfWidth;
    values.set(powersOf(chebyshevSeries(sampled)), at + 2);
  };
  return { values, first, pieces, near: of(2 ** ((first >> 2) - 1023)), fill };
}

/** Covariance at a distance above 0. */
export function tableAt(table: CovarianceTable, h: number): number {
  const { values, first, pieces, near } = table;
  const piece = quarterOf(h) - first;
  if (piece < 0) return near;
  if (piece >= pieces) return 0;
  const at = piece * PIECE;
  if (Number.isNaN(values[at]!)) table.fill(piece);
  const t = (h - values[at]!) * values[at + 1]!;
  // By halves, quarters and eighths, as the kernel does: its parts do not wait for each other.
  const t2 = t * t;
  const t4 = t2 * t2;
  const low = values[at + 2]! + values[at + 3]! * t + (values[at + 4]! + values[at + 5]! * t) * t2;
  const middle = values[at + 6]! + values[at + 7]! * t + (values[at + 8]! + values[at + 9]! * t) * t2;
  const high = values[at + 10]! + values[at + 11]! * t + (values[at + 12]! + values[at + 13]! * t) * t2;
  return low + middle * t4 + high * (t4 * t4);
}

/** Chebyshev points of [-1, 1]. */
const NODES: Float64Array = Float64Array.from({ length: POINTS }, (_, i) =>
  Math.cos((Math.PI * (i + 0.5)) / POINTS),
);

/** Coefficients of Chebyshev polynomials from values at `NODES`; a tail that is rounding error alone is left out. */
function chebyshevSeries(sampled: Float64Array): Float64Array {
  const series = Float64Array.from({ length: POINTS }, (_, j) => {
    let c = 0;
    for (let i = 0; i < POINTS; i++) c += sampled[i]! * Math.cos((Math.PI * j * (i + 0.5)) / POINTS);
    return ((j === 0 ? 1 : 2) * c) / POINTS;
  });
  const noise = Number.EPSILON * Math.abs(series[0]!);
  for (let j = DEGREE; j > 0 && Math.abs(series[j]!) < noise; j--) series[j] = 0;
  return series;
}

function powersOf(series: Float64Array): Float64Array {
  const powers = new Float64Array(POINTS);
  for (let j = 0; j < POINTS; j++) {
    for (let k = 0; k <= j; k++) powers[k]! += series[j]! * CHEBYSHEV[j]![k]!;
  }
  return powers;
}

/** Powers of the Chebyshev polynomials T_0, T_1, ... by T_(j+1) = 2 t T_j - T_(j-1). */
const CHEBYSHEV: readonly Float64Array[] = (() => {
  const rows = [Float64Array.of(1, ...new Float64Array(DEGREE)), new Float64Array(POINTS)];
  rows[1]![1] = 1;
  for (let j = 1; j < DEGREE; j++) {
    rows.push(Float64Array.from({ length: POINTS }, (_, k) => 2 * (rows[j]![k - 1] ?? 0) - rows[j - 1]![k]!));
  }
  return rows;
})();
