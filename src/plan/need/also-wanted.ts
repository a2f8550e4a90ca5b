import { type CropYear, isInCropYear } from "../../need/index.ts";
import { sum } from "../../numeric/index.ts";
import type { Prescription } from "../../prescription/index.ts";
import type { PlanField } from "../document/document-types.ts";
import type { RidingMicronutrient } from "../results/field-care.ts";
import type { AlsoWanted } from "../results/need-result-types.ts";

/** Which part of a product's analysis each is. */
const GRADE = { N: "n", S: "s", Zn: "zn" } as const;

/**
 * Nitrogen, sulfur and zinc of a field: what the plan wants flat, what comes along with the products as placed, and
 * what credits of the crop year bring. One that nobody wants and nothing brings is left out.
 */
export function alsoWanted(
  field: PlanField,
  areaAc: number,
  cropYear: CropYear,
  placed: readonly Prescription[],
  riding: readonly RidingMicronutrient[] = [],
): AlsoWanted[] {
  return (["N", "S", "Zn"] as const).flatMap((nutrient) => {
    const flat = field.alsoWantedLbPerAc?.[nutrient];
    const alongLb =
      sum(placed.map((map) => (map.totalLb * map.analysis[GRADE[nutrient]]) / 100)) +
      sum(riding.filter(({ element }) => element === nutrient).map((one) => one.totalLb));
    const counted = (field.credits ?? []).filter(({ date }) => isInCropYear(cropYear, date));
    const creditsLb = areaAc * sum(counted.map((credit) => credit.lbPerAc[nutrient] ?? 0));
    if (flat === undefined && alongLb === 0 && creditsLb === 0) return [];
    const wantedLb = flat === undefined ? null : flat * areaAc;
    const gap = wantedLb === null ? null : wantedLb - alongLb - creditsLb;
    return [
      {
        nutrient,
        wantedLb,
        alongLb,
        creditsLb,
        leftLb: gap && Math.max(0, gap),
        beyondLb: gap && Math.max(0, -gap),
      },
    ];
  });
}
