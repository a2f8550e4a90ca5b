import type { Notice } from "../errors/index.ts";
import { sum } from "../numeric/index.ts";
import { acres } from "../units/index.ts";

interface SoilFacts {
  readonly areaM2: Float64Array;
  readonly pMethod: string;
  /** Cell by cell, NaN where not known; left out when the samples have none. */
  readonly ph?: Float64Array;
  readonly cecMeq?: Float64Array;
  /** Crop years the potash of this plan is meant to cover. */
  readonly potashYears: number;
}

/** From this pH soil is taken as calcareous (common practice). */
const CALCAREOUS_PH = 7.4;
/** Up to this CEC, meq/100 g, potash is better given every year (common practice). */
const LIGHT_CEC = 5;

/** What soil chemistry says against the method or the timing; nothing where there is nothing to say. */
export function soilNotices(facts: SoilFacts): Notice[] {
  const notices: Notice[] = [];
  const acresWhere = (values: Float64Array, test: (value: number) => boolean): number =>
    sum(facts.areaM2.map((area, i) => (test(values[i]!) ? acres(area) : 0)));
  if (facts.ph !== undefined) {
    const calcareous = acresWhere(facts.ph, (ph) => ph >= CALCAREOUS_PH);
    if (facts.pMethod === "bray-p1" && calcareous > 0) {
      notices.push({
        code: "bray-p1-on-calcareous-soil",
        message: `${calcareous.toFixed(1)} ac have pH ${CALCAREOUS_PH} or more; Bray P1 can read far too low on calcareous soil, Olsen is made for it`,
        where: "P",
      });
    }
    notices.push({
      code: "no-lime-recommendation",
      message: "pH is read and shown; this tool makes no lime recommendation",
      where: "pH",
    });
  }
  if (facts.cecMeq !== undefined && facts.potashYears > 1) {
    const light = acresWhere(facts.cecMeq, (cec) => cec <= LIGHT_CEC);
    if (light > 0) {
      notices.push({
        code: "low-cec-under-two-year-potash",
        message: `${light.toFixed(1)} ac have a CEC of ${LIGHT_CEC} or less and get potash for ${facts.potashYears} years at once; light soil holds little of it, yearly rates are safer`,
        where: "K",
      });
    }
  }
  return notices;
}
