import { sum } from "../../numeric/index.ts";
import type { RigFigures } from "../rig/rig-figures.ts";
import { rigLoad } from "../rig/rig-load.ts";

/** What the bins hold in a field, in the order of the rig's bins. */
export interface FieldLoads {
  /** lb that can be metered out of full loads. */
  readonly usableLb: readonly number[];
  /** lb beside what stays in that each bin has room for: no less than a load. */
  readonly holdsLb: readonly number[];
  /** lb beside what stays in that all bins together are loaded to at most; infinite without a limit. */
  readonly togetherLb: number;
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
  // Pounds in place of rates: what it calls acres are shares of the field.
  const { bins, wall, acPerFill: lasts } = rigLoad(rig, lb);
  const inProportion = lb.map((one) => one * (lasts ?? 0));
  // A bin the field takes nothing from still needs a load above 0 to count as one.
  const limit = rig.carriesLb === null ? Number.POSITIVE_INFINITY : rig.carriesLb - sum(residualLb);
  if (wall) {
    const usableLb = inProportion.map((one) => Math.max(one, 1));
    // The wall stands where the box would be full, whatever the rig may carry of that.
    const holdsLb = lb.map((one, b) => Math.max(usableLb[b]!, one * wall.acPerFill));
    const by = (lasts ?? 0) < wall.acPerFill ? "rig" : "wall";
    return { usableLb, holdsLb, togetherLb: limit, residualLb, by };
  }
  const own = bins.map((bin) => bin.loadLb);
  const room = {
    holdsLb: bins.map((bin, b) => bin.byVolumeLb - residualLb[b]!),
    togetherLb: limit,
    residualLb,
  };
  if (sum(own) <= limit || lasts === null) return { usableLb: own, ...room, by: "bins" };
  const usableLb = own.map((one, b) => Math.max(1, Math.min(one, (lb[b]! * limit) / sum(lb))));
  return { usableLb, ...room, by: "rig" };
}
