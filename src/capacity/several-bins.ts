import { sum } from "../numeric/index.ts";
import { requireNumber } from "./require-number.ts";

/** One of several bins that are metered alone. */
export interface MeteredBin {
  /** Usable lb of a full bin. */
  readonly loadLb: number;
  /** lb of its product per acre of field; 0 = not used. */
  readonly rateLbPerAc: number;
}

/** How far several bins last at their rates. */
export interface BinsFill {
  /** Acres each bin lasts, null for a rate of 0. */
  readonly acPerBin: readonly (number | null)[];
  /** Acres until the first bin is empty; null when no bin is used. */
  readonly acPerFill: number | null;
  /** Place in the list of the bin that ends the fill, the first of those that are empty together; null when no bin is used. */
  readonly limitingBin: number | null;
  /** lb left in each bin then. */
  readonly leftLb: readonly number[];
}

/** Bins whose acres differ by a smaller share are empty together (ours): a movable wall makes them so, up to the last digits. */
const TOGETHER = 1e-9;

/** Acres per fill of several bins at constant rates: the first empty bin stops the rig. Order as given. */
export function acresPerFill(bins: readonly MeteredBin[]): BinsFill {
  const acPerBin = bins.map(({ loadLb, rateLbPerAc }, i) => {
    requireNumber(`bins[${i}].loadLb`, loadLb);
    return requireNumber(`bins[${i}].rateLbPerAc`, rateLbPerAc) === 0 ? null : loadLb / rateLbPerAc;
  });
  const used = acPerBin.filter((acres) => acres !== null);
  const acPerFill = used.length === 0 ? null : Math.min(...used);
  return {
    acPerBin,
    acPerFill,
    limitingBin:
      acPerFill === null
        ? null
        : acPerBin.findIndex((acres) => acres !== null && acres <= acPerFill * (1 + TOGETHER)),
    leftLb: bins.map(({ loadLb, rateLbPerAc }) => loadLb - rateLbPerAc * (acPerFill ?? 0)),
  };
}

/** Two bins that are one box with a wall that can be moved. */
export interface MovableWall {
  /** Usable volume both sides share, cubic feet. Left out: weight alone limits. */
  readonly usableFt3?: number;
  /** Most lb both sides may hold together. Left out: volume alone limits. */
  readonly weightLimitLb?: number;
  /** Products either side of the wall; density is needed with a volume. */
  readonly products: readonly { readonly rateLbPerAc: number; readonly lbPerFt3?: number }[];
}

/** Where the wall has to stand for both sides to be empty at once. */
export interface WallDivision {
  readonly acPerFill: number;
  readonly limit: "volume" | "weight";
  /** lb and cubic feet of each product, in proportion to the rates; cubic feet null without a density. */
  readonly loadsLb: readonly number[];
  readonly loadsFt3: readonly (number | null)[];
}

/**
 * Where to set a movable wall: loads in proportion to the rates, so that the products run out together.
 * Throws `number-not-usable`, also when neither volume nor weight is given or no product has a rate.
 */
export function divideMovableWall({ usableFt3, weightLimitLb, products }: MovableWall): WallDivision {
  const rates = products.map(({ rateLbPerAc }, i) =>
    requireNumber(`products[${i}].rateLbPerAc`, rateLbPerAc),
  );
  const total = requireNumber("the sum of the rates", sum(rates), { above: 0 });
  const densities = products.map(({ lbPerFt3 }, i) =>
    lbPerFt3 === undefined && usableFt3 === undefined
      ? null
      : requireNumber(`products[${i}].lbPerFt3`, lbPerFt3 ?? Number.NaN, { above: 0 }),
  );
  const byVolume =
    usableFt3 === undefined
      ? Number.POSITIVE_INFINITY
      : requireNumber("usableFt3", usableFt3, { above: 0 }) /
        sum(rates.map((rate, i) => rate / densities[i]!));
  const byWeight =
    weightLimitLb === undefined
      ? Number.POSITIVE_INFINITY
      : requireNumber("weightLimitLb", weightLimitLb, { above: 0 }) / total;
  const acPerFill = requireNumber("usableFt3 or weightLimitLb", Math.min(byVolume, byWeight));
  const loadsLb = rates.map((rate) => rate * acPerFill);
  return {
    acPerFill,
    limit: byWeight <= byVolume ? "weight" : "volume",
    loadsLb,
    loadsFt3: loadsLb.map((lb, i) => (densities[i] === null ? null : lb / densities[i]!)),
  };
}
