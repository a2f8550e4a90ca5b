import type { Grid } from "../geo/index.ts";
import { nearestFinder } from "./nearest.ts";
import { checkSamples } from "./same-place.ts";
import { blockPoints } from "./support.ts";
import type { InverseDistanceOptions, Samples, Targets } from "./types.ts";

/**
 * Mean of the samples weighted by distance^-power, in target order; a target on a sample returns that sample.
 * With `block` the mean of it over 4 x 4 Gauss-Legendre points. Throws `no-samples`, `samples-at-one-place`.
 */
export function inverseDistance(
  samples: Samples,
  targets: Targets,
  options: InverseDistanceOptions = {},
): Float64Array<ArrayBuffer> {
  const means = weightedMeans(samples, options);
  if (options.block === undefined) return means(targets.x, targets.y);
  const { du, dv, weight } = blockPoints(options.block, { ux: 1, uy: 0, vx: 0, vy: 1 });
  const out = new Float64Array(targets.x.length);
  for (let k = 0; k < weight.length; k++) {
    const at = means(
      targets.x.map((x) => x + du[k]!),
      targets.y.map((y) => y + dv[k]!),
    );
    for (let i = 0; i < out.length; i++) out[i]! += weight[k]! * at[i]!;
  }
  return out;
}

/** `inverseDistance` at the centres of the wanted cells (1 = wanted); NaN elsewhere. */
export function inverseDistanceGrid(
  samples: Samples,
  grid: Grid,
  wanted: Uint8Array,
  options: InverseDistanceOptions = {},
): Float64Array<ArrayBuffer> {
  const { nx, ny, ix0, iy0, cellM } = grid;
  const cells = Uint32Array.from({ length: nx * ny }, (_, cell) => cell).filter((cell) => wanted[cell] === 1);
  const x = Float64Array.from(cells, (cell) => (ix0 + (cell % nx) + 0.5) * cellM);
  const y = Float64Array.from(cells, (cell) => (iy0 + Math.floor(cell / nx) + 0.5) * cellM);
  const means = weightedMeans(samples, options)(x, y);
  const out = new Float64Array(nx * ny).fill(Number.NaN);
  cells.forEach((cell, i) => {
    out[cell] = means[i]!;
  });
  return out;
}

type Means = (x: Float64Array, y: Float64Array) => Float64Array<ArrayBuffer>;

function weightedMeans(samples: Samples, { power = 2, nearest }: InverseDistanceOptions): Means {
  checkSamples(samples);
  if (!(power > 0 && Number.isFinite(power)))
    throw new Error(`inverseDistance: power ${power} is not above 0`);
  const weigh = (squaredDistance: number): number =>
    power === 2 ? 1 / squaredDistance : squaredDistance ** (-power / 2);
  if (nearest !== undefined && nearest < samples.value.length) {
    const at = nearestMean(samples, weigh, nearest);
    return (x, y) => Float64Array.from(x, (one, i) => at(one, y[i]!));
  }
  const at = meanOfAll(samples, weigh);
  if (power === 2) return (x, y) => meansBySquares(samples, x, y, at);
  return (x, y) => Float64Array.from(x, (one, i) => at(one, y[i]!));
}

type Weigh = (squaredDistance: number) => number;
type Mean = (x: number, y: number) => number;

function nearestMean({ x, y, value }: Samples, weigh: Weigh, nearest: number): Mean {
  const finder = nearestFinder(x, y, nearest);
  return (targetX, targetY) => {
    finder.find(targetX, targetY);
    let total = 0;
    let weights = 0;
    for (let k = 0; k < finder.index.length; k++) {
      const d2 = finder.squaredDistance[k]!;
      if (d2 === 0) return value[finder.index[k]!]!;
      total += weigh(d2) * value[finder.index[k]!]!;
      weights += weigh(d2);
    }
    return total / weights;
  };
}

function meanOfAll({ x, y, value }: Samples, weigh: Weigh): Mean {
  return (targetX, targetY) => {
    let total = 0;
    let weights = 0;
    for (let i = 0; i < value.length; i++) {
      const d2 = (x[i]! - targetX) ** 2 + (y[i]! - targetY) ** 2;
      if (d2 === 0) return value[i]!;
      const weight = weigh(d2);
      total += weight * value[i]!;
      weights += weight;
    }
    return total / weights;
  };
}

/** With weights 1/distance^2, two targets in one turn over the samples; one that lies on a sample goes to `at`. */
function meansBySquares(
  { x, y, value }: Samples,
  targetX: Float64Array,
  targetY: Float64Array,
  at: Mean,
): Float64Array<ArrayBuffer> {
  const out = new Float64Array(targetX.length);
  for (let k = 0; k < out.length; k += 2) {
    const other = Math.min(k + 1, out.length - 1);
    const x0 = targetX[k]!;
    const y0 = targetY[k]!;
    const x1 = targetX[other]!;
    const y1 = targetY[other]!;
    let total0 = 0;
    let weights0 = 0;
    let total1 = 0;
    let weights1 = 0;
    for (let i = 0; i < value.length; i++) {
      const sample = value[i]!;
      const dx0 = x[i]! - x0;
      const dy0 = y[i]! - y0;
      const dx1 = x[i]! - x1;
      const dy1 = y[i]! - y1;
      const weight0 = 1 / (dx0 * dx0 + dy0 * dy0);
      const weight1 = 1 / (dx1 * dx1 + dy1 * dy1);
      total0 += weight0 * sample;
      weights0 += weight0;
      total1 += weight1 * sample;
      weights1 += weight1;
    }
    out[k] = weights0 < Number.POSITIVE_INFINITY ? total0 / weights0 : at(x0, y0);
    out[other] = weights1 < Number.POSITIVE_INFINITY ? total1 / weights1 : at(x1, y1);
  }
  return out;
}
