import {
  type AveragedModel,
  averagedModel,
  averageNodes,
  isConstant,
  nodeWeights,
  patternlessModel,
  rangesOver,
} from "./averaged-model.ts";
import { boundingDiagonalM, likelihoodGrid, NUGGET_SHARES, RELATIVE_RANGES } from "./likelihood-grid.ts";
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
  const counted = fields.filter((field) => field.value.length >= POOL_SAMPLES && !isConstant(field));
  if (counted.length < POOL_FIELDS) return fields.map((field) => averagedModel(field, anisotropy));
  const rangesM = rangesOver(median(counted.map(boundingDiagonalM)));
  const profiled = fields.map((field) => {
    if (isConstant(field)) return undefined;
    const grid = likelihoodGrid(field, rangesM, anisotropy);
    const profile = grid.profile(field.value);
    return profile && { field, grid, profile };
  });
  const summed = new Float64Array(NUGGET_SHARES.length * RELATIVE_RANGES.length + 1);
  let count = 0;
  for (const p of profiled) {
    if (p === undefined || p.field.value.length < POOL_SAMPLES) continue;
    count++;
    p.profile.deviance.forEach((f, i) => {
      summed[i]! += f;
    });
  }
  const weight = nodeWeights(summed);
  return profiled.map((p, i) =>
    p === undefined
      ? patternlessModel(fields[i]!.value)
      : averageNodes(p.grid, p.profile, weight, anisotropy, count),
  );
}
