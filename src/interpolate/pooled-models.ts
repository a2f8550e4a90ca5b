import {
  type AveragedModel,
  averagedModel,
  averageNodes,
  constantModel,
  isConstant,
  nodeWeights,
  rangesOver,
} from "./averaged-model.ts";
import { boundingDiagonalM, likelihoodGrid } from "./likelihood-grid.ts";
import { median } from "./median.ts";
import type { Anisotropy, Samples } from "./types.ts";

/** Fields with fewer samples take the pooled weights and add nothing to them. */
const POOL_SAMPLES = 8;
/** Fewer fields than this are not pooled. */
const POOL_FIELDS = 3;

/**
 * Averaged models of several fields of one test and year, their likelihoods summed: the ranges in metres and the
 * nugget shares are the farm's, over the median diagonal of the fields that count; each field keeps its own sills.
 * Below three fields of eight samples each field gets its own `averagedModel`. In the order given.
 */
export function pooledModels(fields: readonly Samples[], anisotropy?: Anisotropy): AveragedModel[] {
  const counts = (field: Samples): boolean => field.value.length >= POOL_SAMPLES && !isConstant(field);
  const counted = fields.filter(counts);
  if (counted.length < POOL_FIELDS) return fields.map((field) => averagedModel(field, anisotropy));
  const rangesM = rangesOver(median(counted.map(boundingDiagonalM)));
  const profiled = fields.map((field) => {
    if (isConstant(field)) return undefined;
    const grid = likelihoodGrid(field, rangesM, anisotropy);
    return { field, grid, profile: grid.profile(field.value) };
  });
  const summed = new Float64Array(profiled.find((p) => p !== undefined)!.profile.deviance.length);
  for (const p of profiled) {
    if (p === undefined || !counts(p.field)) continue;
    p.profile.deviance.forEach((f, i) => {
      summed[i]! += f;
    });
  }
  const weight = nodeWeights(summed);
  return profiled.map((p, i) =>
    p === undefined
      ? constantModel(fields[i]!)
      : averageNodes(p.grid, p.profile, weight, anisotropy, counted.length),
  );
}
