import { additionCountsOf, buildUpYearsOf, type Guide, type Nutrient } from "../agronomy/index.ts";
import { type Notice, QuestionError } from "../errors/index.ts";
import {
  type NutrientNeedInputs,
  type NutrientNeeds,
  needOfNutrient,
  withoutRepeats,
} from "./need-of-nutrient.ts";

/** One crop of an application made for several. */
export interface CropOfApplication {
  readonly crop: string;
  readonly yieldBuPerAc: number | Float64Array;
  readonly residueLbPerAc?: number;
}

/**
 * The need of one application made for several crops in a row: the yearly needs added up, cell by cell.
 * Where the guide has a flat addition and does not say how it counts, `additionCounts` must.
 * Throws `QuestionError` (`addition-counts`) and what `needOfNutrient` throws.
 */
export function needForCrops(
  guide: Guide,
  nutrient: Nutrient,
  crops: readonly CropOfApplication[],
  shared: Omit<NutrientNeedInputs, "crop" | "yieldBuPerAc" | "residueLbPerAc" | "withAddition">,
  tests: Float64Array,
  cecMeq?: Float64Array,
  additionCounts?: "per crop" | "per application",
): NutrientNeeds {
  const counts = crops.map((crop) => additionCountsOf(guide, crop.crop, nutrient));
  const isOpen = crops.length > 1 && counts.includes("not stated") && additionCounts === undefined;
  if (isOpen) {
    throw new QuestionError([
      {
        key: "addition-counts",
        text: `Does the flat ${nutrient} addition of ${guide.title} count once a crop or once an application?`,
        choices: ["per crop", "per application"],
        seen: `one application for ${crops.map((crop) => crop.crop).join(" and ")}; the text read does not say`,
      },
    ]);
  }
  const total = new Float64Array(tests.length);
  const notices: Notice[] = [];
  let years = 0;
  crops.forEach((crop, index) => {
    const counted = counts[index] === "not stated" ? additionCounts : counts[index];
    const need = needOfNutrient(
      guide,
      nutrient,
      { ...shared, ...crop, withAddition: index === 0 || counted !== "per application" },
      tests,
      cecMeq,
    );
    for (let i = 0; i < total.length; i++) total[i] = total[i]! + need.lbPerAc[i]!;
    notices.push(...need.notices);
    years += need.yearsCovered;
  });
  if (crops.length > 1) {
    if (counts.some((count) => count !== undefined)) {
      const used = counts[0] === "not stated" ? additionCounts : counts[0];
      notices.push({
        code: "addition-counted",
        message: `the flat ${nutrient} addition of ${guide.title} is counted ${used} in this application for ${crops.length} crops`,
        where: guide.id,
      });
    }
    if (buildUpYearsOf(guide, shared.options ?? {}) !== undefined && shared.buildUp !== false) {
      notices.push({
        code: "build-up-of-several-years",
        message: `${years} yearly shares of the raise go on at once; ${guide.title} means one share every year`,
        where: guide.id,
      });
    }
  }
  return { lbPerAc: total, notices: withoutRepeats(notices), yearsCovered: years };
}
