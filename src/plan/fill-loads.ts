import { divideMovableWall, usableLoad } from "../capacity/index.ts";
import { sum } from "../numeric/index.ts";
import type { RigFigures } from "./rig-figures.ts";

/** What the bins hold in a field, in the order of the rig's bins. */
export interface FieldLoads {
  /** lb that can be metered out of full bins. */
  readonly usableLb: readonly number[];
  /** lb that stay in. */
  readonly residualLb: readonly number[];
  /** What sets them: each bin's own volume or weight, the rig's weight, or the wall set to the rates. */
  readonly by: "bins" | "rig" | "wall";
}

/**
 * Full loads of a field whose passes take `lb` of each bin in all. Where the rig may carry less than full bins, or a wall
 * can be moved, loads stand in proportion to the pounds the field takes, so that the bins run out together.
 * Throws `no-usable-load`, `number-not-usable`.
 */
export function fieldLoads(rig: RigFigures, lb: readonly number[]): FieldLoads {
  const residualLb = rig.bins.map((bin) => bin.residualLb);
  const residual = sum(residualLb);
  const limit = rig.carriesLb === null ? Number.POSITIVE_INFINITY : rig.carriesLb - residual;
  const total = sum(lb);
  if (rig.movableWall && rig.bins.length > 1 && total > 0) {
    const usableFt3 = sum(
      rig.bins.map((bin) => bin.binFt3 * (bin.fillFactor ?? 1) - bin.residualLb / bin.lbPerFt3),
    );
    const wall = divideMovableWall({
      usableFt3,
      ...(Number.isFinite(limit) ? { weightLimitLb: limit } : {}),
      products: rig.bins.map((bin, b) => ({ rateLbPerAc: lb[b]!, lbPerFt3: bin.lbPerFt3 })),
    });
    // A bin the field takes nothing from still needs a load above 0 to count as one.
    return { usableLb: wall.loadsLb.map((one) => Math.max(one, 1)), residualLb, by: "wall" };
  }
  const own = rig.bins.map((bin) => usableLoad(bin).loadLb);
  if (sum(own) <= limit || total === 0) return { usableLb: own, residualLb, by: "bins" };
  // Acres (as a share of the field) that the rig's weight lasts, all bins in proportion.
  const lasts = limit / total;
  const usableLb = own.map((one, b) => Math.max(1, Math.min(one, lb[b]! * lasts)));
  return { usableLb, residualLb, by: "rig" };
}
