import type { Notice } from "../errors/index.ts";
import { cellCentre, type Grid } from "../geo/index.ts";
import { type ChooseModelOptions, type ChosenModel, chooseModel } from "./choose-model.ts";
import { krigeGrid } from "./krige-grid.ts";
import { type LeaveOneOutTable, leaveOneOutTable } from "./leave-one-out-table.ts";
import { type Decision, mapDecisions } from "./map-decisions.ts";
import type { SamplesBefore } from "./map-facts.ts";
import { standardDeviation } from "./moments.ts";
import { predictiveFactor } from "./predictive-factor.ts";
import type { Pacing, Samples } from "./types.ts";

interface MapSamplesOptions extends ChooseModelOptions, Pacing {
  readonly test: string;
  readonly unit: string;
  /** What the user calls each sample, in sample order. */
  readonly names?: readonly string[];
  /** Reasons by name for values that the user checked and keeps: no notice asks to check them again. */
  readonly kept?: ReadonlyMap<string, string>;
  readonly before?: SamplesBefore;
  /** Already chosen, as for pooled fields; `model` and `anisotropy` are then not looked at. */
  readonly choice?: ChosenModel;
  readonly support?: "cell" | "point";
}

/** A mapped soil test. Arrays nx * ny, row-major, south row first. */
interface SamplesMap {
  /** In the test's unit, kept within the sampled range; NaN outside the wanted cells. */
  readonly estimate: Float64Array<ArrayBuffer>;
  /** Kriging variance of the cell's mean; NaN outside, and everywhere for a single sample. */
  readonly variance: Float64Array<ArrayBuffer>;
  /** Times the variance = variance of the predictive distribution of the cell's mean; 1 under a typed model. */
  readonly predictiveFactor: number;
  /** 1 where a wanted cell lies farther than one spacing from any sample. */
  readonly far: Uint8Array<ArrayBuffer>;
  readonly choice: ChosenModel;
  readonly table: LeaveOneOutTable | undefined;
  readonly noPattern: boolean;
  readonly decisions: readonly Decision[];
  readonly notices: readonly Notice[];
}

/**
 * From samples to a map, by the ten steps of `mapDecisions`. Samples must already stand at one place each and have
 * values; wanted is 1 for the cells to map. Throws as `krigeGrid`.
 */
export async function mapSamples(
  samples: Samples,
  grid: Grid,
  wanted: Uint8Array,
  options: MapSamplesOptions,
): Promise<SamplesMap> {
  const { test, unit, names, support = "cell" } = options;
  const choice = options.choice ?? chooseModel(samples, options);
  const { estimate, variance } = await krigeGrid(samples, choice.model, grid, wanted, {
    ...options,
    variance: true,
    support,
  });
  if (samples.value.length === 1) variance.fill(Number.NaN);
  const { raised, lowered } = keepWithin(estimate, samples.value);
  const cells = wanted.reduce((count, w) => count + (w === 1 ? 1 : 0), 0);
  const spacingM = Math.sqrt((cells * grid.cellM ** 2) / samples.value.length);
  const far = farFrom(samples, grid, wanted, spacingM);
  const table = samples.value.length < 2 ? undefined : leaveOneOutTable(samples, choice.model);
  const { decisions, notices, noPattern } = mapDecisions({
    test,
    unit,
    samples,
    names,
    ...(options.kept ? { kept: options.kept } : {}),
    before: options.before ?? { missing: 0, merged: 0, switchedOff: 0 },
    choice,
    table,
    mapDeviation: standardDeviation(estimate.filter(Number.isFinite)),
    support,
    cellM: grid.cellM,
    cells,
    raised,
    lowered,
    spacingM,
    farCells: far.reduce((count, f) => count + f, 0),
  });
  const factor = choice.source === "typed" ? 1 : predictiveFactor(samples.value.length);
  return { estimate, variance, predictiveFactor: factor, far, choice, table, noPattern, decisions, notices };
}

/** Brings estimates back into the sampled range, in place, and counts them. */
export function keepWithin(
  estimate: Float64Array,
  values: Float64Array,
): { raised: number; lowered: number } {
  const lowest = values.reduce((a, b) => Math.min(a, b));
  const highest = values.reduce((a, b) => Math.max(a, b));
  // An estimate off by rounding alone is not worth counting.
  const slack = 1e-9 * Math.max(Math.abs(lowest), Math.abs(highest));
  let raised = 0;
  let lowered = 0;
  for (let i = 0; i < estimate.length; i++) {
    const e = estimate[i]!;
    if (e < lowest - slack) raised++;
    if (e > highest + slack) lowered++;
    estimate[i] = Math.min(highest, Math.max(lowest, e));
  }
  return { raised, lowered };
}

function farFrom(
  { x, y }: Samples,
  grid: Grid,
  wanted: Uint8Array,
  spacingM: number,
): Uint8Array<ArrayBuffer> {
  const far = new Uint8Array(wanted.length);
  for (let cell = 0; cell < wanted.length; cell++) {
    if (wanted[cell] !== 1) continue;
    const [cx, cy] = cellCentre(grid, cell);
    let near = false;
    for (let i = 0; i < x.length && !near; i++) near = (x[i]! - cx) ** 2 + (y[i]! - cy) ** 2 <= spacingM ** 2;
    if (!near) far[cell] = 1;
  }
  return far;
}
