/** Rate as a whole number of steps, nearest; an exact half goes up. */
const nearestStep = (lbPerAc: number, stepLbPerAc: number): number =>
  Math.round(lbPerAc / stepLbPerAc) * stepLbPerAc;

/**
 * Step the strip rates of one segment, product by product in bin order. Where `mostLbPerAc` limits every place
 * the products' sum stays at or below it: the last product gives way first.
 */
export function stepSegment(lbPerAc: readonly number[], stepLbPerAc: number, mostLbPerAc: number): number[] {
  const stepped = lbPerAc.map((rate) => nearestStep(rate, stepLbPerAc));
  let over = stepped.reduce((sum, rate) => sum + rate, 0) - mostLbPerAc;
  for (let product = stepped.length - 1; product >= 0 && over > 1e-9; product--) {
    const steps = Math.min(Math.ceil(over / stepLbPerAc - 1e-9), Math.round(stepped[product]! / stepLbPerAc));
    stepped[product]! -= steps * stepLbPerAc;
    over -= steps * stepLbPerAc;
  }
  return stepped;
}

/**
 * Step rates along pieces in order, carrying the pounds that rounding leaves from piece to piece, so that the
 * sum keeps to about half a step on one piece. A piece's rate moves by one step at most from its own nearest
 * step: a sliver cannot take up what its neighbours left. A piece that wants nothing gets nothing.
 */
export function stepCarrying(
  lb: Float64Array,
  areaAc: Float64Array,
  stepLbPerAc: number,
): Float64Array<ArrayBuffer> {
  const stepped = new Float64Array(lb.length);
  let carriedLb = 0;
  for (let k = 0; k < lb.length; k++) {
    if (!(lb[k]! > 0) || !(areaAc[k]! > 0)) continue;
    const own = nearestStep(lb[k]! / areaAc[k]!, stepLbPerAc);
    const wantedLb = lb[k]! + carriedLb;
    const rate = nearestStep(wantedLb / areaAc[k]!, stepLbPerAc);
    stepped[k] = Math.max(0, Math.min(own + stepLbPerAc, Math.max(own - stepLbPerAc, rate)));
    carriedLb = wantedLb - stepped[k]! * areaAc[k]!;
  }
  return stepped;
}
