import { InputError, type Notice } from "../errors/index.ts";
import {
  inverseDistanceGrid,
  krigeGrid,
  leaveOneOut,
  leaveOneOutInverseDistance,
  type Pacing,
  type Samples,
  type VariogramModel,
} from "../interpolate/index.ts";
import type { PlanMaps, PlanModel, PlanModels, TestName } from "./document-types.ts";
import type { CheckedField, FieldGrid, SoilMap, SoilMaps } from "./result-types.ts";

/** Fewer samples than this make no map. */
const FEWEST = 5;

/**
 * Map P, K and (where the lab gave it) CEC over the field's cells: ordinary kriging of each cell's mean with
 * the variogram the plan gives, or the standing one; or inverse distance. Estimates stay within what was
 * sampled.
 */
export async function mapSoil(
  checked: CheckedField,
  cells: FieldGrid,
  maps: PlanMaps,
  ownModels: PlanModels,
  pacing: Pacing = {},
): Promise<SoilMaps> {
  const notices: Notice[] = [];
  const made: Partial<Record<TestName, SoilMap>> = {};
  for (const test of ["P", "K", "CEC"] as const) {
    const samples = samplesOf(checked, test);
    if (samples.value.length === 0) continue;
    const typed = ownModels[test] ?? maps.models?.[test];
    made[test] = keepWithinSampled(await mapTest(samples, cells, maps, typed, pacing), samples);
  }
  return { maps: made, notices };
}

async function mapTest(
  samples: Samples,
  cells: FieldGrid,
  maps: PlanMaps,
  typed: PlanModel | undefined,
  pacing: Pacing,
): Promise<SoilMap> {
  const wanted = Uint8Array.from(cells.areaM2, (area) => (area > 0 ? 1 : 0));
  const count = samples.value.length;
  const mean = meanOf(samples.value);
  const common = { samples: count, mean };
  if (count < FEWEST || samples.value.every((value) => value === samples.value[0])) {
    const estimate = Float64Array.from(wanted, (inside) => (inside ? mean : Number.NaN));
    return { ...common, estimate, variance: new Float64Array(0), method: "field mean", leaveOneOut: null };
  }
  if (maps.method === "inverse-distance") {
    const power = maps.power ?? 2;
    const estimate = await inverseDistanceGrid(samples, cells.grid, wanted, { power });
    const left = errorsOf(leaveOneOutInverseDistance(samples, { power }), samples.value);
    const method = `inverse distance, power ${power}`;
    return { ...common, estimate, variance: new Float64Array(0), method, leaveOneOut: left };
  }
  const model = typed ? modelOf(typed) : standingModel(samples);
  const kriged = await krigeGrid(samples, model, cells.grid, wanted, { ...pacing, variance: true });
  const left = errorsOf(leaveOneOut(samples, model).estimate, samples.value);
  const method = `ordinary kriging of 10 m cells, ${typed ? "typed" : "standing"} variogram ${describe(model)}`;
  return { ...common, estimate: kriged.estimate, variance: kriged.variance, method, leaveOneOut: left };
}

function samplesOf(checked: CheckedField, test: TestName): Samples {
  const kept = checked.samples.map((sample, i) => ({ value: sample[test], place: checked.places[i]! }));
  const known = kept.filter((sample) => sample.value !== null);
  return {
    x: Float64Array.from(known, (sample) => sample.place[0]),
    y: Float64Array.from(known, (sample) => sample.place[1]),
    value: Float64Array.from(known, (sample) => sample.value!),
  };
}

const modelOf = (typed: PlanModel): VariogramModel => ({
  nugget: typed.nugget,
  structures: typed.structures.map(({ type, partialSill, rangeM, kappa }) => ({
    type,
    partialSill,
    range: rangeM,
    ...(kappa === undefined ? {} : { kappa }),
  })),
});

/**
 * The variogram of a field that nobody typed one for: spherical, the samples' variance as sill, two fifths of
 * it nugget, range a third of the samples' extent. A fixed choice, not a fit (ours).
 */
function standingModel(samples: Samples): VariogramModel {
  const mean = meanOf(samples.value);
  const variance =
    samples.value.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (samples.value.length - 1);
  const extent = (values: Float64Array) => Math.max(...values) - Math.min(...values);
  const range = Math.hypot(extent(samples.x), extent(samples.y)) / 3;
  if (!(range > 0))
    throw new InputError("samples-at-one-place", "All samples lie at one place.", "Give their positions.");
  return {
    nugget: 0.4 * variance,
    structures: [{ type: "spherical", partialSill: 0.6 * variance, range }],
  };
}

function keepWithinSampled(map: SoilMap, samples: Samples): SoilMap {
  const [least, most] = [Math.min(...samples.value), Math.max(...samples.value)];
  return { ...map, estimate: map.estimate.map((value) => Math.min(most, Math.max(least, value))) };
}

const meanOf = (values: Float64Array): number =>
  values.reduce((sum, value) => sum + value, 0) / values.length;

function errorsOf(estimate: Float64Array, observed: Float64Array): SoilMap["leaveOneOut"] {
  const errors = estimate.map((value, i) => observed[i]! - value);
  return {
    rmse: Math.sqrt(meanOf(errors.map((error) => error ** 2))),
    meanError: meanOf(errors),
    observed,
    estimate,
  };
}

function describe(model: VariogramModel): string {
  const number = (value: number) => String(Number(value.toPrecision(4)));
  const parts = model.structures.map((s) => `${s.type} ${number(s.partialSill)} range ${number(s.range)} m`);
  return [`nugget ${number(model.nugget)}`, ...parts].join(", ");
}
