import { sum } from "../../numeric/index.ts";
import type { Prescription } from "../../prescription/index.ts";
import { oxideIn } from "../document/field-products.ts";
import { ratesOf } from "../document/oxide-rates.ts";
import { sumOver } from "../results/field-sums.ts";
import type { BalanceReasons, Wanted } from "../results/need-result-types.ts";
import type { Balance, Broadcast, FieldGrid, NeedMap } from "../results/result-types.ts";

/**
 * Where each oxide's pounds stand, strip and broadcast by their files as written. Credits count in full; what they bring
 * beyond the need is excess. What limits, budget and exclusions take off is shortage, and named.
 */
export function balanceField(
  cells: FieldGrid,
  need: NeedMap,
  wanted: Wanted,
  strip: readonly Prescription[],
  broadcast: Broadcast,
): Balance[] {
  return (["P2O5", "K2O"] as const).map((nutrient): Balance => {
    const placed = (maps: readonly Prescription[]) =>
      sum(maps.map((map) => map.totalLb * oxideIn(map.analysis, nutrient)));
    const needLb = sumOver(cells, ratesOf(need, nutrient));
    const stripLb = placed(strip);
    const broadcastLb = placed(broadcast.prescriptions);
    const { creditsLb, creditsBeyondNeedLb, overMaximumLb, leftOutLb, raisedLb, overBudgetLb, excludedLb } =
      wanted[nutrient];
    const takenOff = overMaximumLb + leftOutLb + overBudgetLb + excludedLb;
    const shortageLb = broadcast.shortageLb[nutrient] + takenOff;
    const excessLb = broadcast.excessLb[nutrient] + raisedLb + creditsBeyondNeedLb;
    const roundingLb = stripLb + broadcastLb + creditsLb + shortageLb - excessLb - needLb;
    return { nutrient, needLb, stripLb, broadcastLb, creditsLb, shortageLb, excessLb, roundingLb };
  });
}

/** What of shortage and excess was meant: limits, budget, exclusions, credits beyond the need. */
export function balanceReasons(
  wanted: Wanted,
  broadcast: Broadcast,
): Readonly<Record<"P2O5" | "K2O", BalanceReasons>> {
  const of = (nutrient: "P2O5" | "K2O"): BalanceReasons => {
    const { creditsBeyondNeedLb, overMaximumLb, leftOutLb, raisedLb, overBudgetLb, excludedLb } =
      wanted[nutrient];
    return {
      overMaximumLb,
      leftOutLb,
      overBudgetLb,
      excludedLb: excludedLb + broadcast.excludedLb[nutrient],
      bandedLb: broadcast.bandedLb[nutrient],
      raisedLb,
      creditsBeyondNeedLb,
    };
  };
  return { P2O5: of("P2O5"), K2O: of("K2O") };
}
