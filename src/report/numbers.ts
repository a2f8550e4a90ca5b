import {
  KG_PER_HA_PER_LB_PER_AC,
  KG_PER_LB,
  M_PER_FT,
  M2_PER_HA,
  numberText,
  squareMetres,
  tons,
} from "../units/index.ts";

/** Units of what is shown; what is stored and written never changes. */
export type UnitSystem = "us" | "metric";

/** Names of the units shown. */
export interface UnitWords {
  readonly mass: string;
  readonly heavy: string;
  readonly area: string;
  readonly rate: string;
  readonly length: string;
}

const words: Readonly<Record<UnitSystem, UnitWords>> = {
  us: { mass: "lb", heavy: "tons", area: "ac", rate: "lb/ac", length: "ft" },
  metric: { mass: "kg", heavy: "t", area: "ha", rate: "kg/ha", length: "m" },
};

/** Unit names of a system. */
export const unitWords = (system: UnitSystem = "us"): UnitWords => words[system];

/** Kilograms from pounds in the metric system. */
export const massIn = (lb: number, system: UnitSystem): number => (system === "us" ? lb : lb * KG_PER_LB);

/** Hours and minutes: 2.5 hours as 2:30. */
export function hourText(hours: number): string {
  const minutes = Math.round(60 * hours);
  return `${Math.floor(minutes / 60)}:${String(minutes % 60).padStart(2, "0")}`;
}

/** Pounds (kg), whole. */
export const lbText = (lb: number, system: UnitSystem = "us"): string => numberText(massIn(lb, system), 0);

/** Short tons (tonnes) from pounds. */
export const tonsText = (lb: number, system: UnitSystem = "us", decimals = 1): string =>
  numberText(system === "us" ? tons(lb) : massIn(lb, system) / 1_000, decimals);

/** Hectares from acres in the metric system. */
export const areaIn = (areaAc: number, system: UnitSystem): number =>
  system === "us" ? areaAc : squareMetres(areaAc) / M2_PER_HA;

/** Acres (hectares), to a tenth. */
export const acresText = (areaAc: number, system: UnitSystem = "us", decimals = 1): string =>
  numberText(areaIn(areaAc, system), decimals);

/** kg/ha from lb/ac in the metric system. */
export const rateIn = (lbPerAc: number, system: UnitSystem): number =>
  system === "us" ? lbPerAc : lbPerAc * KG_PER_HA_PER_LB_PER_AC;

/** lb/ac (kg/ha). */
export const rateText = (lbPerAc: number, system: UnitSystem = "us", decimals = 0): string =>
  numberText(rateIn(lbPerAc, system), decimals);

/** Feet from metres in the US system. */
export const lengthIn = (metres: number, system: UnitSystem): number =>
  system === "us" ? metres / M_PER_FT : metres;

/** Feet of a machine to a tenth where they are not whole: `20`, `27.5`. */
export const feetText = (ft: number): string => numberText(ft, 1).replace(/\.0$/, "");

/** Whole feet (metres). */
export const lengthText = (metres: number, system: UnitSystem = "us"): string =>
  numberText(lengthIn(metres, system), 0);

/** Whole dollars. */
export const usdText = (usd: number): string => `$${numberText(usd, 0)}`;
