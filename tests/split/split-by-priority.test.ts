import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { SPLIT_LAYERS } from "../../src/plan/index.ts";
import { type NeedLayer, splitByPriority } from "../../src/split/index.ts";

const map = (...rates: number[]): Float64Array => Float64Array.from(rates);
const areaM2 = map(1, 1);
const layers: NeedLayer[] = [
  { name: "starter", product: 0, lbPerAc: map(20, 20) },
  { name: "below critical, P", product: 0, lbPerAc: map(40, 0) },
  { name: "below critical, K", product: 1, lbPerAc: map(60, 0) },
  { name: "maintenance, K", product: 1, lbPerAc: map(30, 100) },
];

describe("splitByPriority", () => {
  test("K leaves before P, build-up before maintenance", () => {
    const placeOf = (name: string) => (SPLIT_LAYERS as readonly string[]).indexOf(name);
    for (const part of ["below-critical", "maintenance", "build-up"]) {
      expect(placeOf(`${part}-P2O5`)).toBeGreaterThanOrEqual(0);
      expect(placeOf(`${part}-P2O5`)).toBeLessThan(placeOf(`${part}-K2O`));
    }
    expect(placeOf("maintenance-K2O")).toBeLessThan(placeOf("build-up-P2O5"));
  });

  test("under a limit in each cell, by hand", () => {
    const have = splitByPriority({
      layers,
      products: 2,
      areaM2,
      capLbPerAc: 100,
      basis: "most-in-a-cell",
      across: "cell",
    });
    // First cell: 20 + 40 + 40 of 60 K, no maintenance. Second: 20 + 80 of 100.
    expect(have.stripLbPerAc.map((rates) => [...rates])).toEqual([
      [60, 20],
      [40, 80],
    ]);
    expect(have.broadcastLbPerAc.map((rates) => [...rates])).toEqual([
      [0, 0],
      [50, 20],
    ]);
  });

  test("a field mean, layer by layer over the whole field, by hand", () => {
    const have = splitByPriority({
      layers,
      products: 2,
      areaM2,
      capLbPerAc: 80,
      basis: "field-mean",
      across: "field",
    });
    // Budget 160: 40 starter, 40 P, 60 K; 20 left for 130 of maintenance: a ceiling of 10 in both cells.
    expect(have.keptLbPerAc.map((rates) => [...rates])).toEqual([
      [20, 20],
      [40, 0],
      [60, 0],
      [10, 10],
    ]);
  });

  test("every pound in one of the maps, nothing negative, the mean kept, 300 random fields", () => {
    const rates = fc.array(fc.integer({ min: 0, max: 120 }), { minLength: 4, maxLength: 4 });
    fc.assert(
      fc.property(
        fc.tuple(rates, rates, rates),
        fc.integer({ min: 0, max: 300 }),
        fc.constantFrom("cell", "field"),
        (maps, capLbPerAc, across) => {
          const own = maps.map((values, l) => ({ name: `${l}`, product: l % 2, lbPerAc: map(...values) }));
          const area = map(1, 2, 3, 4);
          const have = splitByPriority({
            layers: own,
            products: 2,
            areaM2: area,
            capLbPerAc,
            basis: "field-mean",
            across,
          });
          let lb = 0;
          for (let i = 0; i < 4; i++) {
            for (let p = 0; p < 2; p++) {
              const whole = own
                .filter((layer) => layer.product === p)
                .reduce((all, layer) => all + layer.lbPerAc[i]!, 0);
              expect(have.stripLbPerAc[p]![i]! + have.broadcastLbPerAc[p]![i]!).toBeCloseTo(whole, 9);
              expect(have.stripLbPerAc[p]![i]!).toBeGreaterThanOrEqual(0);
              expect(have.broadcastLbPerAc[p]![i]!).toBeGreaterThanOrEqual(-1e-9);
              lb += have.stripLbPerAc[p]![i]! * area[i]!;
            }
          }
          const whole = own.reduce(
            (all, layer) => all + layer.lbPerAc.reduce((s, rate, i) => s + rate * area[i]!, 0),
            0,
          );
          expect(lb).toBeCloseTo(Math.min(whole, capLbPerAc * 10), 6);
        },
      ),
      { seed: 5, numRuns: 300 },
    );
  });
});
