import { compileCovariance } from "../../src/interpolate/covariance.ts";
import type { Samples, VariogramModel } from "../../src/interpolate/index.ts";
import { factorInPlace } from "../../src/numeric/index.ts";

/** Uniform numbers in [0, 1) from a seed: a Weyl sequence through a 32-bit mixing function. */
export function uniform(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (state + 0x9e3779b9) >>> 0;
    let z = state;
    z = Math.imul(z ^ (z >>> 16), 0x85ebca6b);
    z = Math.imul(z ^ (z >>> 13), 0xc2b2ae35);
    return ((z ^ (z >>> 16)) >>> 0) / 2 ** 32;
  };
}

/** Standard normal numbers (Box and Muller 1958, from memory). */
export function normal(next: () => number): () => number {
  return () => Math.sqrt(-2 * Math.log(1 - next())) * Math.cos(2 * Math.PI * next());
}

export interface Truth {
  readonly samples: Samples;
  /** Places with the true structured part: a 12 x 12 raster over the square. */
  readonly targets: { readonly x: Float64Array; readonly y: Float64Array };
  readonly structured: Float64Array;
}

/**
 * A Gaussian field of mean 0 on a square: n samples scattered one to a square of a raster (as a grid sampler walks)
 * with the nugget in them, and the field without it at 144 places.
 */
export function simulate(n: number, sideM: number, model: VariogramModel, seed: number): Truth {
  const next = uniform(seed);
  const gauss = normal(next);
  const columns = Math.ceil(Math.sqrt(n));
  const rows = Math.ceil(n / columns);
  const squares = Array.from({ length: columns * rows }, (_, i) => i);
  while (squares.length > n) squares.splice(Math.floor(next() * squares.length), 1);
  const jitter = (at: number, of: number): number => ((at + 0.5 + 0.6 * (next() - 0.5)) / of) * sideM;
  const x = Float64Array.from(squares, (s) => jitter(s % columns, columns));
  const y = Float64Array.from(squares, (s) => jitter(Math.floor(s / columns), rows));
  const tx = Float64Array.from({ length: 144 }, (_, i) => (((i % 12) + 0.5) / 12) * sideM);
  const ty = Float64Array.from({ length: 144 }, (_, i) => ((Math.floor(i / 12) + 0.5) / 12) * sideM);
  const structure = compileCovariance({ ...model, nugget: 0 });
  const sill = model.structures.reduce((total, s) => total + s.partialSill, 0);
  const ax = [...x, ...tx];
  const ay = [...y, ...ty];
  const m = ax.length;
  const draws = Float64Array.from({ length: m }, gauss);
  const field = new Float64Array(m);
  if (sill > 0) {
    const matrix = new Float64Array(m * m);
    for (let i = 0; i < m; i++) {
      for (let j = 0; j < i; j++) {
        matrix[i * m + j] = structure.at((ax[i]! - ax[j]!) ** 2 + (ay[i]! - ay[j]!) ** 2);
      }
      matrix[i * m + i] = sill * (1 + 1e-9);
    }
    if (!factorInPlace(matrix, m)) throw new Error("simulate: the model is singular");
    for (let i = 0; i < m; i++) for (let j = 0; j <= i; j++) field[i]! += matrix[i * m + j]! * draws[j]!;
  }
  const noise = Math.sqrt(model.nugget);
  const value = Float64Array.from({ length: n }, (_, i) => field[i]! + noise * gauss());
  return { samples: { x, y, value }, targets: { x: tx, y: ty }, structured: field.slice(n) };
}
