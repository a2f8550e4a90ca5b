export { besselKScaled } from "./bessel-k.ts";
export {
  factorInPlace,
  inverseFromLower,
  invertLower,
  logDeterminant,
  solveLowerInPlace,
  solveUpperInPlace,
} from "./cholesky.ts";
export { dot } from "./dot.ts";
export { gamma } from "./gamma.ts";
export { GAUSS_LEGENDRE_4 } from "./gauss-legendre.ts";
export { type JoinedSets, joinedSets } from "./joined-sets.ts";
export { Summer, sum } from "./sum.ts";
