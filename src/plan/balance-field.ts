import { sum } from "../numeric/index.ts";
import type { Prescription } from "../prescription/index.ts";
import { sumNeed } from "./need-sums.ts";
import { oxideShare } from "./oxide-share.ts";
import type { Balance, Broadcast, FieldGrid, NeedMap } from "./result-types.ts";

/** Where each oxide's pounds stand, strip and broadcast by their files as written. No credits are read yet. */
export function balanceField(
  cells: FieldGrid,
  need: NeedMap,
  strip: readonly Prescription[],
  broadcast: Broadcast,
): Balance[] {
  return (["P2O5", "K2O"] as const).map((nutrient): Balance => {
    const placed = (maps: readonly Prescription[]) =>
      sum(maps.map((map) => map.totalLb * oxideShare(map.product, nutrient)));
    const needLb = sumNeed(cells, nutrient === "P2O5" ? need.p2o5LbPerAc : need.k2oLbPerAc);
    const stripLb = placed(strip);
    const broadcastLb = placed(broadcast.prescriptions);
    const shortageLb = broadcast.shortageLb[nutrient];
    const excessLb = broadcast.excessLb[nutrient];
    const roundingLb = stripLb + broadcastLb + shortageLb - excessLb - needLb;
    return { nutrient, needLb, stripLb, broadcastLb, creditsLb: 0, shortageLb, excessLb, roundingLb };
  });
}
