import { describe, expect, it } from "vitest";
import { averagedModel, semivariance, variogramBand } from "../../src/interpolate/index.ts";
import { meuse } from "./tables.ts";

const averaged = averagedModel(meuse());
const distances = [1, 80, 200, 450, 900, 1600, 5000];

describe("the band of the averaged variograms", () => {
  it("leaves at most 5 % of the nodes' weight below and above, at every distance", () => {
    for (const { distanceM, low, high } of variogramBand(averaged, distances)) {
      const weightWhere = (is: (value: number) => boolean) =>
        averaged.nodes.reduce((sum, { sill, nuggetShare, rangeM, weight }) => {
          const model =
            rangeM === 0
              ? { nugget: sill, structures: [] }
              : {
                  nugget: sill * nuggetShare,
                  structures: [
                    { type: "spherical" as const, partialSill: sill * (1 - nuggetShare), range: rangeM },
                  ],
                };
          return is(semivariance(model, distanceM, 0)) ? sum + weight : sum;
        }, 0);
      const slack = 1e-9 * high;
      expect(weightWhere((value) => value < low - slack)).toBeLessThan(0.05);
      expect(weightWhere((value) => value <= low + slack)).toBeGreaterThanOrEqual(0.05);
      expect(weightWhere((value) => value > high + slack)).toBeLessThanOrEqual(0.05 + 1e-12);
      expect(high).toBeGreaterThan(low);
    }
  });

  it("is empty where nothing was averaged", () => {
    const same = {
      x: Float64Array.of(0, 10, 20),
      y: new Float64Array(3),
      value: new Float64Array(3).fill(4),
    };
    expect(variogramBand(averagedModel(same), distances)).toEqual([]);
  });
});
