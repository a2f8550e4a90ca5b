import { polygonFinder } from "../../geo/index.ts";
import type { FieldResult } from "../results/result-types.ts";
import type { ProductLog } from "./applied-types.ts";

type Reading = ProductLog["log"]["points"][number];

/** Readings in a row in which nothing was to be laid are no work where more of them lie where the map has a rate (ours). */
const IDLE_SHARE = 0.5;

/**
 * A log without the readings of a rig that works nothing: in a row, with a target and a rate of 0 where the product's strip map
 * has a rate, as where it turns on a headland that is driven later. Where the map itself has 0 the rig may lay another bin's
 * product: those stay, and so does the reading before work, as the place where that begins. What follows a row that is left out
 * is a pass of its own, and no gap. A log of nothing else stays as it is.
 */
export function atWork({ prescriptions, passes, checked }: FieldResult, one: ProductLog): ProductLog {
  const { points: all } = one.log;
  const map = prescriptions.find(({ pass, product }) => pass === "strip" && product === one.product);
  const isIdle = ({ appliedLbPerAc, targetLbPerAc }: Reading): boolean =>
    targetLbPerAc === 0 && !(appliedLbPerAc > 0);
  if (map === undefined || !all.some(isIdle)) return one;
  const find = polygonFinder(passes.pieces.map(({ polygon }) => polygon));
  const hasRate = ({ at }: Reading): boolean => {
    const k = find(checked.frame.toPlane(at));
    return k >= 0 && map.rateLbPerAc[k]! > 0;
  };
  const isOut = all.map(() => false);
  for (let from = 0; from < all.length; from++) {
    if (!isIdle(all[from]!)) continue;
    let to = from;
    while (to < all.length && isIdle(all[to]!)) to++;
    const row = all.slice(from, to);
    const isTurn = row.filter(hasRate).length > IDLE_SHARE * row.length;
    const isBegin = to < all.length && all[to]!.pass === all[to - 1]!.pass;
    if (isTurn) isOut.fill(true, from, isBegin ? to - 1 : to);
    from = to;
  }
  let breaks = 0;
  const points = all.flatMap((point, i) => {
    if (isOut[i]) return [];
    if (i > 0 && isOut[i - 1]) breaks++;
    return [{ ...point, pass: point.pass + breaks }];
  });
  return points.length === 0 ? one : { ...one, log: { ...one.log, points } };
}
