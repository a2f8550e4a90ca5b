import type {
  AlsoWanted,
  BalanceSheet,
  BandPoint,
  Cover,
  Excluded,
  ExplainedCell,
  FittedVariogram,
  NeedFigures,
  NeedMap,
  NeedRule,
  Odds,
  Oxide,
  ShownTest,
  TestName,
  VariogramBin,
  VariogramModel,
  WantedParts,
} from "#core";

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
interface TakenLine {
  readonly id: string;
  readonly value: number;
  readonly others: number | null;
}

export interface VariogramSummary {
  readonly bins: readonly VariogramBin[];
  /** The one used; null where nothing was kriged. */
  readonly model: VariogramModel | null;
  /** The classical fit to the bins, for comparison. */
  readonly fitted: FittedVariogram | null;
  /** Where 90 % of the averaged ones' weight lies; empty where nothing was averaged. */
  readonly band: readonly BandPoint[];
}

type PerOxide<What> = Readonly<Record<Oxide, What>>;

/** The need of the field as its sheet shows it beside the map. */
export interface NeedSummary {
  readonly from: NeedMap["from"];
  readonly figures: PerOxide<NeedFigures>;
  readonly rule: PerOxide<NeedRule | null>;
  readonly cover: PerOxide<Cover>;
  readonly wanted: PerOxide<WantedParts>;
  /** Null where the open sheet does not show it, and until the hand has rested. */
  readonly sheet: BalanceSheet | null;
  readonly alsoWanted: readonly AlsoWanted[];
  readonly excluded: Pick<Excluded, "areaAc" | "places">;
  readonly shownTests: Readonly<Partial<Record<"pH" | "bufferPH" | "organicMatter", ShownTest>>>;
}

/** The arithmetic behind the need at the place read out, by oxide. */
export type NeedExplained = PerOxide<ExplainedCell | null>;

interface MethodLine {
  readonly name: string;
  readonly rmse: number;
  readonly bias: number;
  readonly isUsed: boolean;
}
