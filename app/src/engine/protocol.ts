import type {
  AlsoWanted,
  Answers,
  Balance,
  BalanceSheet,
  Cover,
  Excluded,
  ExplainedCell,
  LayerId,
  NeedFigures,
  NeedMap,
  NeedRule,
  Notice,
  Odds,
  Oxide,
  Plan,
  ProductTotal,
  Progress,
  Question,
  ReadOut,
  RefusedField,
  ShownTest,
  TestName,
  UnitSystem,
  VariogramBin,
  VariogramModel,
  WantedParts,
} from "#core";
import type { StickJob, StickTold } from "../stick/put-on-stick.ts";
import type { DrawnLayer, Ground, LonLat, NamedFile, Outline, PassLines } from "./drawn-types.ts";
import type { FileReading } from "./read-files.ts";
import type { Dropped, Recognised } from "./recognise.ts";

export type * from "./drawn-types.ts";

/** What the open sheet shows of the chosen field. */
export interface Look {
  readonly field: string | null;
  readonly layers: readonly LayerId[];
  /** Class limits that stand, by layer; others are chosen from the values. */
  readonly limits: Readonly<Partial<Record<LayerId, readonly number[]>>>;
  readonly system: UnitSystem;
  /** Passes and segments are drawn. */
  readonly passes: boolean;
  /** What each soil test's map was made from is shown. */
  readonly tests: boolean;
  /** The need's balance sheet is shown. */
  readonly needs: boolean;
}

export type ToEngine =
  /** The plan's files; forgets everything worked out from others. */
  | { readonly kind: "files"; readonly files: readonly NamedFile[] }
  | {
      readonly kind: "work";
      readonly turn: number;
      readonly plan: Plan;
      readonly answers: Answers;
      readonly look: Look;
      /** Every field, for the farm's totals; else the chosen field alone. */
      readonly wholeFarm: boolean;
    }
  | { readonly kind: "stop" }
  /** The map has drawn what it was given last. */
  | { readonly kind: "drawn" }
  | { readonly kind: "read-out"; readonly turn: number; readonly at: LonLat }
  | {
      readonly kind: "take-away";
      readonly turn: number;
      readonly plan: Plan;
      readonly answers: Answers;
      readonly what: TakeAway;
    }
  | {
      /** Write the maps of every field into a folder that the user chose. */
      readonly kind: "stick";
      readonly turn: number;
      readonly plan: Plan;
      readonly answers: Answers;
      readonly root: FileSystemDirectoryHandle;
      readonly job: StickJob;
    }
  | {
      readonly kind: "read-files";
      readonly turn: number;
      readonly files: readonly NamedFile[];
      readonly answers: Answers;
    }
  | ({ readonly kind: "recognise"; readonly turn: number } & Dropped);

/** Files to carry off: the prescriptions of one field or of all, or one sheet as HTML. */
export type TakeAway =
  | { readonly kind: "prescriptions"; readonly fields: readonly string[] }
  | { readonly kind: "sheet"; readonly path: string }
  /** plan.json and the files it names. */
  | { readonly kind: "plan" };

export interface TestSummary {
  readonly test: TestName;
  readonly samples: number;
  readonly mean: number;
  readonly method: string;
  readonly rmse: number | null;
  readonly meanError: number | null;
  /** Each sample's estimate from the others, beside what was measured; null where not known. */
  readonly leftOut: { readonly observed: Float64Array; readonly estimate: Float64Array } | null;
  readonly odds: Odds | null;
  /** The critical level where it is one for the whole field. */
  readonly criticalEverywhere: number | null;
  /** Ways of mapping beside each other, each sample left out. */
  readonly methods: readonly MethodLine[];
  /** From samples to map, a sentence a step. */
  readonly decisions: readonly string[];
  /** The odds of lying below the critical level can be shown as a map. */
  readonly hasChance: boolean;
  readonly noPattern: boolean;
  /** Samples that the map took, in file order. */
  readonly taken: readonly TakenLine[];
  readonly variogram: VariogramSummary;
}

/** A sample's value, and what the others say of its place; null where nothing does. */
export interface TakenLine {
  readonly id: string;
  readonly value: number;
  readonly others: number | null;
}

export interface VariogramSummary {
  readonly bins: readonly VariogramBin[];
  /** The one used; null where nothing was kriged. */
  readonly model: VariogramModel | null;
  /** The classical fit to the bins, for comparison. */
  readonly fitted: VariogramModel | null;
}

type PerOxide<What> = Readonly<Record<Oxide, What>>;

/** The need of the field as its sheet shows it beside the map. */
export interface NeedSummary {
  readonly from: NeedMap["from"];
  readonly figures: PerOxide<NeedFigures>;
  readonly rule: PerOxide<NeedRule | null>;
  readonly cover: PerOxide<Cover>;
  readonly wanted: PerOxide<WantedParts>;
  /** Null where the open sheet does not show it. */
  readonly sheet: BalanceSheet | null;
  readonly alsoWanted: readonly AlsoWanted[];
  readonly excluded: Pick<Excluded, "areaAc" | "places">;
  readonly shownTests: Readonly<Partial<Record<"pH" | "bufferPH" | "organicMatter", ShownTest>>>;
}

/** The arithmetic behind the need at the place read out, by oxide. */
export type NeedExplained = PerOxide<ExplainedCell | null>;

export interface MethodLine {
  readonly name: string;
  readonly rmse: number;
  readonly bias: number;
  readonly isUsed: boolean;
}

export interface MapFile {
  readonly pass: "strip" | "broadcast";
  readonly bin: string;
  readonly product: string;
  readonly stem: string;
  readonly polygons: number;
  readonly areaAc: number;
  readonly totalLb: number;
  readonly needLb: number;
  readonly minLbPerAc: number;
  readonly meanLbPerAc: number;
  readonly maxLbPerAc: number;
  /** lb/ac after stepping and how many pieces carry it, low first. */
  readonly rates: readonly (readonly [rate: number, pieces: number])[];
  /** File name and bytes; empty while the files are not written. */
  readonly files: readonly (readonly [name: string, bytes: number])[];
}

/** One field in the farm's list. */
export interface FieldLine {
  readonly id: string;
  readonly areaAc: number;
  readonly balances: readonly Balance[];
  readonly maps: readonly MapFile[];
  readonly ceilingLbPerAc: number | null;
  readonly notices: readonly Notice[];
  /** Files written and read back the same. */
  readonly written: boolean;
}

export interface FieldView extends FieldLine {
  readonly ground: Ground | null;
  readonly passes: PassLines | null;
  readonly layers: readonly DrawnLayer[];
  /** Empty where the open sheet does not show them. */
  readonly tests: readonly TestSummary[];
  readonly need: NeedSummary;
  readonly needMeanLbPerAc: { readonly P2O5: number; readonly K2O: number };
  /** Mean of the strip's products together, lb/ac. */
  readonly stripMeanLbPerAc: number;
}

export interface FarmView {
  readonly planSha256: string;
  readonly acres: number;
  readonly totals: readonly ProductTotal[];
  readonly fields: readonly FieldLine[];
  readonly refused: readonly RefusedField[];
  readonly notices: readonly Notice[];
  readonly incomplete: string;
}

export interface Trouble {
  readonly code: string;
  readonly message: string;
  readonly remedy: string;
  /** Our bug, not the user's file. */
  readonly ours: boolean;
}

export type FromEngine =
  | { readonly kind: "progress"; readonly turn: number; readonly progress: Progress }
  | { readonly kind: "field"; readonly turn: number; readonly field: FieldView }
  | { readonly kind: "outlines"; readonly outlines: readonly Outline[] }
  /** Fields worked out so far while the farm is on its way. */
  | { readonly kind: "farm-so-far"; readonly turn: number; readonly fields: readonly FieldLine[] }
  | { readonly kind: "farm"; readonly turn: number; readonly farm: FarmView }
  | {
      readonly kind: "read-out";
      readonly turn: number;
      readonly readOut: ReadOut | null;
      /** Null where the open sheet does not show the need. */
      readonly explained: NeedExplained | null;
      readonly at: LonLat;
    }
  | { readonly kind: "stopped"; readonly turn: number }
  /** Everything that was asked for is worked out, written and read back. */
  | { readonly kind: "done"; readonly turn: number }
  | { readonly kind: "question"; readonly turn: number; readonly questions: readonly Question[] }
  | { readonly kind: "trouble"; readonly turn: number; readonly trouble: Trouble }
  | {
      readonly kind: "taken";
      readonly turn: number;
      readonly name: string;
      readonly bytes: Uint8Array<ArrayBuffer>;
      readonly checked: readonly string[];
    }
  | { readonly kind: "stick-progress"; readonly turn: number; readonly done: number; readonly total: number }
  | { readonly kind: "stick-written"; readonly turn: number; readonly told: StickTold }
  | { readonly kind: "readings"; readonly turn: number; readonly readings: readonly FileReading[] }
  | ({ readonly kind: "recognised"; readonly turn: number } & Recognised);
