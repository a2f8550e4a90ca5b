/** The oxide a rate is counted in. Soil tests themselves are elemental P and K. */
export type Nutrient = "P2O5" | "K2O";

/**
 * How far a figure can be trusted.
 * `read` in the source named; `second-hand` in a text that quotes it; `arithmetic` from figures read;
 * `from memory` the text was not found; `common practice` no text is known; `typed` by the user; `ours`.
 */
export type Status =
  | "read"
  | "second-hand"
  | "arithmetic"
  | "from memory"
  | "common practice"
  | "typed"
  | "ours";

/** One figure of a guide. `source` is a key of the guide's `sources`. */
export interface Constant {
  readonly value: number;
  /** `ppm`, `lb/ac`, `lb/bu`, `lb per ppm`, `years`, `meq/100 g`, `-`. */
  readonly unit: string;
  readonly what: string;
  readonly source: string;
  readonly status: Status;
  /** The guide's own figure, where the user put another in its place. */
  readonly published?: number;
}

/** A figure that may hang on the CEC of the soil or on an option; a plain string is the id of a constant. */
export type Amount =
  | string
  | { readonly sum: readonly Amount[] }
  | { readonly cecLine: { readonly intercept: string; readonly slope: string } }
  | {
      readonly byCec: {
        readonly limit: string;
        /** Which side a CEC exactly on the limit takes. */
        readonly at: "low" | "high";
        readonly low: Amount;
        readonly high: Amount;
      };
    }
  | { readonly byOption: { readonly key: string; readonly values: { readonly [choice: string]: Amount } } };

/** Removal by the crop: lb oxide per bushel times the yield of the first or of the second crop. */
export interface RemovalTerm {
  readonly perBu: Amount;
  readonly crop: "first" | "second";
}

/** A flat addition, and whether the source says it counts once a crop or once an application. */
export interface Addition {
  readonly lbPerAc: Amount;
  readonly counts: "per crop" | "per application" | "not stated";
}

/** Below the critical level a raise plus removal; then removal; then, where the guide has it, drawdown; then none. */
export interface BuildUpForm {
  readonly kind: "build-up";
  readonly criticalLevel: Amount;
  /** lb oxide that raise the test by one unit of the guide. */
  readonly perUnit: Amount;
  /** Years the raise is spread over; left out where `perUnit` is already per year. */
  readonly spreadOver?: Amount;
  readonly removal: readonly RemovalTerm[];
  readonly addition?: Addition;
  /** End of the range in which removal is replaced. */
  readonly limit: Amount;
  /** Whether a test exactly on the limit is still within (removal) or beyond it (none). */
  readonly limitAt: "within" | "beyond";
  /** Test at which a straight drawdown from the limit reaches nothing; left out: none above the limit. */
  readonly zeroAt?: Amount;
}

/** intercept + perBu Y + perPpm T + perBuPpm Y T, not below zero, with cut-off and minimum. */
export interface EquationForm {
  readonly kind: "equation";
  readonly intercept?: Amount;
  readonly perBu?: Amount;
  readonly perPpm?: Amount;
  readonly perBuPpm?: Amount;
  /** At and above this test nothing. */
  readonly cutOff?: Amount;
  /** Least rate below the cut-off. */
  readonly minimum?: Amount;
}

/** (level - T) x perUnit where the test is below `applyBelow`, otherwise nothing. */
export interface RaiseToForm {
  readonly kind: "raise-to";
  readonly level: Amount;
  readonly perUnit: Amount;
  readonly applyBelow: Amount;
}

/** One class of a `ClassesForm`. */
export interface RateClass {
  readonly name: string;
  /** Upper edge in the unit of the guide; left out in the last class. */
  readonly upTo?: Amount;
  /** A fixed rate, or removal at the user's yield; left out: nothing. */
  readonly lbPerAc?: Amount;
  readonly removal?: readonly RemovalTerm[];
}

/** A rule by classes of the test, each with its rate. */
export interface ClassesForm {
  readonly kind: "classes";
  /** The class a test exactly on an edge belongs to. */
  readonly edgeIn: "lower class" | "upper class";
  readonly classes: readonly RateClass[];
}

/** Straight lines between points in rising order of the test; level before the first and after the last. */
export interface PiecesForm {
  readonly kind: "pieces";
  readonly points: readonly { readonly test: string; readonly lbPerAc: string }[];
}

/** The shape of a rule. */
export type Form = BuildUpForm | EquationForm | RaiseToForm | ClassesForm | PiecesForm;

/** What a guide says for one crop and nutrient by some extractants. */
export interface Rule {
  readonly crop: string;
  readonly nutrient: Nutrient;
  readonly methods: readonly TestMethod[];
  /** Crop years one application covers. */
  readonly yearsCovered: number;
  /** True where no rise of the test can raise the rate, whatever the yield. */
  readonly neverRisesWithTest: boolean;
  readonly form: Form;
}

/** A question a guide leaves open, such as the rotation; no choice is taken by itself. */
export interface GuideOption {
  readonly key: string;
  /** Asks for the crop that stood before: next season that is another than this one's. */
  readonly means?: "crop before";
  readonly question: string;
  readonly choices: readonly string[];
  /** Nutrients (and crops, where given) whose rule needs the answer. */
  readonly nutrients: readonly Nutrient[];
  readonly crops?: readonly string[];
}

/** Test below which a guide expects a crop to answer to the nutrient. */
export interface CriticalLevel {
  readonly crop: string;
  readonly nutrient: Nutrient;
  readonly method: TestMethod;
  readonly level: Amount;
}

/** A published (or the user's own) set of rules, as data. Files: `guides/*.json`. */
export interface Guide {
  readonly format: "guide/1";
  readonly id: string;
  readonly title: string;
  readonly publication: string;
  readonly region: string;
  readonly edition: string;
  /** Id or name of what replaced it; null while current. */
  readonly supersededBy: string | null;
  readonly testUnit: "ppm" | "lb/ac";
  /** Sampling depth the guide assumes; null where none is stated. */
  readonly depthIn: number | null;
  readonly depthStatus: Status;
  /** Years over which a raise to the critical level is spread; null where the guide builds nothing up. */
  readonly buildUpYears: Amount | null;
  readonly rounding: {
    /** Step the test is rounded to before the rule; null: not rounded. */
    readonly testTo: number | null;
    /** Step of `roundedLbPerAc`. */
    readonly rateToLbPerAc: number;
    readonly status: Status;
    readonly note: string;
  };
  readonly sources: { readonly [key: string]: string };
  readonly constants: { readonly [id: string]: Constant };
  readonly options: readonly GuideOption[];
  readonly rules: readonly Rule[];
  readonly criticalLevels: readonly CriticalLevel[];
  /** Published share of the broadcast rate that is enough in a band; never applied unless asked. */
  readonly bandFactor: { readonly P2O5: string | null };
  readonly traps: readonly string[];
}

/**
 * Extractant and laboratory finish in one word. Plain `mehlich-3` for P means that the finish is not known.
 * Methods without `-moist` are read on dried, ground soil.
 */
export type TestMethod =
  | "bray-p1"
  | "mehlich-3"
  | "mehlich-3-icp"
  | "mehlich-3-colorimetric"
  | "olsen"
  | "ammonium-acetate"
  | "ammonium-acetate-moist"
  | "mehlich-3-moist";
