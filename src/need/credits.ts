import type { Nutrient } from "../agronomy/index.ts";
import { InputError, type Notice } from "../errors/index.ts";

/** Manure, starter or other nutrients that reach the field beside this plan's products. */
export interface Credit {
  readonly name: string;
  readonly kind: "manure" | "starter" | "other";
  /** YYYY-MM-DD. */
  readonly date: string;
  /** Available in the crop year, lb oxide/ac; one number, or one a cell. */
  readonly p2o5LbPerAc: number | Float64Array;
  readonly k2oLbPerAc: number | Float64Array;
}

/** The year in which credits count, both days included, YYYY-MM-DD. */
export interface CropYear {
  readonly from: string;
  readonly to: string;
}

/** Whether a credit of that day counts. */
export const isInCropYear = ({ from, to }: CropYear, date: string): boolean => date >= from && date <= to;

interface CreditedNeed {
  readonly lbPerAc: Float64Array;
  /** What credits bring beyond the need, cell by cell: never lost from sight. */
  readonly beyondNeedLbPerAc: Float64Array;
  readonly notices: readonly Notice[];
}

/**
 * A need less the credits of its crop year not below zero; NaN stays
 * NaN. A credit outside the crop year is not counted and raises a notice. Throws `credit-not-usable`.
 */
export function needAfterCredits(
  nutrient: Nutrient,
  lbPerAc: Float64Array,
  credits: readonly Credit[],
  cropYear: CropYear,
): CreditedNeed {
  const notices: Notice[] = [];
  const credited = new Float64Array(lbPerAc.length);
  for (const credit of credits) {
    const amount = nutrient === "P2O5" ? credit.p2o5LbPerAc : credit.k2oLbPerAc;
    const bad = (typeof amount === "number" ? [amount] : [...amount]).find((value) => !(value >= 0));
    if (bad !== undefined) {
      throw new InputError(
        "credit-not-usable",
        `credit ${credit.name} of ${credit.date}: ${bad} lb ${nutrient}/ac is not from 0 up`,
        "Give what is available to the crop, lb oxide/ac.",
      );
    }
    if (!isInCropYear(cropYear, credit.date)) {
      notices.push({
        code: "credit-outside-crop-year",
        message: `${credit.kind} ${credit.name} of ${credit.date} lies outside the crop year ${cropYear.from} to ${cropYear.to} and is not counted`,
        where: credit.name,
      });
      continue;
    }
    for (let i = 0; i < credited.length; i++) {
      credited[i] = credited[i]! + (typeof amount === "number" ? amount : amount[i]!);
    }
  }
  const after = new Float64Array(lbPerAc.length);
  const beyond = new Float64Array(lbPerAc.length);
  // Of NaN the larger is NaN.
  for (let i = 0; i < after.length; i++) {
    after[i] = Math.max(0, lbPerAc[i]! - credited[i]!);
    beyond[i] = Math.max(0, credited[i]! - lbPerAc[i]!);
  }
  return { lbPerAc: after, beyondNeedLbPerAc: beyond, notices };
}
