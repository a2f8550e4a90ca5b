import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { nutrientAlong, productRates, type RatedProduct } from "../../src/products/index.ts";
import { type CeilingSplit, commonCeiling, splitByCeiling } from "../../src/split/index.ts";
import { areaM2, column, exampleB2, fieldLb, totals } from "../support/chain-need.ts";
import { soybeanNeeds } from "../support/soybean-needs.ts";

const M2 = 4046.8564224;

function ratesOf(
  guide: "equations_2020" | "table_T",
  map: "fix" | "avg",
): readonly [RatedProduct, RatedProduct] {
  const needs = soybeanNeeds(guide, map);
  return productRates(needs.p2o5LbPerAc, needs.k2oLbPerAc);
}

const split = (
  products: readonly RatedProduct[],
  capLbPerAc: number,
  basis: "field-mean" | "most-in-a-cell",
  order: "first-product-first" | "alike",
): CeilingSplit =>
  splitByCeiling({ fullLbPerAc: products.map((rated) => rated.lbPerAc), areaM2, capLbPerAc, basis, order });

// Reference: tests/data/chain-need (our own R script). 16 splits of 4 needs, caps 150 and 250.
describe("splits of 12,472 cells against R, 1e-6", () => {
  const kinds = [
    ["mean_cap", "field-mean", "alike"],
    ["cell_cap", "most-in-a-cell", "alike"],
    ["mean_cap_MAP_first", "field-mean", "first-product-first"],
    ["cell_cap_MAP_first", "most-in-a-cell", "first-product-first"],
  ] as const;
  // A rest of a few lb out of thousands feels the 6 digits of the maps: 1e-9 of the whole on top.
  const near = (have: number, want: number, whole: number = want): void => {
    expect(Math.abs(have - want)).toBeLessThanOrEqual(1e-6 * Math.abs(want) + 1e-9 * whole);
  };

  for (const [map, columns] of [
    ["ok_fixed", "fix"],
    ["ok_averaged", "avg"],
  ] as const) {
    for (const guide of ["equations_2020", "table_T"] as const) {
      const products = ratesOf(guide, columns);
      for (const cap of [150, 250] as const) {
        test.each(kinds)(`${map} ${guide} cap ${cap}: %s`, (name, basis, order) => {
          const want = totals.soybean[map][guide][cap === 150 ? "products" : "products_cap_250"][name];
          const have = split(products, cap, basis, order);
          [want.MAP, want.potash].forEach((total, p) => {
            near(fieldLb(products[p]!.lbPerAc), total.total_lb);
            near(fieldLb(have.stripLbPerAc[p]!), total.strip_lb, total.total_lb);
            near(fieldLb(have.broadcastLbPerAc[p]!), total.broadcast_lb, total.total_lb);
          });
          near(fieldLb(nutrientAlong(products, "n")), want.N_lb_with_MAP);
          const strip = have.stripLbPerAc[0]!.map((rate, i) => rate + have.stripLbPerAc[1]![i]!);
          near(fieldLb(strip) / fieldLb(strip.map(() => 1)), want.mean_strip_lb_ac);
          near(Math.max(...strip), want.max_strip_lb_ac);
          const waits = have.broadcastLbPerAc[0]!.map((rate, i) =>
            rate + have.broadcastLbPerAc[1]![i]! > 1e-9 ? 1 : 0,
          );
          near(fieldLb(waits), want.acres_broadcast);
          if (want.ceiling_lb_ac === "Inf") expect(have.ceilingLbPerAc).toBe(Number.POSITIVE_INFINITY);
          else if (want.ceiling_lb_ac !== undefined) near(have.ceilingLbPerAc, want.ceiling_lb_ac);
        });
      }
    }
  }

  test.each([
    ["equations_2020", "e20"],
    ["table_T", "T"],
  ] as const)("%s mean cap 150 cell by cell", (guide, key) => {
    const have = split(ratesOf(guide, "fix"), 150, "field-mean", "alike");
    [column(`${key}_map_strip`), column(`${key}_pot_strip`)].forEach((want, p) => {
      const worst = want.reduce(
        (most, rate, i) => Math.max(most, Math.abs(have.stripLbPerAc[p]![i]! - rate)),
        0,
      );
      expect(worst).toBeLessThan(1e-3);
    });
  });
});

test("example b2: ceiling 215.385 over three classes, rates 176.92, 215.38, 215.38 (our worked example)", () => {
  const { zones, meanStripRate } = exampleB2.inputs;
  const area = Float64Array.from(zones, (zone) => zone.ac * M2);
  const products = productRates(
    Float64Array.from(zones, (zone) => zone.needP2O5),
    Float64Array.from(zones, (zone) => zone.needK2O),
  );
  const have = splitByCeiling({
    fullLbPerAc: products.map((rated) => rated.lbPerAc),
    areaM2: area,
    capLbPerAc: meanStripRate,
    basis: "field-mean",
    order: "first-product-first",
  });
  expect(have.ceilingLbPerAc).toBeCloseTo(exampleB2.expected.ceiling.ceiling, 6);
  exampleB2.expected.ceiling.rates.forEach((rate, i) => {
    expect(have.stripLbPerAc[0]![i]! + have.stripLbPerAc[1]![i]!).toBeCloseTo(rate, 6);
  });
});

const seed = 20260302;
const cell = fc.record({
  a: fc.oneof(fc.constant(0), fc.double({ min: 0, max: 400, noNaN: true })),
  b: fc.oneof(fc.constant(0), fc.double({ min: 0, max: 400, noNaN: true })),
  m2: fc.double({ min: 1, max: 100, noNaN: true }),
});
const field = fc.array(cell, { minLength: 1, maxLength: 40 });
const basisOf = fc.constantFrom("field-mean", "most-in-a-cell");
const orderOf = fc.constantFrom("first-product-first", "alike");
const cap = fc.oneof(fc.constant(0), fc.double({ min: 0, max: 900, noNaN: true }));

function splitOf(
  cells: readonly { a: number; b: number; m2: number }[],
  capLbPerAc: number,
  basis: "field-mean" | "most-in-a-cell",
  order: "first-product-first" | "alike",
): CeilingSplit & { total: number[]; area: Float64Array } {
  const area = Float64Array.from(cells, (one) => one.m2);
  const full = [Float64Array.from(cells, (one) => one.a), Float64Array.from(cells, (one) => one.b)];
  const have = splitByCeiling({ fullLbPerAc: full, areaM2: area, capLbPerAc, basis, order });
  return { ...have, area, total: cells.map((_, i) => have.stripLbPerAc[0]![i]! + have.stripLbPerAc[1]![i]!) };
}
const meanOf = (values: readonly number[], area: Float64Array): number =>
  values.reduce((sum, value, i) => sum + value * area[i]!, 0) / area.reduce((sum, value) => sum + value, 0);

describe("properties", () => {
  test("strip and broadcast make up the whole, neither is negative, no cell is above the ceiling", () => {
    fc.assert(
      fc.property(field, cap, basisOf, orderOf, (cells, capLbPerAc, basis, order) => {
        const have = splitOf(cells, capLbPerAc, basis, order);
        cells.forEach((one, i) => {
          [one.a, one.b].forEach((full, p) => {
            const strip = have.stripLbPerAc[p]![i]!;
            const broadcast = have.broadcastLbPerAc[p]![i]!;
            expect(Math.min(strip, broadcast)).toBeGreaterThanOrEqual(0);
            expect(Math.abs(strip + broadcast - full)).toBeLessThanOrEqual(1e-12 * full);
          });
          expect(have.total[i]!).toBeLessThanOrEqual(have.ceilingLbPerAc * (1 + 1e-12));
          // Below the ceiling nothing waits.
          if (one.a + one.b < have.ceilingLbPerAc)
            expect(have.broadcastLbPerAc[0]![i]! + have.broadcastLbPerAc[1]![i]!).toBeLessThanOrEqual(1e-12);
        });
      }),
      { seed, numRuns: 300 },
    );
  });

  test("field mean: the mean strip rate is the cap, or the whole need when that is less", () => {
    fc.assert(
      fc.property(field, cap, orderOf, (cells, capLbPerAc, order) => {
        const have = splitOf(cells, capLbPerAc, "field-mean", order);
        const full = meanOf(
          cells.map((one) => one.a + one.b),
          have.area,
        );
        expect(Math.abs(meanOf(have.total, have.area) - Math.min(capLbPerAc, full))).toBeLessThanOrEqual(
          1e-9,
        );
      }),
      { seed, numRuns: 300 },
    );
  });

  test("the ceiling is that of a bisection, and rises with the cap", () => {
    fc.assert(
      fc.property(field, fc.double({ min: 0.1, max: 500, noNaN: true }), (cells, capLbPerAc) => {
        const rates = Float64Array.from(cells, (one) => one.a + one.b);
        const area = Float64Array.from(cells, (one) => one.m2);
        const ceiling = commonCeiling(rates, area, capLbPerAc);
        const mean = (c: number): number =>
          meanOf(
            [...rates].map((rate) => Math.min(rate, c)),
            area,
          );
        if (ceiling === Number.POSITIVE_INFINITY) {
          expect(mean(1e9)).toBeLessThanOrEqual(capLbPerAc + 1e-9);
        } else {
          let [low, high] = [0, 1000];
          for (let i = 0; i < 80; i++) {
            const middle = (low + high) / 2;
            if (mean(middle) < capLbPerAc) low = middle;
            else high = middle;
          }
          expect(Math.abs(ceiling - low)).toBeLessThanOrEqual(1e-7 * Math.max(1, low));
        }
        expect(commonCeiling(rates, area, capLbPerAc * 1.01)).toBeGreaterThanOrEqual(ceiling);
      }),
      { seed, numRuns: 200 },
    );
  });

  test("filling in order keeps the first product whole while the second waits; alike keeps the ratio", () => {
    fc.assert(
      fc.property(field, cap, (cells, capLbPerAc) => {
        const first = splitOf(cells, capLbPerAc, "most-in-a-cell", "first-product-first");
        const alike = splitOf(cells, capLbPerAc, "most-in-a-cell", "alike");
        cells.forEach((one, i) => {
          if (first.stripLbPerAc[1]![i]! > 0) expect(first.broadcastLbPerAc[0]![i]!).toBe(0);
          expect(
            Math.abs(alike.stripLbPerAc[0]![i]! * one.b - alike.stripLbPerAc[1]![i]! * one.a),
          ).toBeLessThanOrEqual(1e-9 * (1 + one.a * one.b));
        });
      }),
      { seed, numRuns: 200 },
    );
  });
});

describe("edges", () => {
  test("a cell without a value stays without one and counts nothing", () => {
    const have = splitByCeiling({
      fullLbPerAc: [Float64Array.of(100, Number.NaN, 300), Float64Array.of(100, 50, 100)],
      areaM2: Float64Array.of(100, 100, 100),
      capLbPerAc: 200,
      basis: "field-mean",
      order: "first-product-first",
    });
    expect(have.ceilingLbPerAc).toBe(200);
    expect(have.stripLbPerAc.map((rates) => [...rates])).toEqual([
      [100, Number.NaN, 200],
      [100, Number.NaN, 0],
    ]);
  });

  test("a cap of nothing leaves all for the spreader; a negative cap is refused", () => {
    const input = {
      fullLbPerAc: [Float64Array.of(0, 80)],
      areaM2: Float64Array.of(100, 100),
      basis: "field-mean",
      order: "alike",
    } as const;
    expect([...splitByCeiling({ ...input, capLbPerAc: 0 }).stripLbPerAc[0]!]).toEqual([0, 0]);
    expect(() => splitByCeiling({ ...input, capLbPerAc: -1 })).toThrow(/cap -1/);
    expect(() => splitByCeiling({ ...input, capLbPerAc: Number.NaN })).toThrow(/cap NaN/);
  });

  test("maps of different lengths are our bug", () => {
    expect(() =>
      splitByCeiling({
        fullLbPerAc: [Float64Array.of(1)],
        areaM2: Float64Array.of(1, 2),
        capLbPerAc: 1,
        basis: "field-mean",
        order: "alike",
      }),
    ).toThrow(/different lengths/);
  });
});
