import { expect, test } from "vitest";
import { Summer, sum } from "../../src/numeric/index.ts";

test("keeps what a plain sum drops", () => {
  expect(sum([1, 1e100, 1, -1e100])).toBe(2);
  expect(sum(Array.from({ length: 100_000 }, () => 0.1))).toBe(10_000);
  expect(sum([])).toBe(0);
});

test("a list, an array and any other run of numbers come to the same bits", () => {
  let seed = 5;
  const random = () => {
    seed = (seed * 48_271) % 2_147_483_647;
    return (seed / 2_147_483_647 - 0.5) * 10 ** ((seed % 40) - 20);
  };
  for (let round = 0; round < 200; round++) {
    const list = Array.from({ length: 50 }, random);
    if (round % 20 === 0) list[7] = round % 40 === 0 ? Number.POSITIVE_INFINITY : Number.NaN;
    const summer = new Summer();
    for (const value of list) summer.add(value);
    expect(sum(list)).toBe(summer.total);
    expect(sum(Float64Array.from(list))).toBe(summer.total);
    expect(sum(new Set(list))).toBe(summer.total);
  }
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
