// Stirling's series for ln Gamma: B_2k / (2k (2k-1) x^(2k-1)); Bernoulli numbers 1/6, -1/30, 1/42, -1/30, 5/66, -691/2730.
const STIRLING = [1 / 12, -1 / 360, 1 / 1260, -1 / 1680, 1 / 1188, -691 / 360_360];
const HALF_LN_2PI = 0.5 * Math.log(2 * Math.PI);
const FAR = 15;

/** Gamma function for x > 0, to a few units in the last place; Stirling's series past 15 (NIST DLMF 5.11.1, from memory). */
export function gamma(x: number): number {
  if (!(x > 0)) throw new Error(`gamma: ${x} is not above 0`);
  let shift = 1;
  let z = x;
  while (z < FAR) shift *= z++;
  let series = 0;
  for (let k = STIRLING.length - 1; k >= 0; k--) series = series / (z * z) + STIRLING[k]!;
  return Math.exp((z - 0.5) * Math.log(z) - z + HALF_LN_2PI + series / z) / shift;
}
