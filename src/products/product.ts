/** How far a figure of a product can be trusted; see the status words of the guides. */
export type FigureStatus =
  | "read"
  | "second-hand"
  | "arithmetic"
  | "from memory"
  | "common practice"
  | "typed";

/** A figure with its source and how it is known. */
export interface Figure {
  readonly value: number;
  readonly source: string;
  readonly status: FigureStatus;
}

/** The same for a range. */
export interface FigureRange {
  readonly low: number;
  readonly high: number;
  readonly source: string;
  readonly status: FigureStatus;
}

/** Guaranteed analysis, percent by weight. P and K as oxides, the rest as elements. */
export interface Grade {
  readonly n: number;
  readonly p2o5: number;
  readonly k2o: number;
  readonly s: number;
  readonly mg: number;
  readonly zn: number;
  readonly b: number;
  readonly mn: number;
  readonly cu: number;
}

/** A dry product, named by its analysis. What is not known is left out, never guessed. */
export interface Product {
  /** `11-52-0`, `0-0-50-17S`. */
  readonly id: string;
  readonly name: string;
  readonly grade: Grade;
  readonly gradeSource: string;
  readonly gradeStatus: FigureStatus;
  readonly bulkLbPerFt3?: FigureRange;
  /** Weight basis, sodium nitrate = 100. It ranks products; it does not predict injury. */
  readonly saltIndex?: Figure;
  /** Percent at 30 C for the pure salt: an upper bound; commercial grades draw water sooner. */
  readonly criticalHumidityPercent?: Figure;
  /** Size guide number: mean size in mm x 100. */
  readonly sizeGuideNumber?: FigureRange;
  /** $ per short ton; only the user's own products and prices have one. */
  readonly pricePerTon?: number;
  readonly notes: readonly string[];
}
