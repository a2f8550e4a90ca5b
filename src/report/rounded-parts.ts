import { sum } from "../numeric/index.ts";
import type { Balance } from "../plan/index.ts";
import { KG_PER_LB, roundTo } from "../units/index.ts";
import type { UnitSystem } from "./numbers.ts";

/**
 * Parts rounded so that they add up, as shown, to the rounded total (the sum of the parts unless given): each is
 * cut down, and what is missing goes to those cut most (largest remainder). A part that is 0 stays 0; ties
 * go to the earlier part.
 */
export function roundedParts(
  parts: readonly number[],
  decimals: number,
  total: number = sum(parts),
): number[] {
  const scale = 10 ** decimals;
  const units = parts.map((part) => Math.floor(part * scale + 1e-9));
  const want = Math.round(roundTo(total, decimals) * scale);
  let missing = want - units.reduce((all, part) => all + part, 0);
  const order = parts
    .map((part, i) => ({ i, rest: part * scale - units[i]! }))
    .filter(({ i }) => parts[i] !== 0)
    .sort((a, b) => b.rest - a.rest || a.i - b.i);
  for (let k = 0; missing > 0 && order.length > 0; k = (k + 1) % order.length, missing--) {
    units[order[k]!.i]! += 1;
  }
  for (let k = order.length - 1; missing < 0 && order.length > 0; k = k === 0 ? order.length - 1 : k - 1) {
    units[order[k]!.i]! -= 1;
    missing++;
  }
  return units.map((unit) => unit / scale);
}

/** A balance without what of it was meant. */
export type BalanceFigures = Omit<Balance, "reasons">;

/** The balances of one nutrient added up, whatever others are among them. */
export function sumOfBalances(
  nutrient: Balance["nutrient"],
  balances: readonly BalanceFigures[],
): BalanceFigures {
  const own = balances.filter((one) => one.nutrient === nutrient);
  const total = (part: Exclude<keyof BalanceFigures, "nutrient">): number => sum(own.map((one) => one[part]));
  return {
    nutrient,
    needLb: total("needLb"),
    stripLb: total("stripLb"),
    broadcastLb: total("broadcastLb"),
    creditsLb: total("creditsLb"),
    shortageLb: total("shortageLb"),
    excessLb: total("excessLb"),
    roundingLb: total("roundingLb"),
  };
}

/** Whole pounds (kg) that add up as shown. */
export interface ShownBalance {
  readonly need: number;
  readonly strip: number;
  readonly broadcast: number;
  readonly credits: number;
  readonly shortage: number;
  readonly excess: number;
  /** Files less need. */
  readonly rounding: number;
}

/**
 * A balance in whole pounds: need = strip + broadcast + credits + shortage - excess - rounding, exactly as shown.
 * Every figure but the rounding is its own nearest whole number, so that it reads the same on every sheet; the
 * rounding closes the line.
 */
export function shownBalance(balance: BalanceFigures, system: UnitSystem = "us"): ShownBalance {
  const whole = (lb: number) => roundTo(system === "us" ? lb : lb * KG_PER_LB, 0);
  const need = whole(balance.needLb);
  const strip = whole(balance.stripLb);
  const broadcast = whole(balance.broadcastLb);
  const credits = whole(balance.creditsLb);
  const shortage = whole(balance.shortageLb);
  const excess = whole(balance.excessLb);
  return {
    need,
    strip,
    broadcast,
    credits,
    shortage,
    excess,
    rounding: strip + broadcast + credits + shortage - excess - need,
  };
}
