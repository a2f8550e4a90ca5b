import { InputError } from "../errors/index.ts";
import { elementOf } from "./element-of.ts";
import type { Nutrient, TestMethod } from "./types.ts";

/** What a column or a typed test is. Anything left out is named in a notice, never guessed silently. */
export interface TestReading {
  /** One of `TestMethod`; anything else is refused by name. */
  readonly method: string;
  /** ppm = mg/kg. */
  readonly unit?: "ppm" | "lb/ac";
  readonly basis?: "element" | "oxide";
  readonly depthIn?: number;
  /** Id of a conversion the user asked for by name; see `conversions`. */
  readonly conversion?: string;
  /**
   * Critical level typed by the user for the test as reported, in ppm: the way through where no conversion fits. It is
   * turned with the test where one is asked for.
   */
  readonly ownCriticalLevelPpm?: number;
}

/** Extractants of phosphorus that are known by name. */
export const pMethods: readonly TestMethod[] = [
  "bray-p1",
  "mehlich-3",
  "mehlich-3-icp",
  "mehlich-3-colorimetric",
  "olsen",
];
/** Extractants of potassium that are known by name. */
export const kMethods: readonly TestMethod[] = [
  "ammonium-acetate",
  "mehlich-3",
  "ammonium-acetate-moist",
  "mehlich-3-moist",
];

const words: { readonly [method in TestMethod]: string } = {
  "bray-p1": "Bray P1",
  "mehlich-3": "Mehlich-3",
  "mehlich-3-icp": "Mehlich-3 read by ICP",
  "mehlich-3-colorimetric": "Mehlich-3 read by colour",
  olsen: "Olsen",
  "ammonium-acetate": "ammonium acetate",
  "ammonium-acetate-moist": "ammonium acetate on moist soil or slurry",
  "mehlich-3-moist": "Mehlich-3 on moist soil or slurry",
};

/** The method a word names, for a nutrient; anything else throws `unknown-test-method`. */
export function testMethodFrom(word: string, nutrient: Nutrient): TestMethod {
  const known = nutrient === "P2O5" ? pMethods : kMethods;
  const found = known.find((method) => method === word);
  if (found !== undefined) return found;
  const element = elementOf(nutrient);
  throw new InputError(
    "unknown-test-method",
    `"${word}" is no test method for ${element}`,
    `Name the extractant and the finish as the laboratory report has it: ${known.join(", ")}.`,
  );
}

/** `Bray P1`, `Mehlich-3 read by ICP`. */
export const methodInWords = (method: TestMethod): string => words[method];
