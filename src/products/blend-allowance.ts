import type { Grade } from "./product.ts";

/**
 * Percent points a nutrient may lie under its guarantee: S and Mg 0.2 + 5 % of the guarantee, Zn, Mn and Cu 0.005 + 10 %,
 * B 0.003 + 15 %, never above 1 (N.H. Admin. Code Agr 1105.04, read). The table for N, P2O5 and K2O was not read: null.
 */
export function analysisAllowance(nutrient: keyof Grade, guaranteePercent: number): number | null {
  const terms: Readonly<Partial<Record<keyof Grade, readonly [number, number]>>> = {
    s: [0.2, 0.05],
    mg: [0.2, 0.05],
    zn: [0.005, 0.1],
    mn: [0.005, 0.1],
    cu: [0.005, 0.1],
    b: [0.003, 0.15],
  };
  const term = terms[nutrient];
  return term === undefined ? null : Math.min(1, term[0] + term[1] * guaranteePercent);
}
