import { expect, test } from "vitest";
import { Summer, sum } from "../../src/numeric/index.ts";

test("keeps what a plain sum drops", () => {
  expect(sum([1, 1e100, 1, -1e100])).toBe(2);
  expect(sum(Array.from({ length: 100_000 }, () => 0.1))).toBe(10_000);
  expect(sum([])).toBe(0);
});

test("says what happened when a term is not finite", () => {
  expect(sum([1, Number.POSITIVE_INFINITY])).toBe(Number.POSITIVE_INFINITY);
  expect(sum([1, Number.NaN, 2])).toBeNaN();
});

test("adds up as it goes", () => {
  const summer = new Summer();
  summer.add(1e16);
  summer.add(1);
  summer.add(-1e16);
  expect(summer.total).toBe(1);
});
