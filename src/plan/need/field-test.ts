import type { Samples } from "../../interpolate/index.ts";
import type { TestName } from "../document/document-need-types.ts";
import type { PlanField } from "../document/document-types.ts";
import type { CheckedLand, SoilMap } from "../results/result-types.ts";

/** The unit a test is mapped in. */
export const TEST_UNITS: Readonly<Record<TestName, string>> = { P: "ppm", K: "ppm", CEC: "meq/100 g" };

/** The samples of one test that its map takes, and how many were left aside. */
export interface FieldTest {
  readonly taken: SoilMap["taken"];
  readonly samples: Samples;
  /** Samples of the field without a value of this test. */
  readonly missing: number;
  /** Taken out by somebody, with a reason. */
  readonly switchedOff: number;
}

/** Samples of a field with a value of the test, in file order, less those somebody switched off. */
export function fieldTest(
  checked: CheckedLand,
  test: TestName,
  switchedOff: PlanField["switchedOff"] = [],
): FieldTest {
  const off = new Set(switchedOff.filter((one) => one.test === test).map((one) => one.sample));
  const known = checked.samples
    .map((sample, i) => ({ id: sample.id, at: checked.places[i]!, value: sample[test], cecMeq: sample.CEC }))
    .filter((sample) => sample.value !== null);
  const taken = known.filter((sample) => !off.has(sample.id)) as unknown as SoilMap["taken"];
  return {
    taken,
    samples: {
      x: Float64Array.from(taken, (sample) => sample.at[0]),
      y: Float64Array.from(taken, (sample) => sample.at[1]),
      value: Float64Array.from(taken, (sample) => sample.value),
    },
    missing: checked.samples.length - known.length,
    switchedOff: known.length - taken.length,
  };
}
