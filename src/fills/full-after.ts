import { sum } from "../numeric/index.ts";
import type { RefillInput } from "./refill-types.ts";

/** lb in each bin at the start: no more than it can hold. */
export const heldAtStart = ({ usableLoadLb, holdsLb, firstLoadLb }: RefillInput): number[] =>
  usableLoadLb.map((lb, b) => Math.min(Math.max(lb, holdsLb?.[b] ?? lb), firstLoadLb?.[b] ?? lb));

/**
 * lb of each bin after a stop that follows pass k, all of them full, where a bin may hold more than a load from the start on:
 * it keeps that and gets nothing, and the others get so much less, in proportion to their loads, that all together are no
 * more than they may be. No less at a later stop, whatever was loaded before.
 */
export function fullAfter(input: RefillInput, runningLb: readonly Float64Array[], k: number): number[] {
  const { usableLoadLb } = input;
  const most = Math.max(input.togetherLb ?? 0, sum(usableLoadLb));
  const keptLb = heldAtStart(input).map((lb, b) => Math.max(0, lb - runningLb[b]![k]!));
  // Bins by the share of a load they keep: one that keeps more than the rest can be given gets nothing.
  const order = usableLoadLb
    .map((lb, b) => ({ b, share: keptLb[b]! / lb }))
    .sort((one, two) => two.share - one.share);
  let [roomLb, loadsLb] = [most, sum(usableLoadLb)];
  for (const { b, share } of order) {
    if (share <= Math.min(1, roomLb / loadsLb)) break;
    roomLb = Math.max(0, roomLb - keptLb[b]!);
    loadsLb -= usableLoadLb[b]!;
  }
  const given = loadsLb > 0 ? Math.min(1, roomLb / loadsLb) : 0;
  return usableLoadLb.map((lb, b) => Math.max(keptLb[b]!, lb * given));
}
