import type { AssumedFigure, FieldSalt, GapId, RigCapacity, Split, SplitLine } from "#core";

/** The split as its sheet shows it beside the map. */
export interface SplitView extends Pick<Split, "method" | "capLbPerAc" | "share" | "layers" | "optimum"> {
  /** Where the field stays short or too much lies; empty where neither comes to half a lb/ac. */
  readonly gaps: readonly GapId[];
  readonly lines: readonly SplitLine[];
  readonly care: readonly SplitLine[];
  readonly salt: Pick<FieldSalt, "place" | "told" | "blocked" | "needsName" | "acknowledgedBy" | "overAc">;
  /** Of each blend in a bin. */
  readonly blends: readonly (readonly SplitLine[])[];
  /** Keys of the rig that are not told; capacity is null then. */
  readonly missing: readonly string[];
  readonly capacity: CapacityView | null;
}

/** Acres a fill and a day at the rates of this field. */
export interface RateOfWork {
  /** Null at a rate of 0. */
  readonly acPerFill: number | null;
  /** Begun with bins and tenders full, and without that. */
  readonly fromFullAcPerDay: number;
  readonly steadyAcPerDay: number;
  readonly bound: "rig" | "tender";
}

/** Acres a day more: in the long run, and on one day begun with bins and tenders full. */
export interface MoreAcres {
  readonly steady: number;
  readonly fromFull: number;
}

/** What the rig does at the rates of this field. */
export interface CapacityView extends RateOfWork {
  readonly svg: string;
  readonly about: string;
  readonly fills: number;
  readonly countedBy: RigCapacity["countedBy"];
  readonly waitMinutesPerFill: number;
  /** What buys acres a day; null with product always at hand. */
  readonly levers: { readonly lowerRate: MoreAcres; readonly anotherTender: MoreAcres } | null;
  readonly lines: readonly string[];
  readonly assumed: readonly AssumedFigure[];
}
