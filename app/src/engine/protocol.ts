import type {
  Answers,
  Balance,
  Classes,
  DriveFigures,
  Grade,
  GuideInUse,
  LayerId,
  Notice,
  Plan,
  Progress,
  Question,
  ReadOut,
  RefusedField,
  StickRecord,
  UnitSystem,
} from "#core";

import type { StickErrand, StickTold } from "../stick/put-on-stick.ts";
import type {
  DrawnLayer,
  Ground,
  LonLat,
  LonLatRings,
  MapBefore,
  NamedFile,
  Outline,
  PassLines,
} from "./drawn-types.ts";
import type { FileReading } from "./read-files.ts";
import type { Dropped, Recognised } from "./recognise.ts";
import type { OpenPlan } from "./same-names.ts";
import type { SeasonAsk, SeasonTold } from "./season-protocol.ts";
import type { RateOfWork, SplitView } from "./split-summary.ts";
import type { NeedExplained, NeedSummary, TestSummary } from "./summaries.ts";

export type * from "./drawn-types.ts";
export type { RateOfWork } from "./split-summary.ts";
export type {
  NeedExplained,
  NeedSummary,
  TestSummary,
  VariogramSummary,
} from "./summaries.ts";

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
  /** How the need is split and what the rig makes of it is shown. */
  readonly split: boolean;
}

export type ToEngine =
  /** The plan's files; forgets everything worked out from others. */
  | { readonly kind: "files"; readonly files: readonly NamedFile[] }
  /** Files that will soon be opened, and the field that will be looked at, as the address has it. */
  | { readonly kind: "ahead"; readonly files: readonly NamedFile[]; readonly field: string | null }
  | {
      readonly kind: "work";
      readonly turn: number;
      readonly plan: Plan;
      readonly answers: Answers;
      readonly look: Look;
      /** Every field, for the farm's totals; else the chosen field alone. */
      readonly wholeFarm: boolean;
    }
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
      readonly errand: StickErrand;
    }
  | {
      /** Fills, season, order or logs; worked out beside the maps. */
      readonly kind: "season";
      readonly turn: number;
      readonly plan: Plan;
      readonly answers: Answers;
      readonly ask: SeasonAsk;
    }
  /** The layer on the plat by an earlier state of the plan, held for the read-out too; until it is let go. */
  | {
      readonly kind: "before";
      readonly turn: number;
      readonly plan: Plan;
      readonly answers: Answers;
      readonly field: string;
      readonly layer: LayerId;
      readonly classes: Classes;
      readonly system: UnitSystem;
    }
  | { readonly kind: "before-let-go" }
  /** The farm's figures by another state of the plan. */
  | { readonly kind: "compare"; readonly turn: number; readonly plan: Plan; readonly answers: Answers }
  | {
      readonly kind: "read-files";
      readonly turn: number;
      readonly files: readonly NamedFile[];
      readonly answers: Answers;
      readonly joins: OpenPlan | null;
      readonly leftOut: readonly string[];
    }
  | ({ readonly kind: "recognise"; readonly turn: number } & Dropped);

/** Files to carry off: the prescriptions of every field, or one sheet as HTML. */
export type TakeAway =
  | { readonly kind: "prescriptions" }
  | { readonly kind: "sheet"; readonly path: string }
  /** plan.json and the files it names. */
  | { readonly kind: "plan" };

export interface MapFile {
  readonly pass: "strip" | "broadcast";
  readonly bin: string;
  readonly product: string;
  /** Percent by weight. */
  readonly analysis: Grade;
  readonly stem: string;
  readonly polygons: number;
  readonly totalLb: number;
  /** lb/ac after stepping and how many pieces carry it, low first. */
  readonly rates: readonly (readonly [rate: number, pieces: number])[];
  /** File name and bytes; empty while the files are not written. */
  readonly files: readonly (readonly [name: string, bytes: number])[];
}

/** One field in the farm's list. */
export interface FieldLine {
  readonly id: string;
  readonly areaAc: number;
  /** What the plan that the figures are of lays, in its order. */
  readonly products: readonly string[];
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
  readonly driving: DriveFigures;
  readonly shiftM: number;
  /** Ground that is kept off, polygons of rings. */
  readonly keptOff: { readonly strip: readonly LonLatRings[]; readonly surface: readonly LonLatRings[] };
  readonly layers: readonly DrawnLayer[];
  /** Empty where the open sheet does not show them. */
  readonly tests: readonly TestSummary[];
  readonly need: NeedSummary;
  /** Null where the open sheet does not show it. */
  readonly split: SplitView | null;
  /** Null where the plan does not tell the rig. */
  readonly work: RateOfWork | null;
  readonly needMeanLbPerAc: { readonly P2O5: number; readonly K2O: number };
}

export interface FarmView {
  readonly planSha256: string;
  readonly acres: number;
  readonly fields: readonly FieldLine[];
  readonly refused: readonly RefusedField[];
  readonly notices: readonly Notice[];
  readonly incomplete: string;
  readonly guides: readonly GuideInUse[];
}

/** Code of the trouble that the page's server has ended. */
export const SERVER_GONE = "server-gone";

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
      /** Of the state that is compared with; null where none is. */
      readonly before: ReadOut | null;
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
  | { readonly kind: "season-told"; readonly turn: number; readonly told: SeasonTold }
  | { readonly kind: "stick-begun"; readonly turn: number; readonly record: StickRecord }
  | { readonly kind: "stick-progress"; readonly turn: number; readonly done: number; readonly total: number }
  | { readonly kind: "stick-written"; readonly turn: number; readonly told: StickTold }
  | { readonly kind: "compared"; readonly turn: number; readonly farm: FarmView }
  /** Null where there was no such map then. */
  | { readonly kind: "map-before"; readonly turn: number; readonly before: MapBefore | null }
  | { readonly kind: "readings"; readonly turn: number; readonly readings: readonly FileReading[] }
  | ({ readonly kind: "recognised"; readonly turn: number } & Recognised);
