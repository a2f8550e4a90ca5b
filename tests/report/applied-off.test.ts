import { expect, test } from "vitest";
import { offInWords } from "../../src/report/index.ts";

test("what was placed in percent off the plan; no percent of a map that wants nothing", () => {
  // 532 / 500 = 1.064, 470 / 500 = 0.94.
  expect(offInWords({ placedLb: 532, plannedLb: 500 })).toBe(" (+6.4 %)");
  expect(offInWords({ placedLb: 470, plannedLb: 500 })).toBe(" (−6.0 %)");
  expect(offInWords({ placedLb: 532, plannedLb: 0 })).toBe("");
});
