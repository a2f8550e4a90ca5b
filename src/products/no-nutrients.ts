import type { Grade } from "./product.ts";

/** The analysis of nothing, to write others on. */
export const noNutrients: Grade = { n: 0, p2o5: 0, k2o: 0, s: 0, mg: 0, zn: 0, b: 0, mn: 0, cu: 0 };
