import { Summer } from "../numeric/index.ts";

/**
 * The ceiling c at which the area-weighted mean of min(rate, c) equals `meanCap`; Infinity when the mean of the
 * full rates does not go above it. Exact: rates are sorted, and between two neighbours the mean is a straight
 * line in c. Rates and cap in one unit; NaN rates and empty areas count nothing. The answer is unique unless
 * the cap is 0 and some rates are 0; then it is 0.
 */
export function commonCeiling(rates: Float64Array, area: Float64Array, meanCap: number): number {
  const order: number[] = [];
  const wholeArea = new Summer();
  const whole = new Summer();
  for (let i = 0; i < rates.length; i++) {
    if (Number.isNaN(rates[i]!) || !(area[i]! > 0)) continue;
    order.push(i);
    wholeArea.add(area[i]!);
    whole.add(rates[i]! * area[i]!);
  }
  const budget = meanCap * wholeArea.total;
  if (whole.total <= budget) return Number.POSITIVE_INFINITY;
  order.sort((a, b) => rates[a]! - rates[b]!);
  // Walk up the rates: cells passed keep their full rate, the rest share what is left of the budget.
  const passed = new Summer();
  const areaLeft = new Summer();
  areaLeft.add(wholeArea.total);
  for (const i of order) {
    const ceiling = (budget - passed.total) / areaLeft.total;
    if (ceiling <= rates[i]!) return ceiling;
    passed.add(rates[i]! * area[i]!);
    areaLeft.add(-area[i]!);
  }
  // Only rounding gets here: the mean of the full rates lies a hair above the cap.
  return Number.POSITIVE_INFINITY;
}
