import { requireNumber } from "../capacity/index.ts";
import type { Notice, Question } from "../errors/index.ts";
import { acres, FT2_PER_AC, numberText } from "../units/index.ts";
import { type SaltThresholds, saltThresholds, sandyInFurrow } from "./salt-thresholds.ts";

/** A strip's rates and where the band lies. */
export interface SaltInput {
  /** `soybean` takes nothing closer than 2 in.; any other crop is judged by the corn limits. */
  readonly crop: string;
  /** Asked; unanswered counts as 40 in., where the limit with the seed is lowest. */
  readonly rowSpacingIn?: number;
  /** Nearest distance of the band to the seed, inches; unanswered counts as in the furrow. */
  readonly separationIn?: number;
  readonly bandDepthIn?: number;
  /** Asked, or by cell from a CEC threshold the user typed; unanswered counts as sandy. */
  readonly texture?: "sandy" | "other";
  readonly cecMeq?: ArrayLike<number>;
  readonly sandyBelowCecMeq?: number;
  /** lb/ac in the strip in cell order (N + K2O + S, `saltPercent` of each product); NaN cells count nothing. */
  readonly saltLbPerAc: ArrayLike<number>;
  readonly nLbPerAc?: ArrayLike<number>;
  readonly p2o5LbPerAc?: ArrayLike<number>;
  readonly k2oLbPerAc?: ArrayLike<number>;
  /** N + K2O + S of a planter starter, lb/ac, and whether it lies where the strip band lies. */
  readonly starterLbPerAc?: number;
  readonly starterSharesPlace?: boolean;
  readonly areaM2?: ArrayLike<number>;
  /** Analyses in the strip. */
  readonly products: readonly string[];
  readonly calcareous?: boolean;
  readonly boronLbPerAc?: number;
  /** Name of the person who took note of the flag above 3 in. */
  readonly acknowledgedBy?: string;
  /** Day of that, YYYY-MM-DD: what came into the plan later was not noted. */
  readonly acknowledgedOn?: string;
  readonly thresholds?: Partial<SaltThresholds>;
}

/** Salt near the seed against the limits of its place. */
export interface SaltLadder {
  readonly place: "in the furrow" | "2 x 2" | "beyond";
  /** Limits of the place, lb/ac; beyond 3 in. those of 2 x 2, where they only raise a flag. */
  readonly sandyLimitLbPerAc: number;
  readonly otherLimitLbPerAc: number;
  /** Whether it is told which soil is sandy; where it is not, all of it counts as sandy. */
  readonly isTextureTold: boolean;
  /** lb/ac above the limit in cell order, 0 at or below. */
  readonly overLbPerAc: Float64Array;
  readonly cellsOver: number;
  readonly areaOverM2: number;
  /** The highest sum, and the same in lb per 1,000 ft of row. */
  readonly highestLbPerAc: number;
  readonly highestLbPer1000Ft: number | null;
  /** True where a limit within 3 in. of the seed is passed: the strip must be cut or moved. */
  readonly blocked: boolean;
  /** True when a sum beyond 3 in. is above the 2 x 2 limit and nobody has taken note by name. */
  readonly needsName: boolean;
  readonly flags: readonly Notice[];
  readonly questions: readonly Question[];
}

/** Feet of row on an acre x 12 / spacing: lb/ac x spacing / 522.72 = lb per 1,000 ft. */
export const lbPer1000Ft = (lbPerAc: number, rowSpacingIn: number): number =>
  (lbPerAc * rowSpacingIn * 1000) / (FT2_PER_AC * 12);

/**
 * Salt near the seed, step by step of distance (ours, over published limits): unknown or under 2 in.: the limit with the
 * seed; 2 to 3 in.: the 2 x 2 limit; more: no block, since no maximum for dry bands was found, but a flag above the 2 x 2
 * limit that somebody acknowledges by name. Throws `number-not-usable`.
 */
export function saltLadder(input: SaltInput): SaltLadder {
  const limits = { ...saltThresholds, ...input.thresholds };
  const place = placeOf(input.separationIn, limits);
  const cap = (sandy: boolean): number => saltLimit(input, sandy, place, limits);
  const { saltLbPerAc, areaM2 } = input;
  const starter =
    input.starterSharesPlace === false ? 0 : requireNumber("starterLbPerAc", input.starterLbPerAc ?? 0);
  const over = new Float64Array(saltLbPerAc.length);
  let cellsOver = 0;
  let areaOverM2 = 0;
  let highest = 0;
  const worst = { total: 0, limit: 0, isSandy: false, excess: 0 };
  for (let i = 0; i < over.length; i++) {
    const total = saltLbPerAc[i]! + starter;
    if (Number.isNaN(total)) continue;
    highest = Math.max(highest, total);
    const limit = cap(isSandy(input, i));
    const excess = total - limit;
    if (excess <= 1e-9) continue;
    if (excess > worst.excess) Object.assign(worst, { total, limit, isSandy: isSandy(input, i), excess });
    over[i] = excess;
    cellsOver++;
    areaOverM2 += areaM2?.[i] ?? 0;
  }
  const blocked = place !== "beyond" && cellsOver > 0;
  const named = (input.acknowledgedBy ?? "").trim() !== "";
  const needsName = place === "beyond" && cellsOver > 0 && !named;
  return {
    place,
    sandyLimitLbPerAc: cap(true),
    otherLimitLbPerAc: cap(false),
    isTextureTold: isTextureTold(input),
    overLbPerAc: over,
    cellsOver,
    areaOverM2,
    highestLbPerAc: highest,
    highestLbPer1000Ft: input.rowSpacingIn === undefined ? null : lbPer1000Ft(highest, input.rowSpacingIn),
    blocked,
    needsName,
    flags: flagsOf(input, place, limits, { worst, areaAc: areaM2 && acres(areaOverM2), named }),
    questions: questionsOf(input),
  };
}

/** The cap of N + K2O + S for the split, lb/ac; null beyond 3 in., where nothing is capped. */
export function saltCap(input: Omit<SaltInput, "saltLbPerAc" | "products">, sandy: boolean): number | null {
  const limits = { ...saltThresholds, ...input.thresholds };
  const place = placeOf(input.separationIn, limits);
  const starter = input.starterSharesPlace === false ? 0 : (input.starterLbPerAc ?? 0);
  return place === "beyond" ? null : Math.max(0, saltLimit(input, sandy, place, limits) - starter);
}

function placeOf(separationIn: number | undefined, limits: SaltThresholds): SaltLadder["place"] {
  if (separationIn === undefined) return "in the furrow";
  requireNumber("separationIn", separationIn);
  if (separationIn < limits.furrowIn) return "in the furrow";
  return separationIn <= limits.besideIn ? "2 x 2" : "beyond";
}

function saltLimit(
  input: Pick<SaltInput, "crop" | "rowSpacingIn">,
  sandy: boolean,
  place: SaltLadder["place"],
  limits: SaltThresholds,
): number {
  if (place !== "in the furrow") return sandy ? limits.besideSandyLbPerAc : limits.besideOtherLbPerAc;
  if (input.crop === "soybean") return 0;
  const row = requireNumber("rowSpacingIn", input.rowSpacingIn ?? 40, { above: 0 });
  return sandy
    ? Math.min(limits.inFurrowSandyLbPerAc, sandyInFurrow(row))
    : Math.min(limits.inFurrowOtherLbPerAc, limits.inFurrowLbIn / row);
}

function isSandy({ texture, cecMeq, sandyBelowCecMeq }: SaltInput, i: number): boolean {
  if (texture !== undefined) return texture === "sandy";
  const cec = cecMeq?.[i];
  // Nothing known of the cell: the lower limit.
  if (sandyBelowCecMeq === undefined || cec === undefined || Number.isNaN(cec)) return true;
  return cec < sandyBelowCecMeq;
}

interface Found {
  /** Where a limit is passed by most; excess 0 where none is. */
  readonly worst: {
    readonly total: number;
    readonly limit: number;
    readonly isSandy: boolean;
    readonly excess: number;
  };
  /** Acres above their limit, where the ground's area is known. */
  readonly areaAc: number | undefined;
  readonly named: boolean;
}

/** Acres below which a limit passed is not told within 3 in.: the sheets print them as none. */
const LEAST_AC = 0.05;

const isTextureTold = ({ texture, sandyBelowCecMeq }: SaltInput): boolean =>
  texture !== undefined || sandyBelowCecMeq !== undefined;

function flagsOf(
  input: SaltInput,
  place: SaltLadder["place"],
  limits: SaltThresholds,
  found: Found,
): Notice[] {
  const { crop, products, calcareous, boronLbPerAc = 0, rowSpacingIn } = input;
  const flags: Notice[] = [];
  const flag = (code: string, message: string): void => {
    flags.push({ code, message, where: "strip" });
  };
  const { total, limit, isSandy: onSandy, excess } = found.worst;
  // Soil of which nothing is known counts as sandy, and is not called so.
  const isKnown = isTextureTold(input);
  const row =
    rowSpacingIn === undefined
      ? ""
      : `, ${lbPer1000Ft(total, rowSpacingIn).toFixed(2)} lb per 1,000 ft of row`;
  const sum = `N + K2O + S reaches ${total.toFixed(1)} lb/ac${onSandy && isKnown ? " on sandy soil" : ""}${row}`;
  const limitText = numberText(limit, 1).replace(/\.0$/, "");
  const ground = found.areaAc === undefined ? "" : ` on ${numberText(found.areaAc, 1)} ac`;
  if (excess > 0 && place !== "beyond" && !((found.areaAc ?? LEAST_AC) < LEAST_AC)) {
    flag(
      "salt-over-limit",
      `${sum}, over the limit of ${limitText} there (${place})${ground}: move it to broadcast or place the band farther from the seed; where the strip is cut to the limit already, steps of its rates pass it (make them finer), or stretches that each bin's meter follows by itself (take a rate for every segment)`,
    );
  }
  if (excess > 0 && place === "beyond") {
    const taken = found.named
      ? `; ${input.acknowledgedBy} took note${input.acknowledgedOn === undefined ? "" : ` on ${input.acknowledgedOn}, of the plan as it was then`}`
      : "; somebody must take note of it by name";
    flag(
      "salt-over-2x2-beyond",
      `${sum}, above the 2 x 2 limit of ${limitText}${ground}; no maximum for dry bands is published${taken}`,
    );
  }
  if (products.includes("46-0-0"))
    flag("urea-near-seed", "urea sets ammonia free: never with the seed, keep it away from the row");
  if (products.includes("18-46-0"))
    flag("dap-near-seed", "18-46-0 sets ammonia free, most on soil of high pH: keep it away from the seed");
  if (products.includes("21-0-0-24S") && calcareous !== false) {
    const known =
      calcareous === true ? "the soil is calcareous" : "whether the soil is calcareous was not answered";
    flag("ams-on-calcareous", `21-0-0-24S loses ammonia on calcareous soil, and ${known}`);
  }
  if (boronLbPerAc > 0 && place !== "beyond")
    flag("boron-near-seed", `${boronLbPerAc} lb/ac boron within 3 in. of the seed: broadcast it`);
  if (place === "2 x 2") singleCaps(input, crop === "soybean", limits, flag);
  return flags;
}

function singleCaps(
  input: SaltInput,
  soybean: boolean,
  limits: SaltThresholds,
  flag: (code: string, message: string) => void,
): void {
  const most = (rates: ArrayLike<number> | undefined): number => {
    let highest = 0;
    for (let i = 0; i < (rates?.length ?? 0); i++) if (rates![i]! > highest) highest = rates![i]!;
    return highest;
  };
  const caps: readonly (readonly [string, number, number])[] = [
    ["N", most(input.nLbPerAc), soybean ? Number.POSITIVE_INFINITY : limits.cornNLbPerAc],
    ["P2O5", most(input.p2o5LbPerAc), soybean ? limits.soybeanP2o5LbPerAc : limits.cornP2o5LbPerAc],
    ["K2O", most(input.k2oLbPerAc), soybean ? limits.soybeanK2oLbPerAc : limits.cornK2oLbPerAc],
  ];
  for (const [what, highest, cap] of caps) {
    if (highest > cap)
      flag("over-single-cap", `${what} reaches ${highest.toFixed(1)} lb/ac in a 2 x 2 band, over ${cap}`);
  }
}

function questionsOf(input: SaltInput): Question[] {
  const asked: Question[] = [];
  const ask = (key: string, text: string, seen: string, choices: readonly string[] = []): void => {
    asked.push({ key, text, choices, seen });
  };
  if (input.rowSpacingIn === undefined)
    ask("row-spacing-in", "What is the row spacing, inches?", "no row spacing; 40 in. counts");
  if (input.bandDepthIn === undefined)
    ask("band-depth-in", "How deep does the band lie, inches?", "no band depth");
  if (input.separationIn === undefined) {
    ask(
      "seed-distance-in",
      "How far is the band from the seed, inches?",
      "no distance; the limit with the seed counts",
    );
  }
  if (input.texture === undefined && input.sandyBelowCecMeq === undefined) {
    ask("soil-texture", "Is the soil sandy?", "no texture and no CEC threshold; sandy counts", [
      "sandy",
      "other",
    ]);
  }
  return asked;
}
