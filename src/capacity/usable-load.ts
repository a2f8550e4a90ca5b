import { InputError } from "../errors/index.ts";
import { requireNumber } from "./require-number.ts";
import type { BinSize } from "./rig.ts";

/** What a bin can give before it has to be filled. */
export interface UsableLoad {
  /** lb the volume holds and lb the weight limit allows (null without a limit), the residual still in them. */
  readonly byVolumeLb: number;
  readonly byWeightLb: number | null;
  /** Which of the two is smaller; weight when they are equal. */
  readonly limit: "volume" | "weight";
  /** lb that can be metered out of a full bin. */
  readonly loadLb: number;
}

/** lb of a bin that can be metered out, by what its scale shows: the residual is on the scale too. */
export const meteredOfScaleLb = (scaleLb: number, residualLb: number): number =>
  Math.max(0, scaleLb - residualLb);

/**
 * lb between a full bin and the residual that stays in it: the smaller of volume and weight, less the residual.
 * Throws `number-not-usable`, and `no-usable-load` when the residual leaves nothing.
 */
export function usableLoad(bin: BinSize): UsableLoad {
  const { binFt3, lbPerFt3, weightLimitLb, residualLb, fillFactor = 1 } = bin;
  requireNumber("binFt3", binFt3, { above: 0 });
  requireNumber("lbPerFt3", lbPerFt3, { above: 0 });
  requireNumber("residualLb", residualLb);
  requireNumber("fillFactor", fillFactor, { above: 0, atMost: 1.5 });
  const byVolumeLb = binFt3 * fillFactor * lbPerFt3;
  const byWeightLb =
    weightLimitLb === undefined ? null : requireNumber("weightLimitLb", weightLimitLb, { above: 0 });
  const limit = byWeightLb !== null && byWeightLb <= byVolumeLb ? "weight" : "volume";
  const loadLb = (limit === "weight" ? byWeightLb! : byVolumeLb) - residualLb;
  if (!(loadLb > 0)) {
    throw new InputError(
      "no-usable-load",
      `a full bin holds ${tenths(loadLb + residualLb)} lb and ${tenths(residualLb)} lb stay in it`,
      "Check the bin's volume, the density, the weight limit and the residual.",
    );
  }
  return { byVolumeLb, byWeightLb, limit, loadLb };
}

const tenths = (lb: number): number => Math.round(10 * lb) / 10;
