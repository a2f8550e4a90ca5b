/**
 * Oxide in an element, from the standard atomic masses O 15.999, P 30.974, K 39.098 (from memory; the ratios
 * 2.2914 and 1.2046 are printed in the conversion tables of a fertilizer industry association).
 */
const O = 15.999;
const P = 30.974;
const K = 39.098;

/** lb P2O5 in 1 lb P. */
export const P2O5_PER_P: number = (2 * P + 5 * O) / (2 * P);
/** lb K2O in 1 lb K. */
export const K2O_PER_K: number = (2 * K + O) / (2 * K);
