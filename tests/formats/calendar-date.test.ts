import { expect, test } from "vitest";
import { dayOfClock } from "../../src/formats/index.ts";

test("the day of a clock is the day where it hangs, in the night before a new year too", () => {
  expect(dayOfClock(new Date(2026, 11, 31, 23, 59, 59))).toBe("2026-12-31");
  expect(dayOfClock(new Date(2027, 0, 1, 0, 0, 0))).toBe("2027-01-01");
  expect(dayOfClock(new Date(2027, 8, 9, 12))).toBe("2027-09-09");
});
