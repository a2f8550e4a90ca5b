// The worst-first correction and the leave-one-out table; figures of the real set from R (tests/data/oxford).
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  chooseModel,
  choosePooledModels,
  leaveOneOutTable,
  type Samples,
} from "../../src/interpolate/index.ts";
import { oxford, table } from "./tables.ts";

/** A gentle slope with a ripple on a 6 x 6 raster, one value changed. */
function ripple(changed: number, value: number): Samples {
  const cells = Array.from({ length: 36 }, (_, i) => i);
  return {
    x: Float64Array.from(cells, (i) => (i % 6) * 60),
    y: Float64Array.from(cells, (i) => Math.floor(i / 6) * 60),
    value: Float64Array.from(cells, (i) => (i === changed ? value : 20 + (i % 6) + Math.sin(i * 1.7))),
  };
}

describe("outliers, for the model only", () => {
  it("Oxford K: the 847 ppm sample (id 27) goes first and the ordinary 164 ppm beside it (id 6) is left alone", () => {
    const samples = oxford("K");
    const { corrections, modelValues } = chooseModel(samples);
    expect(corrections[0]).toMatchObject({ index: 26, reported: 847, check: true });
    expect(corrections[0]!.usedForModel).toBeLessThan(700);
    expect(corrections.map((c) => c.index)).not.toContain(5);
    expect(corrections.length).toBeLessThanOrEqual(6);
    expect(modelValues[5]).toBe(164);
    expect(samples.value[26]).toBe(847);
  });

  it("pulls one planted spike back and touches nothing else", () => {
    const { corrections, modelValues } = chooseModel(ripple(14, 90));
    expect(corrections.length).toBe(1);
    expect(corrections[0]).toMatchObject({ index: 14, reported: 90, check: true });
    expect(modelValues.filter((v, i) => v !== ripple(14, 90).value[i]).length).toBe(1);
    expect(chooseModel(ripple(14, 23)).corrections).toEqual([]);
  });

  it("a typed model is kept, its doubtful samples are still named", () => {
    const model = { nugget: 1, structures: [{ type: "spherical" as const, partialSill: 4, range: 200 }] };
    const choice = chooseModel(ripple(14, 90), { model });
    expect(choice).toMatchObject({ source: "typed", model });
    expect(choice.corrections[0]).toMatchObject({ index: 14, check: true });
  });

  it("never pulls more than 5 % of the samples, nor fewer allowed than one", () => {
    const value = fc.double({ min: 1, max: 1000, noNaN: true });
    fc.assert(
      fc.property(fc.array(value, { minLength: 5, maxLength: 45 }), (values) => {
        const samples = {
          x: Float64Array.from(values, (_, i) => (i % 7) * 50),
          y: Float64Array.from(values, (_, i) => Math.floor(i / 7) * 50),
          value: Float64Array.from(values),
        };
        const { corrections } = chooseModel(samples);
        expect(corrections.length).toBeLessThanOrEqual(Math.max(1, Math.floor(0.05 * values.length)));
        for (const c of corrections) expect(Math.abs(c.standardised)).toBeGreaterThan(2.5);
      }),
      { seed: 11, numRuns: 40 },
    );
  });

  it("fewer than five samples: pure nugget; pooling leaves such a field alone", () => {
    const few = {
      x: Float64Array.of(0, 9, 30),
      y: Float64Array.of(0, 5, 1),
      value: Float64Array.of(10, 20, 30),
    };
    expect(chooseModel(few)).toMatchObject({ source: "mean", model: { nugget: 100, structures: [] } });
    const choices = choosePooledModels([ripple(0, 20), few, ripple(3, 25), ripple(14, 90)]);
    expect(choices.map((c) => c.source)).toEqual(["pooled", "mean", "pooled", "pooled"]);
    expect(choices[3]!.corrections[0]).toMatchObject({ index: 14 });
    expect(choosePooledModels([ripple(0, 20), few]).map((c) => c.source)).toEqual(["averaged", "mean"]);
  });
});

describe("leave-one-out table", () => {
  const summary = table("oxford/loo-summary.csv").filter((row) => row.scale === "raw");
  const METHODS: Record<string, string> = {
    kriging: "ok_averaged",
    "inverse distance 1": "idw1",
    "inverse distance 2": "idw2",
    "inverse distance 3": "idw3",
    "mean of the others": "mean",
  };

  it.each(["P", "K", "CEC"])("Oxford %s, averaged model on values as reported", (test) => {
    const typed = table("oxford/averaged-models.csv").filter((row) => row.test === test);
    const model = {
      nugget: Number(typed[0]!.psill),
      structures: typed.slice(1).map((row) => ({
        type: "spherical" as const,
        partialSill: Number(row.psill),
        range: Number(row.range),
      })),
    };
    const found = leaveOneOutTable(oxford(test), model);
    for (const { method, rootMeanSquare, meanError } of found.methods) {
      const row = summary.find((r) => r.test === test && r.method === METHODS[method])!;
      expect(rootMeanSquare / Number(row.RMSE)).toBeCloseTo(1, 9);
      expect(meanError).toBeCloseTo(Number(row.ME), 7);
    }
    const row = summary.find((r) => r.test === test && r.method === "ok_averaged")!;
    expect(found.meanSquaredRatio / Number(row.MSDR)).toBeCloseTo(1, 8);
    expect(found.medianSquaredRatio / Number(row.medSDR)).toBeCloseTo(1, 8);
    // One long tail: the median of K is 0.166, below 0.2.
    expect(found.calibrated).toBe(test !== "K");
    expect(found.proposed).toBeUndefined();
  });

  it("proposes another method only when it is far better, and never below 15 samples", () => {
    const samples = ripple(0, 20);
    // A model that denies the pattern predicts badly.
    const flat = { nugget: 5, structures: [] };
    expect(leaveOneOutTable(samples, flat).proposed).toMatch(/^inverse distance/);
    const few = {
      x: samples.x.slice(0, 14),
      y: samples.y.slice(0, 14),
      value: Float64Array.from({ length: 14 }, (_, i) => i % 6),
    };
    expect(leaveOneOutTable(few, flat).methods[1]!.rootMeanSquare).toBeLessThan(
      0.85 * leaveOneOutTable(few, flat).methods[0]!.rootMeanSquare,
    );
    expect(leaveOneOutTable(few, flat).proposed).toBeUndefined();
  });
});
