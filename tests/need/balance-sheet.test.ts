import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { guideById, guideRemoval } from "../../src/agronomy/index.ts";
import { acresNearJumps, balanceSheet } from "../../src/need/index.ts";
import { productById, productRates } from "../../src/products/index.ts";
import { areaM2, column, totals } from "../support/chain-need.ts";
import { soybeanNeeds } from "../support/soybean-needs.ts";

const M2 = 4046.8564224;

describe("balance sheet", () => {
  test("three acres: one built up, one held, one drawn down", () => {
    const placed = productRates(Float64Array.of(100, 50, 0), Float64Array.of(0, 0, 0));
    const sheet = balanceSheet({ areaM2: Float64Array.of(M2, M2, M2), placed, removalLbPerAc: { P2O5: 48 } });
    const [p, k] = sheet.nutrients;
    expect(p).toMatchObject({
      creditLb: 0,
      direction: "The P test rises on 1.0 ac, about holds on 1.0 ac and falls on 1.0 ac.",
    });
    expect(
      [p!.placedLb, p!.removalLb, p!.buildUpLb, p!.drawdownLb].map((lb) => Number(lb!.toFixed(6))),
    ).toEqual([150, 144, 54, 48]);
    expect([p!.acresBuilding, p!.acresDrawingDown]).toEqual([expect.closeTo(1, 9), expect.closeTo(1, 9)]);
    expect(sheet.nLb).toBeCloseTo((150 / 0.52) * 0.11, 9);
    expect(k!.removalLb).toBeUndefined();
    expect(k!.direction).toContain("cannot be said");
  });

  test("sulfur along, credits counted, a cell without a value counts nothing", () => {
    const placed = productRates(Float64Array.of(0, 0), Float64Array.of(50, Number.NaN), {
      p2o5: productById("0-46-0"),
      k2o: productById("0-0-50-17S"),
    });
    const sheet = balanceSheet({
      areaM2: Float64Array.of(M2, M2),
      placed,
      removalLbPerAc: { K2O: 60 },
      creditLbPerAc: { K2O: 20 },
    });
    const k = sheet.nutrients[1]!;
    expect(sheet.sLb).toBeCloseTo(17, 9);
    expect([k.placedLb, k.creditLb, k.removalLb, k.buildUpLb].map((lb) => Number(lb!.toFixed(6)))).toEqual([
      50, 20, 60, 10,
    ]);
    expect(k.direction).toBe("The K test rises on 1.0 ac.");
  });

  test("placed + credit - removal = build-up - drawdown", () => {
    const rates = fc.array(
      fc.tuple(fc.double({ min: 0, max: 200, noNaN: true }), fc.double({ min: 1, max: 1e4, noNaN: true })),
      { minLength: 1, maxLength: 30 },
    );
    fc.assert(
      fc.property(
        rates,
        fc.double({ min: 0, max: 120, noNaN: true }),
        fc.double({ min: 0, max: 50, noNaN: true }),
        (cells, removal, credit) => {
          const need = Float64Array.from(cells, ([rate]) => rate);
          const sheet = balanceSheet({
            areaM2: Float64Array.from(cells, ([, area]) => area),
            placed: productRates(need, need),
            removalLbPerAc: { P2O5: removal, K2O: removal },
            creditLbPerAc: { P2O5: credit },
          });
          for (const one of sheet.nutrients) {
            expect(one.placedLb + one.creditLb - one.removalLb!).toBeCloseTo(
              one.buildUpLb! - one.drawdownLb!,
              6,
            );
          }
        },
      ),
      { seed: 20260303, numRuns: 100 },
    );
  });

  test("the reference field by the 2020 guide: P builds everywhere, what is placed is the need (R)", () => {
    const needs = soybeanNeeds("equations_2020", "fix");
    const guide = guideById("tri-state-2020");
    const sheet = balanceSheet({
      areaM2,
      placed: productRates(needs.p2o5LbPerAc, needs.k2oLbPerAc),
      removalLbPerAc: {
        P2O5: guideRemoval(guide, "soybean", "P2O5", 60)!,
        K2O: guideRemoval(guide, "soybean", "K2O", 60)!,
      },
    });
    const [p, k] = sheet.nutrients;
    const want = totals.soybean.ok_fixed.equations_2020;
    expect(Math.abs(p!.placedLb / want.P2O5.lb - 1)).toBeLessThan(1e-6);
    expect(Math.abs(sheet.nLb / want.products.mean_cap.N_lb_with_MAP - 1)).toBeLessThan(1e-6);
    expect(p!.direction).toBe("The P test rises on 305.9 ac.");
    // Above 170 ppm no potash: there all of removal is drawn down.
    expect(Math.abs(k!.acresDrawingDown! - want.K2O.acres_zero)).toBeLessThan(1e-3);
    expect(k!.drawdownLb).toBeCloseTo(69 * want.K2O.acres_zero, 0);
  });
});

describe("acres near a jump", () => {
  test("K of the reference field within 10 % of the 170 ppm at which 89 lb fall to nothing", () => {
    const k = column("K_fix");
    const near = acresNearJumps(
      guideById("tri-state-2020"),
      "K2O",
      { crop: "soybean", reading: { method: "mehlich-3" } },
      k,
      areaM2,
      column("CEC_fix"),
    );
    let want = 0;
    k.forEach((ppm, i) => {
      if (ppm >= 153 && ppm <= 187) want += areaM2[i]! / M2;
    });
    expect(want).toBeGreaterThan(50);
    expect(near.acres).toBeCloseTo(want, 6);
    expect(near.jumps).toEqual([170]);
  });

  test("none in a guide without jumps, none for a cell without a test", () => {
    const inputs = { crop: "corn", reading: { method: "bray-p1" } } as const;
    expect(
      acresNearJumps(
        guideById("tri-state-1995"),
        "P2O5",
        inputs,
        Float64Array.of(15, 30, 40),
        Float64Array.of(M2, M2, M2),
      ),
    ).toEqual({ acres: 0, jumps: [] });
    expect(
      acresNearJumps(
        guideById("kansas-sufficiency"),
        "P2O5",
        inputs,
        Float64Array.of(Number.NaN, 19),
        Float64Array.of(M2, M2),
      ),
    ).toEqual({ acres: 1, jumps: [20] });
  });
});
