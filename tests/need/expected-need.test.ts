import { describe, expect, it } from "vitest";
import { expectedNeed, needQuantile, normalQuantile } from "../../src/need/index.ts";

const one = (mean: number, variance: number) => ({
  mean: Float64Array.of(mean),
  variance: Float64Array.of(variance),
});

describe("quantiles of the normal distribution", () => {
  // Tables of the standard normal distribution, as in any handbook of statistics (from memory).
  it.each([
    [0.5, 0],
    [0.8413447460685429, 1],
    [0.95, 1.6448536269514722],
    [0.975, 1.959963984540054],
    [0.001, -3.090232306167813],
  ])("%f", (share, expected) => {
    expect(normalQuantile(share)).toBeCloseTo(expected, 7);
  });
});

describe("need over a distribution of the test", () => {
  it("of a straight guide is the need of the mean", () => {
    expect(expectedNeed(one(30, 16), (test) => 200 - 3 * test)[0]).toBeCloseTo(110, 9);
  });

  it("of a step is the step times the probability of lying below it", () => {
    // P(test < 25) = Phi(-1.25) = 0.1056 for mean 30 and standard deviation 4
    const step = expectedNeed(one(30, 16), (test) => (test < 25 ? 100 : 0))[0]!;
    expect(Math.abs(step - 10.56)).toBeLessThan(100 / 64);
  });

  it("never reads a test below zero", () => {
    const read: number[] = [];
    expectedNeed(one(2, 25), (test) => {
      read.push(test);
      return 0;
    });
    expect(Math.min(...read)).toBe(0);
  });

  it("is the need itself without a variance, and nothing without a test", () => {
    expect(expectedNeed(one(30, 0), (test) => test * 2)[0]).toBe(60);
    expect(expectedNeed(one(Number.NaN, 4), () => 1)[0]).toBeNaN();
  });

  it("weighs missing against excess pounds by a quantile: at 1 : 1 the median, higher when missing costs more", () => {
    const rate = (test: number) => 200 - 3 * test;
    expect(needQuantile(one(30, 16), rate, 0.5)[0]).toBeCloseTo(110, 0);
    // share 2/3: the need at the test's 1/3 quantile, 30 - 0.4307 x 4 = 28.277
    expect(needQuantile(one(30, 16), rate, 2 / 3)[0]).toBeCloseTo(200 - 3 * 28.277, 0);
  });
});
