import { sum } from "../numeric/index.ts";
import { coatPercentText, type Plan } from "../plan/index.ts";
import type { Prescription } from "../prescription/index.ts";
import { type Grade, saltPercent } from "../products/index.ts";
import { saltThresholds } from "../split/index.ts";
import { numberText } from "../units/index.ts";
import type { DrawnField } from "./drawn-field.ts";

/** `left bin (L)`, `bin 3`, or the spreader for what is broadcast. */
export function binInWords(map: Prescription): string {
  if (map.pass === "broadcast") return "spreader";
  const side = { L: "left bin (L)", R: "right bin (R)" }[map.bin.toUpperCase()];
  return side ?? `bin ${map.bin}`;
}

/** What the ticket must say of a product, percent: `N 11, P₂O₅ 52, K₂O 0`. */
export function analysisInWords(grade: Grade): string {
  const parts = [
    ["N", grade.n],
    ["P₂O₅", grade.p2o5],
    ["K₂O", grade.k2o],
    ["S", grade.s],
    ["Mg", grade.mg],
    ["Zn", grade.zn],
  ] as const;
  return parts
    .filter(([name, percent], i) => percent > 0 || (i < 3 && name !== "S"))
    .map(([name, percent]) => `${name} ${numberText(percent, percent % 1 === 0 ? 0 : 1)}`)
    .join(", ");
}

/** `, coat: Zn 1`: what the ticket must say besides of what a bin holds in the field, percent; empty without a coat. */
export const coatInWords = ({ care }: DrawnField, bin: string): string =>
  care.riding
    .filter((one) => one.bin === bin)
    .map(({ element, lbPerTon }) => `, coat: ${element} ${coatPercentText(lbPerTon)}`)
    .join("");

/** ` with Zn`: what tells a bin's product from the plain one by its name; empty without a coat. */
export const withCoat = ({ care }: DrawnField, bin: string): string => {
  const elements = care.riding.filter((one) => one.bin === bin).map(({ element }) => element);
  return elements.length === 0 ? "" : ` with ${elements.join(" and ")}`;
};

/** The stem of a map's files, as the display lists it; of a finished pass, that none is written. */
export function stemOf(map: Prescription): string {
  const shapefile = [...map.files.keys()].find((name) => name.endsWith(".shp"));
  return shapefile === undefined ? "finished, no file" : shapefile.replace(/\.shp$/, "");
}

/** Acres that a pass may bring something to: all but the pieces that exclusions keep it off. */
export const openAcres = (field: DrawnField, pass: Prescription["pass"]): number => {
  const { pieces, areaAc } = pass === "strip" ? field.passes : field.swaths;
  return sum(pieces.map(({ keptOff }, k) => (keptOff === true ? 0 : areaAc[k]!)));
};

/** The whole number of steps nearest to a map's mean over so many acres: what to set when the file is refused. */
export const flatRate = (map: Prescription, stepLbPerAc: number, ac: number): number =>
  ac > 0 ? Math.round(map.totalLb / ac / stepLbPerAc) * stepLbPerAc : 0;

export const stepOf = (plan: Plan, map: Prescription): number =>
  map.pass === "strip" ? plan.rig.rateStepLbPerAc : plan.spreader.rateStepLbPerAc;

/** N + K2O + S that the strip files lay, lb/ac of whole field: what salt near the seed is judged by. */
export interface StripSalt {
  readonly least: number;
  readonly mean: number;
  readonly most: number;
  /** Acres above the lower published limit of a band beside the seed. */
  readonly overAc: number;
}

/** Band 2 in. beside and 2 in. below corn seed, heavier soil; the lower of two published limits (second-hand). */
export const BESIDE_SEED_LB_PER_AC: number = saltThresholds.besideOtherLbPerAc;

/**
 * N + K2O + S in the strip of one field, from its maps; `areaAc`: acres that count of each piece of the passes, 0 where it does
 * not; `laidOf`: lb/ac that a map's file lays on a piece, the map's where left out.
 */
export function stripSalt(
  field: DrawnField,
  areaAc: Float64Array = field.passes.areaAc,
  laidOf: (map: Prescription, k: number) => number = (map, k) => map.rateLbPerAc[k]!,
): StripSalt {
  const strip = field.prescriptions.filter((map) => map.pass === "strip");
  const salt = areaAc.map((_, k) =>
    sum(strip.map((map) => (laidOf(map, k) * saltPercent(map.analysis)) / 100)),
  );
  const weighted = sum(salt.map((rate, k) => rate * areaAc[k]!));
  return {
    least: salt.reduce((a, b, k) => (areaAc[k]! > 0 ? Math.min(a, b) : a), Number.POSITIVE_INFINITY),
    mean: weighted / sum(areaAc),
    most: salt.reduce((a, b) => Math.max(a, b), 0),
    overAc: sum(areaAc.filter((_, k) => salt[k]! > BESIDE_SEED_LB_PER_AC)),
  };
}

/** lb N that the field's files bring an acre, strip and broadcast together. */
export const nitrogenLbPerAc = (field: DrawnField): number =>
  sum(field.prescriptions.map((map) => (map.totalLb * map.analysis.n) / 100)) / field.checked.areaAc;
