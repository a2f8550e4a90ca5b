import { expect, test } from "vitest";
import { randomStream, xoshiro128 } from "../../src/scenario/index.ts";

test("xoshiro128** gives its published sequence from the state 1, 2, 3, 4", () => {
  // Sequence of the rand_xoshiro test suite, seen second-hand in several public test files; the first three
  // numbers also by hand: rotl(2 x 5, 7) x 9 = 11520; then 0; then rotl(1029 x 5, 7) x 9 = 5927040.
  const bits = xoshiro128([1, 2, 3, 4]);
  expect(Array.from({ length: 6 }, bits)).toEqual([11520, 0, 5927040, 70819200, 2031721883, 1637235492]);
});

test("a stream depends on seed and name only", () => {
  const draw = (seed: number, name: string) => Array.from({ length: 5 }, randomStream(seed, name).bits);
  expect(draw(7, "soil/P")).toEqual(draw(7, "soil/P"));
  expect(draw(7, "soil/P")).not.toEqual(draw(7, "soil/K"));
  expect(draw(7, "soil/P")).not.toEqual(draw(8, "soil/P"));
});

test("uniform and normal draws have the moments they should", () => {
  const random = randomStream(11, "moments");
  const n = 40_000;
  const mean = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0) / values.length;
  const uniform = Array.from({ length: n }, () => random.uniform());
  const normal = Array.from({ length: n }, () => random.normal());
  // Five standard errors.
  expect(Math.abs(mean(uniform) - 0.5)).toBeLessThan(5 * Math.sqrt(1 / 12 / n));
  expect(Math.abs(mean(normal))).toBeLessThan(5 / Math.sqrt(n));
  expect(Math.abs(mean(normal.map((z) => z * z)) - 1)).toBeLessThan(5 * Math.sqrt(2 / n));
  expect(Math.abs(mean(normal.map((z) => z ** 4)) - 3)).toBeLessThan(5 * Math.sqrt(96 / n));
  expect(uniform.every((value) => value >= 0 && value < 1)).toBe(true);
});

test("a shuffle keeps every item and leaves its input alone", () => {
  const items = Object.freeze(Array.from({ length: 50 }, (_, i) => i));
  const mixed = randomStream(3, "shuffle").shuffled(items);
  expect(mixed).not.toEqual(items);
  expect([...mixed].sort((a, b) => a - b)).toEqual(items);
});
