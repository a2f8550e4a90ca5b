import type { Notice } from "../errors/index.ts";
import { counted } from "../units/index.ts";
import { type ChosenModel, chooseModel } from "./choose-model.ts";
import { krige, krigeTargets, type PacedTargets } from "./krige.ts";
import { leaveOneOut } from "./leave-one-out.ts";
import { leaveOneOutTable } from "./leave-one-out-table.ts";
import { boundingDiagonalM } from "./likelihood-grid.ts";
import { type Decision, mapDecisions } from "./map-decisions.ts";
import { keepWithin } from "./map-samples.ts";
import { standardDeviation } from "./moments.ts";
import { predictiveFactor } from "./predictive-factor.ts";
import type { Kriged, KrigeOptions, Samples, Targets } from "./types.ts";

interface MapTargetsOptions extends KrigeOptions, PacedTargets {
  /** What the values are called in the sentences. */
  readonly test: string;
}

/** Estimates at places, with the way to them told. */
export interface TargetMap {
  /** The samples used, repeats of a row left out. */
  readonly samples: Samples;
  /** In target order; for left-out samples in the order of `samples`. */
  readonly kriged: Kriged;
  readonly choice: ChosenModel;
  /** Times the variance = variance of the predictive distribution. */
  readonly predictiveFactor: number;
  readonly decisions: readonly Decision[];
  readonly notices: readonly Notice[];
}

/** A block this share of the samples' extent only takes the nugget out. */
const SPOT = 1e-6;

/**
 * `mapSamples` for a list of targets instead of a grid, or, without targets, for each sample left out: the model chosen
 * from the samples and the same decisions told. Coordinates in any unit of length. Estimates at targets are kept within
 * the sampled range. Throws as `krigeTargets`.
 */
export async function mapTargets(
  given: Samples,
  targets: Targets | undefined,
  options: MapTargetsOptions,
): Promise<TargetMap> {
  const { test, nearest, block } = options;
  const { samples, merged } = withoutRepeats(given);
  const choice = chooseModel(samples);
  const few = nearest === undefined ? {} : { nearest };
  const kriged =
    targets === undefined
      ? leaveOneOut(samples, choice.model, few)
      : await krigeTargets(samples, choice.model, targets, options);
  const { raised, lowered } =
    targets === undefined ? { raised: 0, lowered: 0 } : keepWithin(kriged.estimate, samples.value);
  const told = mapDecisions({
    test,
    unit: "units",
    samples,
    names: undefined,
    before: { missing: 0, merged, switchedOff: 0 },
    choice,
    table: samples.value.length < 2 ? undefined : leaveOneOutTable(samples, choice.model),
    mapDeviation: standardDeviation(targets === undefined ? smoothed(samples, choice) : kriged.estimate),
    support: "point",
    cellM: Number.NaN,
    cells: kriged.estimate.length,
    raised,
    lowered,
    spacingM: Number.NaN,
    farCells: 0,
  });
  const own: Partial<Record<Decision["topic"], Pick<Decision, "sentence" | "figures">>> = {
    support: {
      sentence:
        block === undefined
          ? "Each estimate stands for a point; on a sample it is that sample."
          : `Each estimate is the mean over a block of ${block.widthM} by ${block.heightM}.`,
      figures: block === undefined ? {} : { blockWidth: block.widthM, blockHeight: block.heightM },
    },
    limits: {
      sentence:
        raised + lowered === 0
          ? "All estimates are as kriged."
          : `${counted(raised, "estimate was", "estimates were")} raised to the lowest and ${lowered} lowered to the highest sample.`,
      figures: { raised, lowered },
    },
  };
  return {
    samples,
    kriged,
    choice,
    predictiveFactor: predictiveFactor(samples.value.length),
    decisions: told.decisions.map((decision) => ({ ...decision, ...own[decision.topic] })),
    notices: told.notices,
  };
}

/** Rows with the same place and value count once, where the first stands. */
function withoutRepeats({ x, y, value }: Samples): { samples: Samples; merged: number } {
  const seen = new Set<string>();
  const first = Array.from(value.keys()).filter((i) => {
    const row = `${x[i]} ${y[i]} ${value[i]}`;
    if (seen.has(row)) return false;
    seen.add(row);
    return true;
  });
  const pick = (array: Float64Array): Float64Array => Float64Array.from(first, (i) => array[i]!);
  const samples = { x: pick(x), y: pick(y), value: pick(value) };
  return { samples, merged: value.length - first.length };
}

/** The map, free of nugget, where the samples stand. */
function smoothed(samples: Samples, { model }: ChosenModel): Float64Array {
  const side = SPOT * boundingDiagonalM(samples);
  if (!(side > 0)) return samples.value;
  return krige(samples, model, samples, { block: { widthM: side, heightM: side } }).estimate;
}
