import { InputError, type Notice } from "../../errors/index.ts";
import {
  type ChosenModel,
  inverseDistanceGrid,
  LEAST_SAMPLES,
  leaveOneOutInverseDistance,
  mapSamples,
  type Pacing,
  type VariogramModel,
} from "../../interpolate/index.ts";
import { TESTS } from "../../soil/index.ts";
import { counted } from "../../units/index.ts";
import type { TestName } from "../document/document-need-types.ts";
import type { PlanField, PlanMaps, PlanModel } from "../document/document-types.ts";
import type { StageContext } from "../document/stage.ts";
import type { CheckedField, FieldGrid, SoilMap, SoilMaps } from "../results/result-types.ts";
import { type FieldTest, fieldTest, TEST_UNITS } from "./field-test.ts";

/** Models made from the likelihoods of all fields together, for one field, by test. */
export type FieldModels = Readonly<Partial<Record<TestName, ChosenModel>>>;

/**
 * Map P, K and (where the lab gave it) CEC over the field's cells: ordinary kriging of each cell's mean with an
 * averaged covariance, a pooled one, or the variogram somebody typed; or inverse distance. Estimates stay within
 * what was sampled. Samples that the plan switches off take no part.
 */
export async function mapSoil(
  field: PlanField,
  checked: CheckedField,
  cells: FieldGrid,
  maps: PlanMaps,
  pooled: FieldModels,
  { pacing, onMap }: Pick<StageContext, "pacing" | "onMap">,
): Promise<SoilMaps> {
  const notices = strayNotices(field, checked).map((notice) => inField(field, notice));
  const few: Notice[] = [];
  const made: Partial<Record<TestName, SoilMap>> = {};
  const wanted = Uint8Array.from(cells.areaM2, (area) => (area > 0 ? 1 : 0));
  for (const test of TESTS) {
    const tested = fieldTest(checked, test, field.switchedOff);
    if (tested.taken.length === 0) continue;
    const mapped =
      maps.method === "inverse-distance"
        ? {
            map: inverseDistanceMap(tested, cells, wanted, maps.power ?? 2),
            notices: fewByDistance(test, tested),
          }
        : await ofItsModel(field, test, maps, () =>
            krigedMap(
              test,
              tested,
              cells,
              wanted,
              maps,
              field.models?.[test],
              pooled[test],
              keptOf(field, test),
              {
                ...pacing,
                onRow: (rows) => onMap(test, rows / cells.grid.ny),
              },
            ),
          );
    made[test] = mapped.map;
    for (const notice of mapped.notices) {
      if (notice.code === "field-mean-only" || notice.code === "few-samples") few.push(notice);
      else notices.push(inField(field, notice));
    }
  }
  return { maps: made, notices: [...fewSamples(few).map((notice) => inField(field, notice)), ...notices] };
}

const OF_MODELS: readonly string[] = ["variogram-model", "model-not-solvable"];

/** What is refused of a variogram somebody typed, with the field, the test and the key where it stands. */
async function ofItsModel<Made>(
  field: PlanField,
  test: TestName,
  maps: PlanMaps,
  work: () => Promise<Made>,
): Promise<Made> {
  try {
    return await work();
  } catch (error) {
    const key = field.models?.[test] ? `fields “${field.id}”, models.${test}` : `maps.models.${test}`;
    const isTyped = (field.models?.[test] ?? maps.models?.[test]) !== undefined;
    if (!(isTyped && error instanceof InputError && OF_MODELS.includes(error.code))) throw error;
    throw new InputError(
      error.code,
      `${field.name}, ${test}: ${error.message}`,
      `${error.remedy} In plan.json: ${key}.`,
      { cause: error },
    );
  }
}

const keptOf = ({ kept = [] }: PlanField, test: TestName): ReadonlyMap<string, string> =>
  new Map(kept.filter((one) => one.test === test).map(({ sample, reason }) => [sample, reason]));

/** Decisions about samples that the field does not have: a name mistyped, or a table replaced. */
function strayNotices(field: PlanField, checked: CheckedField): Notice[] {
  const known = new Set(checked.samples.map((sample) => sample.id));
  return [...(field.switchedOff ?? []), ...(field.kept ?? [])]
    .filter(({ sample }) => !known.has(sample))
    .map(({ sample, test }) => ({
      code: "sample-not-there",
      message: `the plan says something of sample ${sample}, which is not among the field's samples`,
      where: test,
    }));
}

/** Inverse distance makes a map of any number; fewer than kriging wants are told all the same. */
function fewByDistance(test: TestName, { taken: { length } }: FieldTest): Notice[] {
  if (length >= LEAST_SAMPLES) return [];
  const message = `${counted(length, "sample is", "samples are")} few for a map; take at least ${LEAST_SAMPLES}`;
  return [{ code: "few-samples", message, where: test }];
}

/** Tests that are too few for a map in the same way, told once. */
function fewSamples(notices: readonly Notice[]): Notice[] {
  const messages = [...new Set(notices.map(({ message }) => message))];
  return messages.map((message) => {
    const tests = notices.filter((one) => one.message === message).map(({ where }) => where);
    return { code: "few-samples", message, where: tests.join(", ") };
  });
}

/** A notice about one map, with the field and the sample in its words. */
const inField = (field: PlanField, { code, message, where }: Notice): Notice => ({
  code,
  message: `${field.name}, ${where}: ${message}`,
  where: `${field.id}: ${where}`,
});

async function krigedMap(
  test: TestName,
  tested: FieldTest,
  cells: FieldGrid,
  wanted: Uint8Array,
  maps: PlanMaps,
  own: PlanModel | undefined,
  pooled: ChosenModel | undefined,
  kept: ReadonlyMap<string, string>,
  pacing: Pacing,
): Promise<{ map: SoilMap; notices: readonly Notice[] }> {
  const typed = own ?? maps.models?.[test];
  const anisotropy = typed?.anisotropy ?? maps.anisotropy;
  const kriged = await mapSamples(tested.samples, cells.grid, wanted, {
    ...pacing,
    test,
    unit: TEST_UNITS[test],
    names: tested.taken.map((sample) => sample.id),
    before: { missing: tested.missing, merged: 0, switchedOff: tested.switchedOff },
    kept,
    ...(typed ? { model: modelOf(typed, anisotropy) } : pooled ? { choice: pooled } : {}),
    ...(anisotropy ? { anisotropy } : {}),
    ...(maps.support ? { support: maps.support } : {}),
  });
  const { choice, table, decisions, noPattern, predictiveFactor } = kriged;
  const isMean = choice.source === "mean";
  const variance = isMean ? new Float64Array(0) : kriged.variance.map((value) => value * predictiveFactor);
  const kriging = table?.methods[0];
  const map: SoilMap = {
    estimate: kriged.estimate,
    variance,
    method: isMean ? "field mean" : `ordinary kriging, ${choice.source} model`,
    samples: tested.taken.length,
    mean: meanOf(tested.samples.value),
    decisions,
    table: table ?? null,
    model: choice.model,
    averaged: choice.averaged ?? null,
    taken: tested.taken,
    noPattern,
    leaveOneOut:
      table && kriging
        ? {
            rmse: kriging.rootMeanSquare,
            meanError: kriging.meanError,
            observed: tested.samples.value,
            estimate: table.kriging.estimate,
          }
        : null,
  };
  return {
    map,
    notices: kriged.notices.filter(({ code }) => isForTheUser(code, isMean, kriged.far, wanted)),
  };
}

/** Cells far from every sample are worth a flag from this share of the field on. */
const FAR_SHARE = 0.01;

/** What the decisions tell in full is a flag only where somebody should act on it. */
function isForTheUser(code: string, isMean: boolean, far: Uint8Array, wanted: Uint8Array): boolean {
  const count = (marks: Uint8Array) => marks.reduce((sum, mark) => sum + mark, 0);
  if (code === "no-pattern") return !isMean; // too few samples is the reason, and told
  if (code === "far-from-samples") return count(far) > FAR_SHARE * count(wanted);
  return code !== "model-at-edge";
}

function inverseDistanceMap(tested: FieldTest, cells: FieldGrid, wanted: Uint8Array, power: number): SoilMap {
  const { samples, taken } = tested;
  const estimate = inverseDistanceGrid(samples, cells.grid, wanted, { power });
  const left = leaveOneOutInverseDistance(samples, { power });
  const errors = left.map((value, i) => samples.value[i]! - value);
  return {
    estimate,
    variance: new Float64Array(0),
    method: `inverse distance, power ${power}`,
    samples: taken.length,
    mean: meanOf(samples.value),
    decisions: [],
    table: null,
    model: null,
    averaged: null,
    taken,
    noPattern: false,
    leaveOneOut:
      taken.length < 2
        ? null
        : {
            rmse: Math.sqrt(meanOf(errors.map((error) => error ** 2))),
            meanError: meanOf(errors),
            observed: samples.value,
            estimate: left,
          },
  };
}

function modelOf(typed: PlanModel, anisotropy: PlanMaps["anisotropy"]): VariogramModel {
  return {
    nugget: typed.nugget,
    structures: typed.structures.map(({ type, partialSill, rangeM, kappa }) => ({
      type,
      partialSill,
      range: rangeM,
      ...(kappa === undefined ? {} : { kappa }),
    })),
    ...(anisotropy ? { anisotropy } : {}),
  };
}

const meanOf = (values: Float64Array): number =>
  values.reduce((sum, value) => sum + value, 0) / values.length;
