/**
 * Standard normal distribution function to about 1e-15: the series of Phi below 6 standard deviations (sum of
 * x^(2k+1) / (1 3 5 ... (2k+1)) times the density), beyond that 0 or 1 to the same digits. Textbook series, from memory.
 */
export function normalCdf(x: number): number {
  if (x < 0) return 1 - normalCdf(-x);
  if (x > 9) return 1;
  let term = x;
  let total = x;
  for (let k = 1; term > 1e-18 * total && k < 400; k++) {
    term *= (x * x) / (2 * k + 1);
    total += term;
  }
  return 0.5 + total * (Math.exp((-x * x) / 2) / Math.sqrt(2 * Math.PI));
}
