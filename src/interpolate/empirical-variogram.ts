import { boundingDiagonalM } from "./likelihood-grid.ts";
import type { Samples } from "./types.ts";

/** Pairs of samples at like distance, each pair counted once. */
export interface VariogramBin {
  readonly pairs: number;
  /** Mean distance of the pairs, metres. */
  readonly distanceM: number;
  /** Squared units of the value. */
  readonly semivariance: number;
}

interface EmpiricalVariogramOptions {
  /** Pairs farther apart are left out; a third of the bounding box's diagonal when left out. */
  readonly cutoffM?: number;
  /** Bin i holds distances above i and up to i + 1 widths; cutoff / 15 when left out. */
  readonly widthM?: number;
  /** "mean-square": half the mean squared difference (Matheron). "robust": Cressie and Hawkins 1980. */
  readonly estimator?: "mean-square" | "robust";
  /** Only pairs whose line lies within the tolerance of this direction, clockwise from north. */
  readonly direction?: { readonly angleDeg: number; readonly toleranceDeg: number };
}

/** Bins that hold a pair, nearest first. Formulas: Cressie 1993, Statistics for Spatial Data, 2.4 (from memory). */
export function empiricalVariogram(
  samples: Samples,
  options: EmpiricalVariogramOptions = {},
): VariogramBin[] {
  const { x, y, value } = samples;
  const cutoffM = options.cutoffM ?? boundingDiagonalM(samples) / 3;
  const widthM = options.widthM ?? cutoffM / 15;
  if (!(widthM > 0)) return [];
  const robust = options.estimator === "robust";
  const size = Math.ceil(cutoffM / widthM - 1e-9);
  const pairs = new Float64Array(size);
  const distance = new Float64Array(size);
  const difference = new Float64Array(size);
  const angle = ((options.direction?.angleDeg ?? 0) * Math.PI) / 180;
  const least = options.direction && Math.cos((options.direction.toleranceDeg * Math.PI) / 180);
  for (let i = 0; i < value.length; i++) {
    for (let j = 0; j < i; j++) {
      const dx = x[i]! - x[j]!;
      const dy = y[i]! - y[j]!;
      const h = Math.hypot(dx, dy);
      if (h > cutoffM) continue;
      if (least !== undefined && Math.abs(dx * Math.sin(angle) + dy * Math.cos(angle)) < least * h) continue;
      const bin = Math.min(size - 1, Math.max(0, Math.ceil(h / widthM) - 1));
      const d = value[i]! - value[j]!;
      pairs[bin]! += 1;
      distance[bin]! += h;
      difference[bin]! += robust ? Math.sqrt(Math.abs(d)) : d * d;
    }
  }
  const bins: VariogramBin[] = [];
  for (let b = 0; b < size; b++) {
    const count = pairs[b]!;
    if (count === 0) continue;
    const mean = difference[b]! / count;
    bins.push({
      pairs: count,
      distanceM: distance[b]! / count,
      semivariance: robust ? (0.5 * mean ** 4) / (0.457 + 0.494 / count) : mean / 2,
    });
  }
  return bins;
}
