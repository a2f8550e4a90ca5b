import type { Notice } from "../../errors/index.ts";
import { sum } from "../../numeric/index.ts";
import { meanOver, type Prescription } from "../../prescription/index.ts";
import { micronutrientAlong, saltPercent } from "../../products/index.ts";
import { type SaltLadder, saltLadder } from "../../split/index.ts";
import { acres, squareMetres } from "../../units/index.ts";
import type { Plan, PlanField } from "../document/document-types.ts";
import type { FieldProducts } from "../document/field-products.ts";
import { saltTerms } from "../rig/strip-limits.ts";
import type { Pieces } from "./drive-result-types.ts";

/** Salt near the seed by the strip files as written. */
export interface FieldSalt extends Omit<SaltLadder, "overLbPerAc" | "cellsOver" | "areaOverM2"> {
  /** Whether the plan says anything of the seed. */
  readonly told: boolean;
  readonly meanLbPerAc: number;
  readonly overAc: number;
  /** N + K2O + S in a planter starter that counts in it. */
  readonly starterLbPerAc: number;
  readonly acknowledgedBy: string | null;
  /** What was noted by name where it was not these maps; null where nobody noted any, or where it holds for these. */
  readonly notedFor: NotedSalt | null;
}

/** Salt that somebody took note of by name. */
export interface NotedSalt {
  readonly by: string;
  readonly products: readonly string[];
  readonly highestLbPerAc: number;
}

/** Acres of the pieces, 0 where they do not count, and the soil cells that they lie over. */
export type CareGround = Pick<Pieces, "areaAc" | "overlaps">;

/** A micronutrient that rides on what a bin holds. */
export interface RidingMicronutrient {
  readonly bin: string;
  readonly element: "Zn" | "B" | "Mn" | "Cu";
  readonly lbPerTon: number;
  /** Where it goes at all, lb/ac; null where it goes nowhere. */
  readonly lowLbPerAc: number | null;
  readonly highLbPerAc: number | null;
  readonly totalLb: number;
  readonly acresMissed: number;
  readonly wantedLbPerAc: number | null;
  readonly acresBelowWanted: number;
}

/** What can hurt, or be missed, beside the pounds. */
export interface FieldCare {
  readonly salt: FieldSalt;
  readonly riding: readonly RidingMicronutrient[];
}

/** Salt and micronutrients of a field, from its strip files. */
export function fieldCare(
  plan: Plan,
  field: PlanField,
  laid: FieldProducts,
  passes: CareGround,
  maps: readonly Prescription[],
  cecMeq: Float64Array | undefined,
): FieldCare {
  const strip = maps.filter((map) => map.pass === "strip");
  const riding = ridingOf(laid, passes, strip);
  return { salt: saltOf(plan, field, laid, passes, strip, cecMeq, riding), riding };
}

function ridingOf(
  laid: FieldProducts,
  passes: CareGround,
  strip: readonly Prescription[],
): RidingMicronutrient[] {
  const areaM2 = passes.areaAc.map(squareMetres);
  return laid.bins.flatMap(({ bin, product }) => {
    // Another product in the bin has no such coat.
    const map = strip.find((one) => one.bin === bin.id && one.product === product.id);
    if (map === undefined) return [];
    return (bin.coated ?? []).map(({ element, lbPerTon, wantedLbPerAc }): RidingMicronutrient => {
      const along = micronutrientAlong({ element, lbPerTon }, map.rateLbPerAc, areaM2, wantedLbPerAc);
      const known = (value: number): number | null => (Number.isNaN(value) ? null : value);
      return {
        bin: bin.id,
        element,
        lbPerTon,
        lowLbPerAc: known(along.lowLbPerAc),
        highLbPerAc: known(along.highLbPerAc),
        totalLb: along.totalLb,
        acresMissed: along.acresMissed,
        wantedLbPerAc: wantedLbPerAc ?? null,
        acresBelowWanted: wantedLbPerAc === undefined ? 0 : along.acresBelowWanted,
      };
    });
  });
}

function saltOf(
  plan: Plan,
  field: PlanField,
  laid: FieldProducts,
  passes: CareGround,
  strip: readonly Prescription[],
  cecMeq: Float64Array | undefined,
  riding: readonly RidingMicronutrient[],
): FieldSalt {
  const ofMaps = new Float64Array(strip.length);
  const onPieces = (percent: (analysis: Prescription["analysis"]) => number): Float64Array => {
    const lbPerAc = new Float64Array(passes.areaAc.length);
    for (let k = 0; k < lbPerAc.length; k++) {
      for (let m = 0; m < ofMaps.length; m++) {
        const map = strip[m]!;
        ofMaps[m] = (map.rateLbPerAc[k]! * percent(map.analysis)) / 100;
      }
      lbPerAc[k] = sum(ofMaps);
    }
    return lbPerAc;
  };
  const saltLbPerAc = onPieces(saltPercent);
  const boron = Math.max(
    0,
    ...riding.filter(({ element }) => element === "B").map((one) => one.highLbPerAc ?? 0),
  );
  const terms = saltTerms(plan, field, cecMeq && meanOver(passes.overlaps, cecMeq));
  const ladder = saltLadder({
    ...terms,
    boronLbPerAc: (terms.boronLbPerAc ?? 0) + boron,
    saltLbPerAc,
    nLbPerAc: onPieces(({ n }) => n),
    p2o5LbPerAc: onPieces(({ p2o5 }) => p2o5),
    k2oLbPerAc: onPieces(({ k2o }) => k2o),
    areaM2: passes.areaAc.map(squareMetres),
    products: strip.filter((map) => map.maxLbPerAc > 0).flatMap((map) => partsLaid(laid, map.product)),
  });
  const { overLbPerAc: _, cellsOver: __, areaOverM2, flags, ...rest } = ladder;
  const starter = terms.starterSharesPlace === false ? 0 : (terms.starterLbPerAc ?? 0);
  return {
    ...rest,
    flags: flags.map((flag) => ({ ...flag, where: field.id })),
    told: plan.seed !== undefined,
    meanLbPerAc: starter + sum(saltLbPerAc.map((rate, k) => rate * passes.areaAc[k]!)) / sum(passes.areaAc),
    overAc: acres(areaOverM2),
    starterLbPerAc: starter,
    acknowledgedBy: plan.seed?.acknowledged?.by ?? null,
    notedFor: null,
  };
}

const partsLaid = (laid: FieldProducts, product: string): readonly string[] =>
  laid.bins.find((one) => one.product.id === product)?.blend?.blend.of ?? [product];

/** Flags of a field as notices: where the plan says nothing of the seed the sheets show them, and the plan says so once. */
export const careNotices = (field: PlanField, { salt, riding }: FieldCare): Notice[] => [
  ...(salt.told ? salt.flags.map((flag) => ({ ...flag, message: `${field.name}: ${flag.message}` })) : []),
  ...riding
    .filter((one) => one.acresMissed > 0.05 || one.acresBelowWanted > 0.05)
    .map((one) => ({
      code: "micronutrient-missed",
      message: `${field.name}: ${one.element} rides on bin ${one.bin}, ${span(one)}; ${one.acresMissed.toFixed(1)} ac get none${one.wantedLbPerAc === null ? "" : `, ${one.acresBelowWanted.toFixed(1)} ac less than the ${one.wantedLbPerAc} lb/ac wanted`}`,
      where: field.id,
    })),
];

const span = ({ lowLbPerAc, highLbPerAc }: RidingMicronutrient): string =>
  lowLbPerAc === null
    ? "laid nowhere"
    : `${lowLbPerAc.toFixed(2)} to ${highLbPerAc!.toFixed(2)} lb/ac where it goes`;

/** What is to be minded where the spreader comes in the crop, without a full stop. */
export const IN_CROP_CARE =
  "dry fertilizer on wet leaves burns, the wheels run plants down, and what lies on top feeds this crop little (common practice)";

/** What the plan as a whole must be told about the seed and the spreader. */
export function carePlanNotices(plan: Plan, fields: readonly { readonly care: FieldCare }[]): Notice[] {
  const over = sum(fields.map(({ care }) => care.salt.overAc));
  const notices: Notice[] = [];
  if (plan.seed === undefined) {
    notices.push({
      code: "seed-not-told",
      message: `how far the band lies from the seed is not told, so the limit with the seed counts, the lowest there is: N + K2O + S is above it on ${over.toFixed(0)} ac${fields.length > 1 ? " of all fields together" : ""}; give seed.distanceIn`,
      where: "seed",
    });
  }
  if (plan.split.broadcastWhen === "in-crop") {
    notices.push({
      code: "broadcast-in-crop",
      message: `broadcast in the crop: ${IN_CROP_CARE}`,
      where: "split.broadcastWhen",
    });
  }
  return notices;
}
