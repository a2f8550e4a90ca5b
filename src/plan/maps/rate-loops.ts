import { acres } from "../../units/index.ts";

// The long loops behind the broadcast maps, each a function of its own: machine code that a host makes for a loop while
// it runs serves the next run too when nothing else stands around it.

/** lb of a need that lie on no cell yet: what is placed counts for more where the plan says so. */
export function unplacedLb(
  areaM2: Float64Array,
  needLbPerAc: Float64Array,
  placedLb: Float64Array,
  counts: Float64Array | null,
): Float64Array {
  const lb = new Float64Array(areaM2.length);
  for (let i = 0; i < lb.length; i++)
    if (areaM2[i]! > 0) lb[i] = needLbPerAc[i]! * acres(areaM2[i]!) - placedLb[i]! * (counts?.[i] ?? 1);
  return lb;
}

/** Add so many times some values, one by one, to what is there. */
export function addTimes(into: Float64Array, values: Float64Array, factor: number): void {
  for (let i = 0; i < into.length; i++) into[i] = into[i]! + values[i]! * factor;
}

/** Add the pounds that rates, lb/ac, make on cells, so many times, to what is there. */
export function addPounds(
  into: Float64Array,
  lbPerAc: Float64Array,
  areaM2: Float64Array,
  factor: number,
): void {
  for (let i = 0; i < into.length; i++)
    if (areaM2[i]! > 0) into[i] = into[i]! + lbPerAc[i]! * acres(areaM2[i]!) * factor;
}

/** How much each value is above its like, 0 where it is not; `rest`, which has no like, comes last. */
export function excessOver(values: Float64Array, others: Float64Array, rest: number): Float64Array {
  const excess = new Float64Array(values.length + 1);
  for (let i = 0; i < values.length; i++) excess[i] = Math.max(0, values[i]! - others[i]!);
  excess[values.length] = Math.max(0, rest);
  return excess;
}

/** lb/ac of each piece; 0 on a piece without area. */
export function perAcre(lb: Float64Array, areaAc: Float64Array): Float64Array {
  const rates = new Float64Array(areaAc.length);
  for (let k = 0; k < rates.length; k++) if (areaAc[k]! > 0) rates[k] = lb[k]! / areaAc[k]!;
  return rates;
}
