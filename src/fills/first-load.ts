import { planRefills, refillReserve } from "./plan-refills.ts";
import type { RefillInput } from "./refill-types.ts";

/**
 * The smallest first load that costs no more minutes and no more stops than a full one: the loads to the end of pass 1,
 * 2, ... are tried in order, the reserve on top. lb of each bin, 0 of one that lays nothing; null when there is no plan at all.
 */
export function smallestFirstLoad(input: RefillInput): number[] | null {
  const { firstLoadLb: _, ...full } = input;
  const best = planRefills(full);
  if (!best.feasible) return null;
  const reserve = refillReserve(input.usableLoadLb, input.reserveShare, input.meterErrorShare);
  const lays = (b: number): boolean => input.passLb.some((pass) => pass[b]! > 0);
  const running = reserve.map((lb, b) => (lays(b) ? lb : 0));
  for (const pass of input.passLb) {
    for (const [b, lb] of pass.entries()) running[b] = running[b]! + lb;
    if (running.some((lb, b) => lb > input.usableLoadLb[b]! + 1e-9)) break;
    const tried = planRefills({ ...full, firstLoadLb: [...running] });
    if (tried.feasible && tried.minutes <= best.minutes + 1e-9 && tried.stops.length === best.stops.length) {
      return [...running];
    }
  }
  return input.usableLoadLb.map((lb, b) => (lays(b) ? lb : 0));
}
