import { dot, logDeterminant, solveLowerInPlace } from "../numeric/index.ts";
import { factorFast } from "./arithmetic.ts";
import { compileCovariance } from "./covariance.ts";
import { notSolvable, turned } from "./ordinary-system.ts";
import { checkSamples } from "./same-place.ts";
import { spreadOut } from "./spread-out.ts";
import type { Anisotropy, Samples } from "./types.ts";

/** Ranges of the nodes, as shares of the diagonal of the samples' bounding box. */
export const RELATIVE_RANGES: readonly number[] = [0.06, 0.11, 0.2, 0.33, 0.55, 0.9];
/** Nuggets of the nodes, as shares of nugget and sill together. */
export const NUGGET_SHARES: readonly number[] = [0.05, 0.2, 0.35, 0.5, 0.65, 0.8, 0.92];
/** Above this many samples the likelihood is taken from that many spread-out ones. */
const LIKELIHOOD_SAMPLES = 300;

/** The profile restricted likelihood of each node for one set of values. Range by range, shares within, flat node last. */
export interface NodeProfile {
  /** r' R^-1 r / (n - 1): nugget and sill together that suit the node best. */
  readonly sill: Float64Array;
  /** ln det R + ln(1' R^-1 1) + (n - 1) ln sill; smaller is likelier. */
  readonly deviance: Float64Array;
}

/** The nodes' correlation matrices for one set of places, factored once; values may then change cheaply. */
export interface LikelihoodGrid {
  readonly rangesM: readonly number[];
  /** How many samples the likelihood is taken from. */
  readonly used: number;
  /** Takes all values, in sample order, also where only some are used; undefined where those are all equal. */
  readonly profile: (value: Float64Array) => NodeProfile | undefined;
}

/** Diagonal of the bounding box, metres. */
export function boundingDiagonalM({ x, y }: Pick<Samples, "x" | "y">): number {
  let [west, east, south, north] = [x[0]!, x[0]!, y[0]!, y[0]!];
  for (let i = 1; i < x.length; i++) {
    west = Math.min(west, x[i]!);
    east = Math.max(east, x[i]!);
    south = Math.min(south, y[i]!);
    north = Math.max(north, y[i]!);
  }
  return Math.hypot(east - west, north - south);
}

/**
 * Correlation (1 - share) Sph(range) + share I for each range and share. Needs two samples or more, no two at one
 * place; distances along the anisotropy's longer axis count in full.
 */
export function likelihoodGrid(
  samples: Samples,
  rangesM: readonly number[],
  anisotropy?: Anisotropy,
): LikelihoodGrid {
  checkSamples(samples);
  const picked = spreadOut(samples.x, samples.y, LIKELIHOOD_SAMPLES);
  const n = picked.length;
  if (n < 2) throw new Error("likelihoodGrid: fewer than two samples");
  const x = Float64Array.from(picked, (i) => samples.x[i]!);
  const y = Float64Array.from(picked, (i) => samples.y[i]!);
  const model = { nugget: 0, structures: [], ...(anisotropy === undefined ? {} : { anisotropy }) };
  const { u, v } = turned(compileCovariance(model), x, y, x[0]!, y[0]!);
  const nodes = rangesM.flatMap((rangeM) => factorsOfRange(u, v, rangeM));

  const profile = (value: Float64Array): NodeProfile | undefined => {
    if (picked.every((i) => value[i] === value[picked[0]!])) return undefined;
    const sill = new Float64Array(nodes.length + 1);
    const deviance = new Float64Array(nodes.length + 1);
    let mean = 0;
    for (const i of picked) mean += value[i]! / n;
    const centred = Float64Array.from(picked, (i) => value[i]! - mean);
    const w = new Float64Array(n);
    nodes.forEach(({ factor, ones, onesSquared, logDet }, k) => {
      w.set(centred);
      solveLowerInPlace(factor, n, w);
      const square = dot(w, w) - dot(ones, w) ** 2 / onesSquared;
      sill[k] = square / (n - 1);
      deviance[k] = logDet + Math.log(onesSquared) + (n - 1) * Math.log(sill[k]!);
    });
    const flat = nodes.length;
    sill[flat] = dot(centred, centred) / (n - 1);
    deviance[flat] = Math.log(n) + (n - 1) * Math.log(sill[flat]!);
    return { sill, deviance };
  };
  return { rangesM, used: n, profile };
}

interface Factored {
  readonly factor: Float64Array;
  /** L^-1 1. */
  readonly ones: Float64Array;
  readonly onesSquared: number;
  readonly logDet: number;
}

function factorsOfRange(u: Float64Array, v: Float64Array, rangeM: number): Factored[] {
  const n = u.length;
  const { at } = compileCovariance({
    nugget: 0,
    structures: [{ type: "spherical", partialSill: 1, range: rangeM }],
  });
  const correlation = new Float64Array(n * n);
  for (let i = 0; i < n; i++) {
    for (let j = 0; j < i; j++) correlation[i * n + j] = at((u[i]! - u[j]!) ** 2 + (v[i]! - v[j]!) ** 2);
  }
  return NUGGET_SHARES.map((share) => {
    const factor = correlation.map((c) => (1 - share) * c);
    for (let i = 0; i < n; i++) factor[i * n + i] = 1;
    if (!factorFast(factor, n, "fastest")) throw notSolvable(n);
    const ones = new Float64Array(n).fill(1);
    solveLowerInPlace(factor, n, ones);
    return { factor, ones, onesSquared: dot(ones, ones), logDet: logDeterminant(factor, n) };
  });
}
