import {
  boundingDiagonalM,
  type LikelihoodGrid,
  likelihoodGrid,
  type NodeProfile,
  NUGGET_SHARES,
  RELATIVE_RANGES,
} from "./likelihood-grid.ts";
import { sampleVariance } from "./moments.ts";
import type { Anisotropy, Samples, VariogramModel } from "./types.ts";

/** Prior weight of "no pattern at all"; the 42 nodes share the rest alike. */
const FLAT_PRIOR = 0.15;

/** One node of the average. The flat node has nuggetShare 1 and range 0. */
export interface AveragedNode {
  readonly nuggetShare: number;
  readonly relativeRange: number;
  readonly rangeM: number;
  /** Nugget and partial sill together, squared units of the value. */
  readonly sill: number;
  readonly deviance: number;
  /** Sums to 1 over the nodes. */
  readonly weight: number;
}

/** A covariance averaged over 42 nodes and a flat one: a nested spherical model that nobody had to fit. */
export interface AveragedModel {
  readonly model: VariogramModel;
  /** Range by range, nugget shares within, the flat node last. Empty when there was nothing to average. */
  readonly nodes: readonly AveragedNode[];
  readonly flatWeight: number;
  /** The side of the node grid with the most weight on it. */
  readonly edge: { readonly name: NodeEdge; readonly weight: number };
  /** Samples the likelihood was taken from. */
  readonly likelihoodSamples: number;
  /** Fields whose likelihoods were summed: 1 unless pooled. */
  readonly fields: number;
}

type NodeEdge = "shortest range" | "longest range" | "smallest nugget" | "largest nugget";

/**
 * Weights each node by its profile restricted likelihood and sums their covariances: no start values, nothing to
 * converge. One sample, or values all equal, give a model without variance. Throws `samples-at-one-place`, `no-samples`.
 */
export function averagedModel(samples: Samples, anisotropy?: Anisotropy): AveragedModel {
  return isConstant(samples) ? patternlessModel(samples.value) : averager(samples, anisotropy)(samples.value);
}

/** `averagedModel` at the same places for one set of values after another, not all equal. */
export function averager(samples: Samples, anisotropy?: Anisotropy): (values: Float64Array) => AveragedModel {
  const grid = likelihoodGrid(samples, rangesOver(boundingDiagonalM(samples)), anisotropy);
  return (values) => {
    const profile = grid.profile(values);
    if (profile === undefined) return patternlessModel(values, grid.used);
    return averageNodes(grid, profile, nodeWeights(profile.deviance), anisotropy);
  };
}

/** Node ranges in metres over a bounding-box diagonal in metres. */
export function rangesOver(diagonalM: number): number[] {
  return RELATIVE_RANGES.map((share) => share * diagonalM);
}

export function isConstant({ value }: Samples): boolean {
  return value.every((v) => v === value[0]);
}

/** Where there is nothing to average: values all equal, or those equal that the likelihood is taken from. All is nugget. */
export function patternlessModel(
  values: Float64Array,
  likelihoodSamples: number = values.length,
): AveragedModel {
  const nugget = values.every((value) => value === values[0]) ? 0 : sampleVariance(values);
  return {
    model: { nugget, structures: [] },
    nodes: [],
    flatWeight: 1,
    edge: { name: "largest nugget", weight: 0 },
    likelihoodSamples,
    fields: 1,
  };
}

/** Prior times likelihood, summing to 1; `deviance` as in `NodeProfile`. */
export function nodeWeights(deviance: Float64Array): Float64Array {
  const flat = deviance.length - 1;
  const least = deviance.reduce((a, b) => Math.min(a, b));
  const weight = deviance.map(
    (f, i) => (i === flat ? FLAT_PRIOR : (1 - FLAT_PRIOR) / flat) * Math.exp((least - f) / 2),
  );
  const total = weight.reduce((a, b) => a + b);
  return weight.map((w) => w / total);
}

/** The nested model of given node weights, with each node's own sill from the profile. */
export function averageNodes(
  grid: LikelihoodGrid,
  { sill, deviance }: NodeProfile,
  weight: Float64Array,
  anisotropy?: Anisotropy,
  fields = 1,
): AveragedModel {
  const shares = NUGGET_SHARES.length;
  const flat = grid.rangesM.length * shares;
  const nodes = Array.from(
    weight,
    (w, i): AveragedNode => ({
      nuggetShare: i === flat ? 1 : NUGGET_SHARES[i % shares]!,
      relativeRange: i === flat ? 0 : RELATIVE_RANGES[Math.floor(i / shares)]!,
      rangeM: i === flat ? 0 : grid.rangesM[Math.floor(i / shares)]!,
      sill: sill[i]!,
      deviance: deviance[i]!,
      weight: w,
    }),
  );
  const sum = (of: (node: AveragedNode) => number): number =>
    nodes.reduce((total, node) => total + of(node), 0);
  const structures = grid.rangesM.map((range) => ({
    type: "spherical" as const,
    partialSill: sum((node) =>
      node.rangeM === range ? node.weight * node.sill * (1 - node.nuggetShare) : 0,
    ),
    range,
  }));
  const model = { nugget: sum((node) => node.weight * node.sill * node.nuggetShare), structures };
  return {
    model: anisotropy === undefined ? model : { ...model, anisotropy },
    nodes,
    flatWeight: weight[flat]!,
    edge: heaviestEdge(nodes.slice(0, flat)),
    likelihoodSamples: grid.used,
    fields,
  };
}

function heaviestEdge(nodes: readonly AveragedNode[]): { name: NodeEdge; weight: number } {
  const on = (name: NodeEdge, key: "relativeRange" | "nuggetShare", at: number) => ({
    name,
    weight: nodes.reduce((total, node) => total + (node[key] === at ? node.weight : 0), 0),
  });
  const edges = [
    on("shortest range", "relativeRange", RELATIVE_RANGES[0]!),
    on("longest range", "relativeRange", RELATIVE_RANGES.at(-1)!),
    on("smallest nugget", "nuggetShare", NUGGET_SHARES[0]!),
    on("largest nugget", "nuggetShare", NUGGET_SHARES.at(-1)!),
  ];
  return edges.reduce((most, edge) => (edge.weight > most.weight ? edge : most));
}
