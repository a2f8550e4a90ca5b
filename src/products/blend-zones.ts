import { InputError } from "../errors/index.ts";

/** Land with one need of P and K; lb oxide per acre of the whole field. */
export interface BlendZone {
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

/** lb K2O a pound of P2O5 a zone wants; Infinity without P, NaN without either. */
export const zoneRatio = (zone: BlendZone): number => zone.k2oLbPerAc / zone.p2o5LbPerAc;

/** Passes a number from 0 up through. Throws `number-not-usable` with its name. */
export function requireBlendNumber(name: string, value: number, above = false): number {
  if (Number.isFinite(value) && (above ? value > 0 : value >= 0)) return value;
  throw new InputError(
    "number-not-usable",
    `${name} is ${value}`,
    `Give ${name} as a number ${above ? "above 0" : "from 0 up"}.`,
  );
}

export function checkZones(zones: readonly BlendZone[]): void {
  for (const zone of zones) {
    requireBlendNumber(`areaAc of zone ${zone.id}`, zone.areaAc);
    requireBlendNumber(`p2o5LbPerAc of zone ${zone.id}`, zone.p2o5LbPerAc);
    requireBlendNumber(`k2oLbPerAc of zone ${zone.id}`, zone.k2oLbPerAc);
  }
}

/**
 * lb P2O5/ac placed where a blend of ratio theta is spread so that it costs the zone least: either P or K is met exactly.
 * For theta Infinity it is the lb K2O/ac that are placed.
 */
function placed(
  zone: BlendZone,
  theta: number,
  weights: BlendWeights,
): { readonly p: number; readonly k: number } {
  if (theta === Number.POSITIVE_INFINITY) return { p: 0, k: zone.k2oLbPerAc };
  if (theta === 0) return { p: zone.p2o5LbPerAc, k: 0 };
  const met = theta * zone.p2o5LbPerAc;
  // A breakpoint is the ratio of a zone: both needs are met there, whatever the last digit says.
  if (Math.abs(met - zone.k2oLbPerAc) <= 1e-12 * met) return { p: zone.p2o5LbPerAc, k: zone.k2oLbPerAc };
  const below = met < zone.k2oLbPerAc;
  const meetP = below
    ? theta <= weights.overP2o5 / weights.underK2o
    : theta <= weights.underP2o5 / weights.overK2o;
  return meetP ? { p: zone.p2o5LbPerAc, k: met } : { p: zone.k2oLbPerAc / theta, k: zone.k2oLbPerAc };
}

/** What one ratio places on one zone, against its need. */
export interface BlendedZone {
  readonly id: string;
  readonly areaAc: number;
  /** lb/ac the blend places. */
  readonly p2o5LbPerAc: number;
  readonly k2oLbPerAc: number;
  /** Placed less needed, lb/ac: above 0 too much, below 0 too little. */
  readonly p2o5OffLbPerAc: number;
  readonly k2oOffLbPerAc: number;
  /** $ of what is off on the whole zone. */
  readonly cost: number;
}

/** One zone under a blend of ratio theta, lb K2O per lb P2O5. */
export function blendZone(zone: BlendZone, theta: number, weights: BlendWeights): BlendedZone {
  const { p, k } = placed(zone, theta, weights);
  const offP = p - zone.p2o5LbPerAc;
  const offK = k - zone.k2oLbPerAc;
  // What is met exactly costs nothing, also where too little has no price (Infinity).
  const worth = (off: number, over: number, under: number): number =>
    off === 0 ? 0 : off > 0 ? off * over : -off * under;
  const perAc =
    worth(offP, weights.overP2o5, weights.underP2o5) + worth(offK, weights.overK2o, weights.underK2o);
  return {
    id: zone.id,
    areaAc: zone.areaAc,
    p2o5LbPerAc: p,
    k2oLbPerAc: k,
    p2o5OffLbPerAc: offP,
    k2oOffLbPerAc: offK,
    cost: zone.areaAc * perAc,
  };
}
