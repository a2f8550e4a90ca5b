import fc from "fast-check";
import { beforeAll, describe, expect, test } from "vitest";
import { sum } from "../../src/numeric/index.ts";
import {
  cellClasses,
  type Highs,
  loadSplitSolver,
  type OptimumClass,
  splitOptimum,
} from "../../src/split/index.ts";
import { acres, squareMetres } from "../../src/units/index.ts";

const field = (needs: readonly (readonly [number, number])[], mostClasses: number, kind?: Uint8Array) => ({
  p2o5LbPerAc: Float64Array.from(needs, ([p]) => p),
  k2oLbPerAc: Float64Array.from(needs, ([, k]) => k),
  areaM2: new Float64Array(needs.length).fill(100),
  kind: kind ?? new Uint8Array(needs.length),
  mostClasses,
});

describe("classes of need", () => {
  test("at most so many, the field's pounds kept, nothing stays nothing, 200 random fields", () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.integer({ min: 0, max: 90 }), fc.double({ min: 0, max: 150, noNaN: true })), {
          minLength: 1,
          maxLength: 300,
        }),
        fc.integer({ min: 4, max: 100 }),
        (needs, most) => {
          const input = field(needs, most);
          const { classes, classOf, movedLb, stepLbPerAc } = cellClasses(input);
          expect(classes.length).toBeLessThanOrEqual(most);
          const lb = (rates: Float64Array) => sum(rates) * acres(100);
          const inClasses = (key: "p2o5LbPerAc" | "k2oLbPerAc") =>
            sum(classes.map((one) => one[key] * one.areaAc));
          expect(inClasses("p2o5LbPerAc")).toBeCloseTo(lb(input.p2o5LbPerAc), 6);
          expect(inClasses("k2oLbPerAc")).toBeCloseTo(lb(input.k2oLbPerAc), 6);
          let moved = 0;
          needs.forEach(([p], i) => {
            const one = classes[classOf[i]!]!;
            if (p === 0) expect(one.p2o5LbPerAc).toBe(0);
            moved += (Math.abs(one.p2o5LbPerAc - p) * acres(100)) / 2;
          });
          expect(movedLb.P2O5).toBeCloseTo(moved, 6);
          if (stepLbPerAc === 0) expect(movedLb).toEqual({ P2O5: 0, K2O: 0 });
        },
      ),
      { seed: 7, numRuns: 200 },
    );
  });

  test("cells of different kinds are never put together, and cells without a value belong to none", () => {
    const needs = [
      [10, 10],
      [10, 10],
      [Number.NaN, Number.NaN],
    ] as const;
    const { classes, classOf } = cellClasses(field(needs, 1, Uint8Array.from([0, 1, 0])));
    expect(classes).toHaveLength(2);
    expect([...classOf]).toEqual([0, 1, -1]);
  });
});

describe("merging equal cells", () => {
  let highs: Highs;
  beforeAll(async () => {
    highs = await loadSplitSolver();
  });

  test("the optimum over classes of equal cells is that over the cells, 40 random fields", () => {
    const products = [
      { id: "11-52-0", grade: { n: 11, p2o5: 52 }, pricePerLb: 0.39 },
      { id: "0-0-60", grade: { k2o: 60 }, pricePerLb: 0.24 },
    ];
    const zones = (list: readonly { areaAc: number; p2o5LbPerAc: number; k2oLbPerAc: number }[]) =>
      list.map(
        (one, i): OptimumClass => ({
          id: String(i),
          fieldId: "f",
          areaAc: one.areaAc,
          needLbPerAc: { p2o5: one.p2o5LbPerAc, k2o: one.k2oLbPerAc },
          floorLbPerAc: { p2o5: Math.min(15, one.p2o5LbPerAc) },
          saltCapLbPerAc: 60,
          valuePerLb: { p2o5: 0.06, k2o: 0.02 },
        }),
      );
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.integer({ min: 0, max: 4 }), fc.integer({ min: 0, max: 4 })), {
          minLength: 8,
          maxLength: 40,
        }),
        fc.integer({ min: 40, max: 250 }),
        (picks, cap) => {
          const needs = picks.map(([p, k]) => [p * 20, k * 35] as const);
          const input = field(needs, 100);
          const merged = cellClasses(input);
          expect(merged.stepLbPerAc).toBe(0);
          const cells = needs.map(([p2o5LbPerAc, k2oLbPerAc]) => ({
            areaAc: acres(100),
            p2o5LbPerAc,
            k2oLbPerAc,
          }));
          const all = { products, meanStripLbPerAcMost: cap };
          const byClass = splitOptimum(highs, { ...all, classes: zones(merged.classes) });
          // The solver must not merge them itself: each cell gets a hair of its own area.
          const apart = zones(cells).map((zone, i) => ({ ...zone, saltCapLbPerAc: 60 + i * 1e-9 }));
          const byCell = splitOptimum(highs, { ...all, classes: apart });
          expect(byCell.mergedClasses).toBe(cells.length);
          expect(Math.abs(byClass.objective - byCell.objective)).toBeLessThan(
            1e-6 * Math.max(1, byCell.objective),
          );
        },
      ),
      { seed: 11, numRuns: 40 },
    );
    expect(squareMetres(acres(100))).toBeCloseTo(100, 9);
  });
});
