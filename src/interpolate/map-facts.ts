import type { ChosenModel } from "./choose-model.ts";
import type { LeaveOneOutTable } from "./leave-one-out-table.ts";
import type { Samples } from "./types.ts";

/** Everything a map's decisions are read from; nothing here is decided yet. */
export interface MapFacts {
  /** "P", "K", "CEC": the word used in the sentences. */
  readonly test: string;
  /** "ppm", "meq/100 g". */
  readonly unit: string;
  readonly samples: Samples;
  /** What the user calls each sample, in sample order; row numbers from 1 when left out. */
  readonly names: readonly string[] | undefined;
  /** Reasons by name for values that the user looked at and keeps, though their neighbours deny them. */
  readonly kept?: ReadonlyMap<string, string>;
  readonly before: SamplesBefore;
  readonly choice: ChosenModel;
  /** Undefined for a single sample. */
  readonly table: LeaveOneOutTable | undefined;
  /** Standard deviation of the estimates over the mapped cells. */
  readonly mapDeviation: number;
  readonly support: "cell" | "point";
  readonly cellM: number;
  readonly cells: number;
  /** Cells whose estimate was raised to the lowest or lowered to the highest sample. */
  readonly raised: number;
  readonly lowered: number;
  /** Root of the mapped area per sample, metres; cells farther than this from any sample are far. */
  readonly spacingM: number;
  readonly farCells: number;
}

/** What happened to the samples before they came here. */
export interface SamplesBefore {
  /** Without a value or a position. */
  readonly missing: number;
  /** Repeats of another row, or merged with it by the user's answer. */
  readonly merged: number;
  readonly switchedOff: number;
}
