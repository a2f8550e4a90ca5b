// The automatic map against kriging with the model the field was drawn from (seeded simulations).
import { describe, expect, it } from "vitest";
import { chooseModel, krige, predictiveFactor, type VariogramModel } from "../../src/interpolate/index.ts";
import { simulate } from "./simulate.ts";

/** A block so small that it only takes the nugget out. */
const SPOT = { widthM: 1, heightM: 1 };
const SIDE_M = 800;

/** Models of variance 1 from short to long, little to much nugget, three shapes. */
const TRUTHS: VariogramModel[] = [
  { nugget: 0.2, structures: [{ type: "spherical", partialSill: 0.8, range: 0.3 * SIDE_M }] },
  { nugget: 0.5, structures: [{ type: "spherical", partialSill: 0.5, range: 0.6 * SIDE_M }] },
  { nugget: 0.3, structures: [{ type: "exponential", partialSill: 0.7, range: 0.15 * SIDE_M }] },
  { nugget: 0.3, structures: [{ type: "matern", partialSill: 0.7, range: 0.1 * SIDE_M, kappa: 1.5 }] },
];

/** Excess of mean squared error over the true model's, as a share of the variance 1, and cover of 90 % intervals. */
function measure(n: number, fields: number): { excess: number; cover: number } {
  let excess = 0;
  let covered = 0;
  let places = 0;
  TRUTHS.forEach((truth, t) => {
    for (let k = 0; k < fields; k++) {
      const { samples, targets, structured } = simulate(n, SIDE_M, truth, 1000 * t + k + 1);
      const auto = krige(samples, chooseModel(samples).model, targets, { block: SPOT });
      const best = krige(samples, truth, targets, { block: SPOT });
      for (let i = 0; i < structured.length; i++) {
        const error = auto.estimate[i]! - structured[i]!;
        excess += error ** 2 - (best.estimate[i]! - structured[i]!) ** 2;
        if (Math.abs(error) <= 1.6448536 * Math.sqrt(auto.variance[i]! * predictiveFactor(n))) covered++;
        places++;
      }
    }
  });
  return { excess: excess / places, cover: covered / places };
}

describe("the automatic map, where the truth is known", () => {
  it.each([5, 10, 15, 30, 60])(
    "%d samples: excess error at most 6 % of the variance; cover of 90 % intervals",
    (n) => {
      const { excess, cover } = measure(n, 15);
      expect(excess).toBeLessThan(0.06);
      // 85 to 93 % over many fields; 60 fields leave a standard error of 1 %, and two of them are allowed here.
      expect(cover).toBeGreaterThan(0.83);
      expect(cover).toBeLessThan(0.95);
    },
  );

  it("without any pattern the excess stays small too", () => {
    let excess = 0;
    for (let seed = 1; seed <= 30; seed++) {
      const { samples, targets } = simulate(30, SIDE_M, { nugget: 1, structures: [] }, seed);
      const { estimate } = krige(samples, chooseModel(samples).model, targets, { block: SPOT });
      const mean = samples.value.reduce((a, b) => a + b, 0) / 30;
      for (const e of estimate) excess += (e ** 2 - mean ** 2) / estimate.length / 30;
    }
    expect(excess).toBeLessThan(0.06);
  });
});
