/** Arithmetic mean; NaN of nothing. */
function meanOf(values: Float64Array): number {
  return values.reduce((a, b) => a + b, 0) / values.length;
}

/** Mean squared deviation, n - 1 in the divisor; NaN below two values. */
export function sampleVariance(values: Float64Array): number {
  const mean = meanOf(values);
  return values.reduce((total, v) => total + (v - mean) ** 2, 0) / (values.length - 1);
}

/** Root of `sampleVariance`. */
export function standardDeviation(values: Float64Array): number {
  return Math.sqrt(sampleVariance(values));
}

/** G1 = g1 sqrt(n (n - 1)) / (n - 2), g1 = m3 / m2^1.5; NaN below three values or without variance. */
export function skewness(values: Float64Array): number {
  const n = values.length;
  const mean = meanOf(values);
  const moment = (power: number): number => values.reduce((total, v) => total + (v - mean) ** power, 0) / n;
  const m2 = moment(2);
  if (n < 3 || m2 === 0) return Number.NaN;
  return ((moment(3) / m2 ** 1.5) * Math.sqrt(n * (n - 1))) / (n - 2);
}
