import { InputError } from "../errors/index.ts";

/** Land with one need of P and K; lb oxide per acre of the whole field. */
export interface BlendClass {
  readonly id: string;
  readonly areaAc: number;
  readonly p2o5LbPerAc: number;
  readonly k2oLbPerAc: number;
}

/** $ a pound of oxide too much and too little. Infinity for too little: every need is covered. */
export interface BlendWeights {
  readonly overP2o5: number;
  readonly overK2o: number;
  readonly underP2o5: number;
  readonly underK2o: number;
}

/** lb K2O a pound of P2O5 a class wants; Infinity without P, NaN without either. */
export const wantedRatio = (one: BlendClass): number => one.k2oLbPerAc / one.p2o5LbPerAc;

/** Passes a number from 0 up through. Throws `number-not-usable` with its name. */
export function requireBlendNumber(name: string, value: number, above = false): number {
  if (Number.isFinite(value) && (above ? value > 0 : value >= 0)) return value;
  throw new InputError(
    "number-not-usable",
    `${name} is ${value}`,
    `Give ${name} as a number ${above ? "above 0" : "from 0 up"}.`,
  );
}

export function checkClasses(classes: readonly BlendClass[]): void {
  for (const one of classes) {
    requireBlendNumber(`areaAc of class ${one.id}`, one.areaAc);
    requireBlendNumber(`p2o5LbPerAc of class ${one.id}`, one.p2o5LbPerAc);
    requireBlendNumber(`k2oLbPerAc of class ${one.id}`, one.k2oLbPerAc);
  }
}

/**
 * lb P2O5/ac placed where a blend of ratio theta is spread so that it costs the class least: either P or K is met exactly.
 * For theta Infinity it is the lb K2O/ac that are placed.
 */
function placed(
  one: BlendClass,
  theta: number,
  weights: BlendWeights,
): { readonly p: number; readonly k: number } {
  if (theta === Number.POSITIVE_INFINITY) return { p: 0, k: one.k2oLbPerAc };
  if (theta === 0) return { p: one.p2o5LbPerAc, k: 0 };
  const met = theta * one.p2o5LbPerAc;
  // A breakpoint is the ratio of a class: both needs are met there, whatever the last digit says.
  if (Math.abs(met - one.k2oLbPerAc) <= 1e-12 * met) return { p: one.p2o5LbPerAc, k: one.k2oLbPerAc };
  const below = met < one.k2oLbPerAc;
  const meetP = below
    ? theta <= weights.overP2o5 / weights.underK2o
    : theta <= weights.underP2o5 / weights.overK2o;
  return meetP ? { p: one.p2o5LbPerAc, k: met } : { p: one.k2oLbPerAc / theta, k: one.k2oLbPerAc };
}

/** What one ratio places on one class, against its need. */
export interface BlendedClass {
  readonly id: string;
  readonly areaAc: number;
  /** lb/ac the blend places. */
  readonly p2o5LbPerAc: number;
  readonly k2oLbPerAc: number;
  /** Placed less needed, lb/ac: above 0 too much, below 0 too little. */
  readonly p2o5OffLbPerAc: number;
  readonly k2oOffLbPerAc: number;
  /** $ of what is off on the whole class. */
  readonly cost: number;
}

/** One class under a blend of ratio theta, lb K2O per lb P2O5. */
export function blendClass(one: BlendClass, theta: number, weights: BlendWeights): BlendedClass {
  const { p, k } = placed(one, theta, weights);
  const offP = p - one.p2o5LbPerAc;
  const offK = k - one.k2oLbPerAc;
  // What is met exactly costs nothing, also where too little has no price (Infinity).
  const worth = (off: number, over: number, under: number): number =>
    off === 0 ? 0 : off > 0 ? off * over : -off * under;
  const perAc =
    worth(offP, weights.overP2o5, weights.underP2o5) + worth(offK, weights.overK2o, weights.underK2o);
  return {
    id: one.id,
    areaAc: one.areaAc,
    p2o5LbPerAc: p,
    k2oLbPerAc: k,
    p2o5OffLbPerAc: offP,
    k2oOffLbPerAc: offK,
    cost: one.areaAc * perAc,
  };
}
