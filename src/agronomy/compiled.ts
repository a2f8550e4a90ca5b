/**
 * The form of a rule made ready for one crop, nutrient, test method and set of answers.
 * Tests are in the unit of the guide; CEC in meq/100 g (NaN where not needed);
 * yields in bu/ac; rates in lb oxide per acre of the field, never negative, not rounded.
 */
export interface CompiledForm {
  /** Of a known test, and a known CEC where one is needed. */
  rate(test: number, cecMeq: number, yieldBuPerAc: number): number;
  /** `below critical`, `maintenance`, `drawdown`, `none`, `response`, or the name of a class. */
  band(test: number, cecMeq: number): string;
  /** The arithmetic in words, one step a line. */
  steps(test: number, cecMeq: number, yieldBuPerAc: number): string[];
  /** Where the guide has one, in the unit of the guide. */
  criticalLevel(cecMeq: number): number | undefined;
  /**
   * Whether the guide's data say that the crop answers here: below the critical level; in a guide without one below the class
   * that replaces removal, or where an equation of the response holds. False where nothing says so, as in own tables.
   */
  isBelowCritical(test: number, cecMeq: number): boolean;
  /** Tests at which the rate jumps, rising. */
  jumps(cecMeq: number): number[];
  readonly needsCec: boolean;
  /** Ids of the constants used. */
  readonly constants: readonly string[];
}

/**
 * A compiled form with what the guide says about the rule as a whole. Its rate is NaN where the test is, or a CEC that is
 * needed.
 */
export interface CompiledRule extends CompiledForm {
  readonly yearsCovered: number;
  readonly neverRisesWithTest: boolean;
}
