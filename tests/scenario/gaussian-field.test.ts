import { describe, expect, test } from "vitest";
import { type Correlation, gaussianField, randomStream } from "../../src/scenario/index.ts";

const LAGS = [0.1, 0.3, 0.6, 1, 2, 3] as const;
const FIELDS = 24;
const PAIRS = 500;

/** The correlation that the field is to have at a distance. */
function correlationAt({ type, scaleM }: Correlation, distanceM: number): number {
  const h = distanceM / scaleM;
  return Math.exp(type === "exponential" ? -h : -h * h);
}

/** Half the mean squared difference at a lag, over several fields, places and directions. */
function semivariance(correlation: Correlation, lagM: number): number {
  let sum = 0;
  for (let seed = 0; seed < FIELDS; seed++) {
    const field = gaussianField(randomStream(seed, "field"), correlation);
    const random = randomStream(seed, `pairs/${lagM}`);
    for (let i = 0; i < PAIRS; i++) {
      const [x, y] = [random.between(-20_000, 20_000), random.between(-20_000, 20_000)];
      const angle = random.between(0, 2 * Math.PI);
      sum += (field(x, y) - field(x + lagM * Math.cos(angle), y + lagM * Math.sin(angle))) ** 2;
    }
  }
  return sum / (2 * FIELDS * PAIRS);
}

describe.each([
  { type: "exponential", scaleM: 140 },
  { type: "gaussian", scaleM: 160 },
] as const)("$type field", (correlation) => {
  test.each(LAGS)("its variogram is the model's at %d scales", (lag) => {
    const lagM = lag * correlation.scaleM;
    const expected = 1 - correlationAt(correlation, lagM);
    // 12,000 pairs: the relative standard error is about sqrt(2 / 12,000) = 1.3 %; four of them.
    expect(Math.abs(semivariance(correlation, lagM) / expected - 1)).toBeLessThan(0.052);
  });

  test("mean 0 and variance 1, and the same seed gives the same field", () => {
    const values = Array.from({ length: FIELDS }, (_, seed) => {
      const field = gaussianField(randomStream(seed, "field"), correlation);
      const random = randomStream(seed, "places");
      return Array.from({ length: PAIRS }, () => field(random.between(-2e4, 2e4), random.between(-2e4, 2e4)));
    }).flat();
    const mean = values.reduce((sum, value) => sum + value, 0) / values.length;
    const variance = values.reduce((sum, value) => sum + (value - mean) ** 2, 0) / values.length;
    expect(Math.abs(mean)).toBeLessThan(0.046);
    expect(Math.abs(variance - 1)).toBeLessThan(0.052);
    const twice = [1, 2].map(() => gaussianField(randomStream(5, "field"), correlation)(123, -456));
    expect(twice[0]).toBe(twice[1]);
  });
});
