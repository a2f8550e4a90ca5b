import { GAUSS_LEGENDRE_4 } from "../numeric/index.ts";
import type { Covariance } from "./covariance.ts";
import type { Block } from "./types.ts";

/** What an estimate stands for: a point, or the mean over a block as 4 x 4 Gauss-Legendre points. */
export interface Support {
  readonly block: boolean;
  /** Offsets of the points from the target, after the anisotropy's turn and stretch. */
  readonly du: Float64Array;
  readonly dv: Float64Array;
  /** Weights of the points; they sum to 1. */
  readonly weight: Float64Array;
  /** Farthest point from the target, same space. */
  readonly radius: number;
  /** Covariance of the target with itself: no nugget for a block, where micro-variation averages out. */
  readonly within: number;
}

/** Blocks of no size or of negative size are our bug. */
export function supportOf(covariance: Covariance, block: Block | undefined): Support {
  if (block === undefined) {
    const zero = Float64Array.of(0);
    return {
      block: false,
      du: zero,
      dv: zero,
      weight: Float64Array.of(1),
      radius: 0,
      within: covariance.total,
    };
  }
  const { du, dv, weight } = blockPoints(block, covariance);
  let within = 0;
  let radius = 0;
  for (let i = 0; i < 16; i++) {
    radius = Math.max(radius, Math.hypot(du[i]!, dv[i]!));
    for (let j = 0; j < 16; j++) {
      const h2 = (du[i]! - du[j]!) ** 2 + (dv[i]! - dv[j]!) ** 2;
      within += weight[i]! * weight[j]! * covariance.at(h2);
    }
  }
  return { block: true, du, dv, weight, radius, within };
}

/** The 16 points of a block relative to its centre, and their weights. */
export function blockPoints(
  block: Block,
  { ux, uy, vx, vy }: Pick<Covariance, "ux" | "uy" | "vx" | "vy">,
): { du: Float64Array; dv: Float64Array; weight: Float64Array } {
  if (!(block.widthM > 0 && block.heightM > 0)) throw new Error("block: both sides must be above 0");
  const du = new Float64Array(16);
  const dv = new Float64Array(16);
  const weight = new Float64Array(16);
  for (let i = 0; i < 16; i++) {
    const dx = (GAUSS_LEGENDRE_4.at[i % 4]! * block.widthM) / 2;
    const dy = (GAUSS_LEGENDRE_4.at[i >> 2]! * block.heightM) / 2;
    du[i] = ux * dx + uy * dy;
    dv[i] = vx * dx + vy * dy;
    weight[i] = GAUSS_LEGENDRE_4.weight[i % 4]! * GAUSS_LEGENDRE_4.weight[i >> 2]!;
  }
  return { du, dv, weight };
}
