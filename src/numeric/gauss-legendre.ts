const INNER = Math.sqrt(3 / 7 - (2 / 7) * Math.sqrt(6 / 5));
const OUTER = Math.sqrt(3 / 7 + (2 / 7) * Math.sqrt(6 / 5));

/** The four Gauss-Legendre points of [-1, 1], ascending, and weights that sum to 1 (the mean, not the integral). */
export const GAUSS_LEGENDRE_4: { readonly at: readonly number[]; readonly weight: readonly number[] } = {
  at: [-OUTER, -INNER, INNER, OUTER],
  weight: [
    (18 - Math.sqrt(30)) / 72,
    (18 + Math.sqrt(30)) / 72,
    (18 + Math.sqrt(30)) / 72,
    (18 - Math.sqrt(30)) / 72,
  ],
};
