/** Sum of the products of two vectors' entries, added in order; `b` may be longer. */
export function dot(a: Float64Array, b: Float64Array): number {
  let total = 0;
  for (let i = 0; i < a.length; i++) total += a[i]! * b[i]!;
  return total;
}
