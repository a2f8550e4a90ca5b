import {
  elementOf,
  type Nutrient,
  type ReadyRule,
  readyRule,
  type TestReading,
  testMethodFrom,
} from "../../agronomy/index.ts";
import { InputError, type Notice } from "../../errors/index.ts";
import {
  type BuildUpYear,
  buildUpYear,
  type CoveringApplication,
  type CropOfApplication,
  type NutrientNeeds,
  needAfterCover,
  needForCrops,
} from "../../need/index.ts";
import type { Answers } from "../document/answers.ts";
import type { PlanField } from "../document/document-types.ts";
import type { PlanNeedSlice } from "../document/need-slice.ts";
import { seasonOf } from "../document/season-of-date.ts";
import type { Cover } from "../results/need-result-types.ts";
import type { CheckedField } from "../results/result-types.ts";
import { type FieldGuide, fieldGuide } from "./field-guide.ts";

/** The rule of one nutrient in one field: guide, crops of the application, test, build-up, cover. */
export interface FieldRule extends FieldGuide {
  readonly nutrient: Nutrient;
  readonly reading: TestReading;
  readonly crops: readonly CropOfApplication[];
  readonly secondYieldBuPerAc: number | undefined;
  /** How the guide's flat addition counts over several crops; undefined where nobody had to say. */
  readonly additionCounts: "per crop" | "per application" | undefined;
  /** One a crop, in their order. */
  readonly ready: readonly ReadyRule[];
  /** Of the season's own crop. */
  readonly first: ReadyRule;
  readonly buildUp: BuildUpYear | undefined;
  /** Season through which an earlier application still covers this one; undefined when none does. */
  readonly covered: number | undefined;
  /** Need at a test in the unit of the reading, lb oxide/ac; zero where the season is covered. */
  rate(test: number, cecMeq: number, cell: number): number;
  /** Need of all cells with what is to be said about it. Throws what `needForCrops` throws. */
  needOver(tests: Float64Array, cecMeq: Float64Array | undefined): NutrientNeeds;
  coverOf(yearsCovered: number): Cover;
}

/**
 * Makes the rule ready. Throws what `readyRule` and `fieldGuide` throw; a test that the guide does not take says which
 * keys of the plan lead through.
 */
export function fieldRule(
  slice: PlanNeedSlice,
  field: PlanField,
  nutrient: Nutrient,
  checked: CheckedField,
  yields: number | Float64Array,
  answers: Answers,
): FieldRule {
  const base = fieldGuide(field, nutrient, slice.ownGuides, slice.guides);
  const { guide, options, check } = base;
  const asked = field.nutrients?.[nutrient];
  const test = elementOf(nutrient);
  const reading = readingOf(field, nutrient, checked);
  const crops = cropsOf(field, nutrient, base.crop, yields);
  const buildUp = buildUpYear(
    guide,
    firstSeason(slice, field, test, checked) ?? slice.seasonYear,
    slice.seasonYear,
    options,
  );
  const shared = {
    reading,
    options,
    buildUp: buildUp?.isOver !== true,
    ...(field.secondYieldBuPerAc === undefined ? {} : { secondYieldBuPerAc: field.secondYieldBuPerAc }),
  };
  const counts = asked?.additionCounts ?? additionAnswer(answers);
  const ready = withWaysThrough(field, nutrient, () =>
    crops.map((crop, i) =>
      readyRule(guide, {
        ...shared,
        nutrient,
        crop: crop.crop,
        residueLbPerAc: crop.residueLbPerAc ?? 0,
        withAddition: i === 0 || counts !== "per application",
      }),
    ),
  );
  const first = ready[0]!;
  const earlier: readonly CoveringApplication[] = field.earlier ?? [];
  const cover = needAfterCover(nutrient, new Float64Array(0), slice.seasonYear, earlier);
  const covered = cover.notices.length > 0 ? cover.coveredThrough : undefined;
  const rate = (value: number, cec: number, cell: number): number => {
    let total = 0;
    for (let i = 0; i < ready.length; i++) {
      const { rule, test } = ready[i]!;
      const bu = crops[i]!.yieldBuPerAc;
      total += rule.rate(test.toGuideTest(value), cec, typeof bu === "number" ? bu : bu[cell]!);
    }
    return covered === undefined || Number.isNaN(total) ? total : 0;
  };
  return {
    ...base,
    nutrient,
    reading,
    crops,
    secondYieldBuPerAc: field.secondYieldBuPerAc,
    additionCounts: counts,
    ready,
    first,
    buildUp,
    covered,
    rate,
    needOver: (tests, cec) => {
      const confirmed = check?.confirmed ? { confirmation: check.confirmed } : {};
      const need = needForCrops(guide, nutrient, crops, { ...shared, ...confirmed }, tests, cec, counts);
      const after = needAfterCover(nutrient, need.lbPerAc, slice.seasonYear, earlier);
      const notices = [
        ...need.notices,
        ...after.notices,
        ...buildUpNotices(slice, field, test, checked, buildUp),
      ];
      return { ...need, lbPerAc: after.lbPerAc, notices };
    },
    coverOf: (yearsCovered) => {
      if (covered !== undefined) return { coveredThrough: covered, by: "an earlier application" };
      if (yearsCovered < 2) return { coveredThrough: null, by: null };
      return { coveredThrough: slice.seasonYear + yearsCovered - 1, by: "this application" };
    },
  };
}

function additionAnswer(answers: Answers): "per crop" | "per application" | undefined {
  const answer = answers["addition-counts"];
  return answer === "per crop" || answer === "per application" ? answer : undefined;
}

function cropsOf(
  field: PlanField,
  nutrient: Nutrient,
  crop: string,
  yieldBuPerAc: number | Float64Array,
): CropOfApplication[] {
  const later = (field.alsoFor ?? []).filter((one) => one.nutrients?.includes(nutrient) ?? true);
  return [
    { crop, yieldBuPerAc, residueLbPerAc: field.residueLbPerAc?.[nutrient] ?? 0 },
    ...later.map((one) => ({
      crop: one.crop,
      yieldBuPerAc: one.yieldBuPerAc,
      residueLbPerAc: one.residueLbPerAc?.[nutrient] ?? 0,
    })),
  ];
}

function readingOf(field: PlanField, nutrient: Nutrient, checked: CheckedField): TestReading {
  const test = elementOf(nutrient);
  const asked = field.nutrients?.[nutrient];
  const depthIn = checked.samplings.find((sampling) => sampling.usedFor.includes(test))?.depthIn ?? null;
  return {
    method: testMethodFrom(checked.methods[test], nutrient),
    unit: "ppm",
    basis: "element",
    ...(depthIn === null ? {} : { depthIn }),
    ...(asked?.conversion === undefined ? {} : { conversion: asked.conversion }),
    ...(asked?.criticalLevelPpm === undefined ? {} : { ownCriticalLevelPpm: asked.criticalLevelPpm }),
  };
}

/**
 * First season that the test in use serves, not after the plan's own: as typed, but no test serves before it is taken; null where
 * nobody says when that was.
 */
function firstSeason(
  slice: PlanNeedSlice,
  field: PlanField,
  test: "P" | "K",
  checked: CheckedField,
): number | null {
  const date = checked.samplings.find((sampling) => sampling.usedFor.includes(test))?.date;
  const told = [field.firstSeasonYear ?? [], typeof date === "string" ? seasonOf(date) : []].flat();
  return told.length === 0 ? null : Math.min(Math.max(...told), slice.seasonYear);
}

function buildUpNotices(
  slice: PlanNeedSlice,
  field: PlanField,
  test: "P" | "K",
  checked: CheckedField,
  buildUp: BuildUpYear | undefined,
): Notice[] {
  if (buildUp === undefined) return [];
  if (firstSeason(slice, field, test, checked) !== null) return [...buildUp.notices];
  return [
    {
      code: "build-up-year-assumed",
      message: `when the samples were taken is not stated: season ${slice.seasonYear} is counted as year 1 of ${buildUp.of} of build-up; firstSeasonYear in plan.json says otherwise`,
      where: test,
    },
  ];
}

/** A refusal of a test says which keys of the plan lead through. */
function withWaysThrough<T>(field: PlanField, nutrient: Nutrient, work: () => T): T {
  try {
    return work();
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    const keys = `fields “${field.id}”, nutrients.${nutrient}`;
    const way =
      error.code === "test-method-mismatch"
        ? ` In plan.json: ${keys}.guide, .conversion or .criticalLevelPpm.`
        : error.code === "nutrient-not-in-guide" || error.code === "crop-not-in-guide"
          ? ` In plan.json: ${keys}.guide or .crop.`
          : "";
    throw new InputError(error.code, `${field.name}: ${error.message}`, `${error.remedy}${way}`, {
      cause: error,
    });
  }
}
