/** A number as a grower writes it: at most `digits` decimals, no trailing zeros. */
export function plainNumber(value: number, digits = 3): string {
  const rounded = Number(value.toFixed(digits));
  return String(Object.is(rounded, -0) ? 0 : rounded);
}
