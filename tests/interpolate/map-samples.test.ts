// The ten steps, on the real set (tests/data/oxford) and on the awkward ones.
import { describe, expect, it } from "vitest";
import {
  chooseModel,
  krigeGrid,
  mapSamples,
  type Samples,
  type VariogramModel,
} from "../../src/interpolate/index.ts";
import { simulate } from "./simulate.ts";
import { oxford, sd } from "./tables.ts";

const GRID = { nx: 6, ny: 21, ix0: -3, iy0: -10, cellM: 100 };
const ALL = new Uint8Array(126).fill(1);
const SMALL = { nx: 12, ny: 12, ix0: 0, iy0: 0, cellM: 10 };
const SMALL_ALL = new Uint8Array(144).fill(1);
const names = Array.from({ length: 126 }, (_, i) => `${i + 1}`);
const some = (x: number[], y: number[], value: number[]): Samples => ({
  x: Float64Array.from(x),
  y: Float64Array.from(y),
  value: Float64Array.from(value),
});
const codes = (map: { notices: readonly { code: string }[] }): string[] => map.notices.map((n) => n.code);

describe("from samples to a map", () => {
  it("maps what is kriged from the values as reported, and tells ten steps", async () => {
    const samples = oxford("P");
    const map = await mapSamples(samples, GRID, ALL, { test: "P", unit: "ppm", names });
    const plain = await krigeGrid(samples, chooseModel(samples).model, GRID, ALL, { variance: true });
    expect(map.estimate).toEqual(plain.estimate);
    expect(map.variance).toEqual(plain.variance);
    expect(map.decisions.map((d) => d.step)).toEqual([1, 2, 3, 4, 5, 6, 7, 8, 9, 10]);
    const spoken = map.decisions.map((d) => d.sentence);
    expect(spoken[0]).toBe("126 samples of P used.");
    // Skewness after correction; the raw value's is 1.03 as m3 / m2^1.5 in the table's text.
    expect(map.decisions[1]!.figures.skewness).toBeGreaterThan(0.3);
    expect(map.decisions[1]!.figures.skewness).toBeLessThan(1.03);
    expect(spoken[5]).toContain("Kriging stays.");
    expect(map.decisions[5]!.figures["inverse distance 2"]).toBeCloseTo(3.29017250635, 9);
    for (const sentence of spoken) expect(sentence).not.toMatch(/NaN|undefined|Infinity/);
    expect(map.noPattern).toBe(false);
    expect(map.table!.calibrated).toBe(true);
  });

  it("names the 847 ppm sample of K and says its uncertainty is not calibrated", async () => {
    const map = await mapSamples(oxford("K"), GRID, ALL, { test: "K", unit: "ppm", names });
    expect(map.notices).toContainEqual(
      expect.objectContaining({ code: "check-sample", where: "K, sample 27" }),
    );
    expect(map.notices.map((n) => n.where)).not.toContain("K, sample 6");
    expect(codes(map)).toContain("not-calibrated");
    expect(map.decisions[3]!.sentence).toContain("27 (847 to ");
  });

  it("says that the model of CEC sits on the edge of what was tried", async () => {
    const map = await mapSamples(oxford("CEC"), GRID, ALL, { test: "CEC", unit: "meq/100 g" });
    expect(codes(map)).toContain("model-at-edge");
    expect(map.decisions[2]!.figures.edgeWeight).toBeGreaterThan(1 / 3);
  });

  it("one sample: its value, no variance, told so", async () => {
    const map = await mapSamples(some([50], [50], [20]), SMALL, SMALL_ALL, { test: "P", unit: "ppm" });
    expect(map.estimate.every((e) => e === 20)).toBe(true);
    expect(map.variance.every(Number.isNaN)).toBe(true);
    expect(codes(map)).toEqual(["field-mean-only", "no-pattern"]);
    expect(map.table).toBeUndefined();
    for (const { sentence } of map.decisions) expect(sentence).not.toMatch(/NaN|undefined|Infinity/);
  });

  it("four samples: their mean, with the variance of a mean", async () => {
    const four = some([10, 110, 10, 110], [10, 10, 110, 110], [10, 20, 30, 60]);
    const map = await mapSamples(four, SMALL, SMALL_ALL, { test: "K", unit: "ppm" });
    for (const e of map.estimate) expect(e).toBeCloseTo(30, 12);
    // Variance of a mean of n independent values: s2 / n (common practice).
    for (const v of map.variance) expect(v).toBeCloseTo(sd(four.value) ** 2 / 4, 10);
    expect(codes(map)).toEqual(["field-mean-only", "no-pattern"]);
  });

  it("equal values: a flat map, no variance, no pattern", async () => {
    const x = [10, 60, 110, 10, 60, 110];
    const map = await mapSamples(
      some(
        x,
        [10, 10, 10, 110, 110, 110],
        x.map(() => 20),
      ),
      SMALL,
      SMALL_ALL,
      {
        test: "P",
        unit: "ppm",
      },
    );
    expect(map.estimate.every((e) => e === 20)).toBe(true);
    expect(map.variance.every((v) => v === 0)).toBe(true);
    expect(codes(map)).toEqual(["no-pattern"]);
    for (const { sentence } of map.decisions) expect(sentence).not.toMatch(/NaN|undefined|Infinity/);
  });

  it("keeps estimates within the sampled range and counts them; marks far cells", async () => {
    // Smooth and rising to the east: without the limit the far east would overshoot.
    const x = [5, 15, 25, 35, 45, 55];
    const line = some(
      x,
      [5, 45, 15, 55, 25, 35],
      x.map((v) => v ** 2),
    );
    const model = { nugget: 0, structures: [{ type: "gaussian" as const, partialSill: 1e6, range: 60 }] };
    const map = await mapSamples(line, SMALL, SMALL_ALL, { test: "P", unit: "ppm", model });
    const { raised, lowered, farCells } = map.decisions[8]!.figures;
    expect(raised! + lowered!).toBeGreaterThan(0);
    expect(map.estimate.every((e) => e >= 25 && e <= 3025)).toBe(true);
    // Spacing is the root of 14,400 m2 over 6 samples: 49 m.
    expect(map.far.reduce((a, b) => a + b, 0)).toBe(farCells);
    expect(map.far[143]).toBe(1);
    expect(map.far[0]).toBe(0);
    expect(codes(map)).toContain("far-from-samples");
  });

  it("noise is mostly called no pattern or a weak one, a clear pattern never", async () => {
    const grid = { nx: 10, ny: 10, ix0: 0, iy0: 0, cellM: 60 };
    const wanted = new Uint8Array(100).fill(1);
    const doubted = async (truth: VariogramModel): Promise<number> => {
      let count = 0;
      for (let seed = 1; seed <= 20; seed++) {
        const { samples } = simulate(36, 600, truth, seed * 7919);
        const map = await mapSamples(samples, grid, wanted, { test: "P", unit: "ppm" });
        expect(codes(map).includes("no-pattern")).toBe(map.noPattern);
        if (codes(map).some((code) => code === "no-pattern" || code === "weak-pattern")) count++;
      }
      return count;
    };
    expect(await doubted({ nugget: 25, structures: [] })).toBeGreaterThanOrEqual(11);
    const spherical = { type: "spherical" as const, partialSill: 20, range: 500 };
    expect(await doubted({ nugget: 5, structures: [spherical] })).toBe(0);
  });

  it("samples before this step are told, and the user's direction", async () => {
    const map = await mapSamples(oxford("P"), GRID, ALL, {
      test: "P",
      unit: "ppm",
      before: { missing: 2, merged: 0, switchedOff: 1 },
      anisotropy: { angleDeg: 30, ratio: 0.5 },
    });
    expect(map.decisions[0]!.sentence).toBe(
      "126 samples of P used (2 without a value or a place left out, 1 switched off).",
    );
    expect(map.decisions[9]!.sentence).toContain("longest at 30 degrees from north and 0.5 of that across");
    expect(map.choice.model.anisotropy).toEqual({ angleDeg: 30, ratio: 0.5 });
  });
});
