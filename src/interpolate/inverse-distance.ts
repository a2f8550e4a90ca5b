import { cellCentre, type Grid } from "../geo/index.ts";
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
  const at = weightedMean(samples, options);
  if (options.block === undefined) return Float64Array.from(targets.x, (x, i) => at(x, targets.y[i]!));
  const { du, dv, weight } = blockPoints(options.block, { ux: 1, uy: 0, vx: 0, vy: 1 });
  return Float64Array.from(targets.x, (x, i) => {
    let mean = 0;
    for (let k = 0; k < weight.length; k++) mean += weight[k]! * at(x + du[k]!, targets.y[i]! + dv[k]!);
    return mean;
  });
}

/** `inverseDistance` at the centres of the wanted cells (1 = wanted); NaN elsewhere. */
export function inverseDistanceGrid(
  samples: Samples,
  grid: Grid,
  wanted: Uint8Array,
  options: InverseDistanceOptions = {},
): Float64Array<ArrayBuffer> {
  const { nx, ny, ix0, iy0, cellM } = grid;
  const out = new Float64Array(nx * ny).fill(Number.NaN);
  if ((options.power ?? 2) === 2 && !(options.nearest! < samples.value.length)) {
    checkSamples(samples);
    for (let row = 0; row < ny; row++) {
      const y = (iy0 + row + 0.5) * cellM;
      inverseSquares(samples, ix0, cellM, y, wanted, row * nx, nx, out);
    }
    return out;
  }
  const at = weightedMean(samples, options);
  for (let cell = 0; cell < out.length; cell++) {
    if (wanted[cell] !== 1) continue;
    out[cell] = at(...cellCentre(grid, cell));
  }
  return out;
}

/**
 * A row of cells by the square of the distance, four cells at a time so that no division waits for another; each cell's
 * operations are those of `weightedMean`.
 */
function inverseSquares(
  { x, y, value }: Samples,
  ix0: number,
  cellM: number,
  atY: number,
  wanted: Uint8Array,
  first: number,
  nx: number,
  out: Float64Array,
): void {
  const n = value.length;
  const centre = (ix: number): number => (ix0 + ix + 0.5) * cellM;
  for (let from = 0; from < nx; from += 4) {
    const count = Math.min(4, nx - from);
    const [x0, x1, x2, x3] = [centre(from), centre(from + 1), centre(from + 2), centre(from + 3)];
    let [t0, t1, t2, t3] = [0, 0, 0, 0];
    let [w0, w1, w2, w3] = [0, 0, 0, 0];
    for (let i = 0; i < n; i++) {
      const sx = x[i]!;
      const dy = y[i]! - atY;
      const dy2 = dy * dy;
      const z = value[i]!;
      const a = 1 / ((sx - x0) * (sx - x0) + dy2);
      const b = 1 / ((sx - x1) * (sx - x1) + dy2);
      const c = 1 / ((sx - x2) * (sx - x2) + dy2);
      const d = 1 / ((sx - x3) * (sx - x3) + dy2);
      t0 += a * z;
      t1 += b * z;
      t2 += c * z;
      t3 += d * z;
      w0 += a;
      w1 += b;
      w2 += c;
      w3 += d;
    }
    const total = [t0, t1, t2, t3];
    const weights = [w0, w1, w2, w3];
    for (let k = 0; k < count; k++) {
      const cell = first + from + k;
      if (wanted[cell] !== 1) continue;
      // On a sample the weight has no end: that sample it is.
      out[cell] = Number.isFinite(weights[k]!)
        ? total[k]! / weights[k]!
        : value[nearestTo(x, y, centre(from + k), atY)]!;
    }
  }
}

function nearestTo(x: Float64Array, y: Float64Array, atX: number, atY: number): number {
  let nearest = 0;
  let least = Number.POSITIVE_INFINITY;
  for (let i = 0; i < x.length; i++) {
    const d2 = (x[i]! - atX) ** 2 + (y[i]! - atY) ** 2;
    if (d2 < least) [nearest, least] = [i, d2];
  }
  return nearest;
}

/** Weight of a sample by its squared distance: distance^-power. A power that is not above 0 is our bug. */
export function distanceWeight(power: number): (squaredDistance: number) => number {
  if (!(power > 0 && Number.isFinite(power)))
    throw new Error(`inverse distance: power ${power} is not above 0`);
  return power === 2 ? (d2) => 1 / d2 : (d2) => d2 ** (-power / 2);
}

function weightedMean(
  samples: Samples,
  { power = 2, nearest }: InverseDistanceOptions,
): (x: number, y: number) => number {
  checkSamples(samples);
  const { x, y, value } = samples;
  const weigh = distanceWeight(power);
  if (nearest !== undefined && nearest < value.length) {
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
