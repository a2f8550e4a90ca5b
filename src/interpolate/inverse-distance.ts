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
  const at = weightedMean(samples, options);
  const { nx, ny, ix0, iy0, cellM } = grid;
  const out = new Float64Array(nx * ny).fill(Number.NaN);
  for (let cell = 0; cell < out.length; cell++) {
    if (wanted[cell] !== 1) continue;
    out[cell] = at((ix0 + (cell % nx) + 0.5) * cellM, (iy0 + Math.floor(cell / nx) + 0.5) * cellM);
  }
  return out;
}

function weightedMean(
  samples: Samples,
  { power = 2, nearest }: InverseDistanceOptions,
): (x: number, y: number) => number {
  checkSamples(samples);
  if (!(power > 0 && Number.isFinite(power)))
    throw new Error(`inverseDistance: power ${power} is not above 0`);
  const { x, y, value } = samples;
  const weigh = (squaredDistance: number): number =>
    power === 2 ? 1 / squaredDistance : squaredDistance ** (-power / 2);
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
