import type { AveragedModel, AveragedNode } from "./averaged-model.ts";
import { covarianceByFormula } from "./covariance.ts";

/** Between which semivariances the nodes of an average lie at a distance. */
export interface BandPoint {
  readonly distanceM: number;
  readonly low: number;
  readonly high: number;
}

/**
 * How far the variograms that were averaged agree: at each distance above 0 (along the longer axis) the semivariances
 * that leave 5 % of the nodes' weight below and 5 % above. Empty where nothing was averaged.
 */
export function variogramBand({ nodes }: AveragedModel, distancesM: readonly number[]): BandPoint[] {
  if (nodes.length === 0) return [];
  return distancesM.map((distanceM) => {
    const sorted = nodes
      .map((node) => ({ value: nodeSemivariance(node, distanceM), weight: node.weight }))
      .sort((a, b) => a.value - b.value);
    return { distanceM, low: weightedQuantile(sorted, 0.05), high: weightedQuantile(sorted, 0.95) };
  });
}

/** Nugget and spherical structure of one node; the flat one has its nugget alone. */
function nodeSemivariance({ sill, nuggetShare, rangeM }: AveragedNode, distanceM: number): number {
  const partialSill = sill * (1 - nuggetShare);
  const structures = [{ type: "spherical" as const, partialSill, range: rangeM }];
  return sill - covarianceByFormula({ nugget: sill * nuggetShare, structures }, distanceM);
}

/** The least value with at least `share` of the weight at or below it. */
function weightedQuantile(
  sorted: readonly { readonly value: number; readonly weight: number }[],
  share: number,
): number {
  let below = 0;
  for (const { value, weight } of sorted) {
    below += weight;
    if (below >= share) return value;
  }
  return sorted.at(-1)!.value;
}
