import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { InputError } from "../../src/errors/index.ts";
import { commonArea, multiPolygonArea } from "../../src/geo/index.ts";
import { type FieldResult, type Plan, readPlan, run, writePlan } from "../../src/plan/index.ts";
import { type BudgetCut, cutAt, queueOf, spends, type Wanting } from "../../src/plan/need/spend-budget.ts";
import { wantedField, withinLimits } from "../../src/plan/need/wanted-field.ts";
import { sumOver } from "../../src/plan/results/field-sums.ts";
import { fieldNeedLines } from "../../src/report/need-lines.ts";
import { acres, M_PER_FT } from "../../src/units/index.ts";
import {
  codes,
  inside,
  needPlan,
  openBalance,
  pounds,
  thrown,
  worked,
  workedField,
} from "../support/need-plan.ts";
import { labCsv, SAMPLES, sourceOf } from "../support/small-farm.ts";

const seed = 20_261_125;

describe("minimum and maximum rate", () => {
  it("hold strip and broadcast together; the need stays, and what is cut or added is named", async () => {
    const plain = await workedField();
    const limits = { P2O5: { minLbPerAc: 50, maxLbPerAc: 70 } };
    const field = await workedField({ field: { nutrients: limits } });
    expect(field.need.p2o5LbPerAc).toEqual(plain.need.p2o5LbPerAc);
    for (const cell of inside(field)) {
      const need = field.need.p2o5LbPerAc[cell]!;
      expect(field.wanted.p2o5LbPerAc[cell]).toBe(need === 0 ? 0 : Math.min(70, Math.max(50, need)));
    }
    const reasons = field.balanceReasons.P2O5;
    expect(reasons.raisedLb).toBeGreaterThan(5);
    expect(reasons.overMaximumLb).toBeGreaterThan(5);
    expect(openBalance(field)).toBeLessThan(1e-6);
    const out = await workedField({
      field: { nutrients: { P2O5: { minLbPerAc: 50, belowMinimum: "leave-out" } } },
    });
    expect(out.balanceReasons.P2O5.leftOutLb).toBeCloseTo(
      pounds(out, (cell) => (out.need.p2o5LbPerAc[cell]! < 50 ? out.need.p2o5LbPerAc[cell]! : 0)),
      6,
    );
    expect(openBalance(out)).toBeLessThan(1e-6);
  });

  it("a maximum is not passed by the strip's steps, and told with what they end at; a minimum above it is refused", async () => {
    // 44 lb P2O5 are 84.6 lb 11-52-0: steps of 10 lb end at 80, 41.6 lb P2O5.
    const most = { P2O5: { maxLbPerAc: 44 } };
    const split = { ...needPlan().plan.split, capLbPerAc: 2_000 };
    const field = await workedField({ field: { nutrients: most }, plan: { split } });
    const strip = field.prescriptions.find(({ pass, product }) => pass === "strip" && product === "11-52-0")!;
    expect(strip.maxLbPerAc).toBe(80);
    expect(openBalance(field)).toBeLessThan(1e-6);
    const told = (of: FieldResult, code: string) => of.notices.filter((one) => one.code === code);
    expect(told(field, "maximum-below-step").map(({ message }) => message)).toEqual([
      "Low Forty: the field's maximum is 84.6 lb 11-52-0/ac, so the strip's rates in steps of 10 lb/ac end at 80; the balance tells what that leaves short",
    ]);
    expect(told(field, "maximum-passed")).toEqual([]);
    const { plan } = needPlan({ field: { nutrients: { P2O5: { minLbPerAc: 80, maxLbPerAc: 40 } } } });
    expect(() => readPlan(writePlan(plan), "plan.json")).toThrow("minLbPerAc 80 is above maxLbPerAc 40");
  });

  it("what the spreader's steps bring beyond a maximum is told with its acres and the most of it", async () => {
    const { plan } = needPlan();
    const spreader = { ...plan.spreader, rateStepLbPerAc: 20, products: ["11-52-0"] };
    const rig = { ...plan.rig, bins: plan.rig.bins.filter(({ product }) => product === "0-0-60") };
    const field = await workedField({
      field: { nutrients: { P2O5: { maxLbPerAc: 44 } } },
      plan: { spreader, rig },
    });
    const [told, ...more] = field.notices.filter(({ code }) => code === "maximum-passed");
    expect(more).toEqual([]);
    const [, areaAc, most] = /44 lb P2O5\/ac on ([\d.]+) ac, up to ([\d.]+) lb/
      .exec(told!.message)!
      .map(Number);
    // Steps of 20 lb: cells of 80 and of 100 lb 11-52-0, of which 100 are 52 lb P2O5.
    const map = field.prescriptions.find(
      ({ pass, product }) => pass === "broadcast" && product === "11-52-0",
    )!;
    const above = map.rateLbPerAc.reduce(
      (sum, rate, k) => sum + (rate > 84.7 ? field.swaths.areaAc[k]! : 0),
      0,
    );
    expect(map.maxLbPerAc).toBe(100);
    expect(most).toBe(52);
    // 8 lb beyond, within one step of 20 lb 11-52-0, 10.4 lb P2O5.
    expect(told!.message).toMatch(/make the steps finer, or lower the maximum by as much$/);
    expect(above).toBeGreaterThan(1);
    expect(areaAc).toBeCloseTo(above, 1);
  });

  it("of strip and spreader together the maximum is held against what lies at each place", async () => {
    const { plan } = needPlan();
    const field = await workedField({
      field: { nutrients: { P2O5: { maxLbPerAc: 44 } } },
      plan: {
        spreader: { ...plan.spreader, rateStepLbPerAc: 20, products: ["11-52-0"] },
        split: { ...plan.split, capLbPerAc: 60 },
      },
    });
    const [areaAc, most] = /44 lb P2O5\/ac on ([\d.]+) ac, up to ([\d.]+) lb/
      .exec(field.notices.find(({ code }) => code === "maximum-passed")!.message)!
      .slice(1)
      .map(Number);
    // Every piece of the strip cut with every piece of the spreader.
    const maps = field.prescriptions.filter(({ analysis }) => analysis.p2o5 > 0);
    const by = (pass: string) => maps.find((map) => map.pass === pass)!.rateLbPerAc;
    expect(maps.length).toBe(2);
    let [overM2, highest] = [0, 0];
    field.passes.pieces.forEach(({ polygon: strip }, s) => {
      field.swaths.pieces.forEach(({ polygon: swath }, w) => {
        const lbPerAc = 0.52 * (by("strip")[s]! + by("broadcast")[w]!);
        if (lbPerAc <= 44 * 1.001) return;
        const m2 = multiPolygonArea(commonArea([strip], [swath]));
        overM2 += m2;
        if (m2 > 0) highest = Math.max(highest, lbPerAc);
      });
    });
    expect(acres(overM2)).toBeGreaterThan(0.5);
    expect(Math.abs(areaAc! / acres(overM2) - 1)).toBeLessThan(0.05);
    expect(most).toBeCloseTo(highest, 1);
  });

  it("beyond the steps the spreader's width is named, and a lower maximum is no remedy", async () => {
    const { plan } = needPlan();
    const field = await workedField({
      field: { nutrients: { P2O5: { maxLbPerAc: 44 } } },
      plan: {
        rig: { ...plan.rig, rateStepLbPerAc: 1 },
        spreader: { ...plan.spreader, rateStepLbPerAc: 1, widthFt: 200, lengthFt: 400 },
        split: { ...plan.split, method: "priority", capLbPerAc: 60, capBasis: "field-mean" },
      },
    });
    const { message } = field.notices.find(
      ({ code, message: text }) => code === "maximum-passed" && text.includes("P2O5"),
    )!;
    const most = Number(/up to ([\d.]+) lb/.exec(message)![1]);
    // One step of each is 2 x 0.52 lb P2O5.
    expect(most - 44).toBeGreaterThan(2 * 0.52);
    expect(message).toMatch(
      /the spreader's one rate over its whole width .* P2O5 in one pass alone ends it; finer steps do not help/,
    );
  });

  it("nothing stays nothing; the maximum goes before the minimum", () => {
    expect(withinLimits(0, { minLbPerAc: 15 })).toBe(0);
    expect(withinLimits(5, { minLbPerAc: 15 })).toBe(15);
    expect(withinLimits(5, { minLbPerAc: 15, belowMinimum: "leave-out" })).toBe(0);
    expect(withinLimits(5, { minLbPerAc: 15, maxLbPerAc: 10 })).toBe(10);
    expect(withinLimits(Number.NaN, { minLbPerAc: 15 })).toBeNaN();
  });
});

/** A stream along a meridian through the middle of the field, and a tile inlet. */
const water = JSON.stringify({
  type: "FeatureCollection",
  features: [
    {
      type: "Feature",
      properties: {},
      geometry: {
        type: "LineString",
        coordinates: [
          [-93.4988, 41.999],
          [-93.4988, 42.004],
        ],
      },
    },
    { type: "Feature", properties: {}, geometry: { type: "Point", coordinates: [-93.4972, 42.002] } },
  ],
});
const files = { "water.geojson": water };
const as = { "water.geojson": "exclusions" as const };
const stream = { source: "water.geojson", record: 1, what: "stream", setbackFt: 33 } as const;

describe("exclusions", () => {
  const withMethod = (method: "surface" | "strip" | "both") =>
    workedField({ files, as, plan: { exclusions: [{ ...stream, method }] } });

  it("no piece that reaches into them gets a rate by that method, and the balance names what is kept off", async () => {
    const plain = await workedField();
    for (const method of ["strip", "surface", "both"] as const) {
      const field = await withMethod(method);
      expect(codes(field.notices)).toContain("exclusions-kept");
      expect(openBalance(field)).toBeLessThan(1e-6);
      expect(field.need.p2o5LbPerAc).toEqual(plain.need.p2o5LbPerAc);
      // The strip of ground 33 ft to each side of the line, drawn anew from its two ends.
      const half = 33 * M_PER_FT;
      const [from, to] = [
        [-93.4988, 41.999],
        [-93.4988, 42.004],
      ].map((place) => field.checked.frame.toPlane(place as [number, number])) as [
        [number, number],
        [number, number],
      ];
      const band = [
        [
          [
            [from[0] - half, from[1]],
            [from[0] + half, from[1]],
            [to[0] + half, to[1]],
            [to[0] - half, to[1]],
          ],
        ],
      ] as const;
      const takes = multiPolygonArea(commonArea(band, field.checked.boundary));
      const area = field.excluded.areaAc[method === "both" ? "both" : method];
      expect(area).toBeCloseTo(acres(takes), 3);
      const told = field.notices.find(({ code }) => code === "exclusions-kept")!.message;
      const [ofStrip, ofSpreader] = /whole width: ([\d.]+) ac of the strip and ([\d.]+) ac of the spreader/
        .exec(told)!
        .slice(1)
        .map(Number) as [number, number];
      for (const [acresTold, { pieces, areaAc }, kept] of [
        [ofStrip, field.passes, method !== "surface"],
        [ofSpreader, field.swaths, method !== "strip"],
      ] as const) {
        const touching = pieces.map(({ polygon }, k) =>
          multiPolygonArea(commonArea(band, [polygon])) > 0.2 ? areaAc[k]! : 0,
        );
        const sum = touching.reduce((total, one) => total + one, 0);
        expect(Math.abs(acresTold - (kept ? sum : 0))).toBeLessThan(0.06);
      }
      for (const map of field.prescriptions) {
        const kept = method === "both" || (method === "strip") === (map.pass === "strip");
        const pieces = (map.pass === "strip" ? field.passes : field.swaths).pieces;
        const inBand = pieces.map((piece) => multiPolygonArea(commonArea(band, [piece.polygon])));
        const placedInBand = map.rateLbPerAc.filter((rate, k) => rate > 0 && inBand[k]! > 0.2).length;
        if (kept) expect(placedInBand).toBe(0);
      }
    }
  });

  it("kept off the strip alone, the spreader brings it; kept off both, it is named as excluded", async () => {
    const plain = await workedField();
    const strip = await withMethod("strip");
    const both = await withMethod("both");
    // Phosphate all fits under the cap, so none of it moves elsewhere in the strip.
    const [before, stripOnly, neither] = [plain, strip, both].map((field) => field.balances[0]!);
    expect(stripOnly!.stripLb).toBeLessThan(before!.stripLb);
    expect(stripOnly!.broadcastLb).toBeGreaterThan(before!.broadcastLb);
    expect(strip.balanceReasons.P2O5.excludedLb).toBe(0);
    expect(both.balanceReasons.P2O5.excludedLb).toBeGreaterThan(50);
    expect(neither!.needLb).toBeCloseTo(before!.needLb, 6);
    const placed = (field: FieldResult) => field.balances[0]!.stripLb + field.balances[0]!.broadcastLb;
    expect(placed(plain) - placed(both)).toBeCloseTo(both.balanceReasons.P2O5.excludedLb, -1);
    expect(fieldNeedLines(both).join("\n")).toMatch(
      /P2O5, of shortage and excess: kept off by exclusions \d+ lb/,
    );
  });

  it("the cap is the mean of the ground the strip may go over: what is kept off does not go on the rest", async () => {
    const split = { capLbPerAc: 60, capBasis: "field-mean", within: "first-11-52-0" } as const;
    const wide = { ...stream, method: "both", setbackFt: 120 } as const;
    const plain = await workedField({ plan: { split } });
    const kept = await workedField({ files, as, plan: { split, exclusions: [wide] } });
    const cells = (field: FieldResult) =>
      field.split.products.map(({ strip }) => sumOver(field.cells, strip));
    const lb = (field: FieldResult) => cells(field).reduce((total, one) => total + one, 0);
    const fieldAc = plain.checked.areaAc;
    expect(lb(plain)).toBeCloseTo(60 * fieldAc, 3);
    // A fifth of the field at the least is kept off, and what is left gets no more an acre than before.
    expect(kept.excluded.areaAc.strip).toBeGreaterThan(0.2 * fieldAc);
    expect(lb(kept)).toBeCloseTo(60 * (fieldAc - kept.excluded.areaAc.strip), 3);
  });

  it("a setback must be typed for a line or a point; one that reaches no field is said", async () => {
    const exclusions = [{ ...stream, method: "both" as const, setbackFt: 0 }];
    const error = await thrown(worked({ files, as, plan: { exclusions } }), InputError);
    expect(error.message).toBe(
      "water.geojson: the exclusion “stream” is a line with a setback of 0 ft, which keeps nothing off.",
    );
    const far = water.replaceAll("-93.49", "-93.39");
    const result = await worked({
      files: { "water.geojson": far },
      as,
      plan: { exclusions: [{ ...stream, method: "both" }] },
    });
    expect(codes(result.notices)).toContain("exclusion-in-no-field");
    expect(codes(result.notices)).not.toContain("no-setbacks");
  });
});

describe("a budget", () => {
  const prices = { "11-52-0": 780, "0-0-60": 480 };

  it("in $ or in lb is kept, and goes to the acres below critical first", async () => {
    const { plan } = needPlan();
    const full = await worked({ plan: { pricesUsdPerTon: prices } });
    const usd = full.totals.filter((total) => total.pass === "all").reduce((sum, one) => sum + one.usd!, 0);
    for (const budget of [{ usd: usd / 2 }, { lb: 2_000 }]) {
      const result = await worked({ plan: { pricesUsdPerTon: prices, budget } });
      const [one] = result.fields as [FieldResult];
      const cap = "usd" in budget ? budget.usd : budget.lb;
      const cost = (product: "11-52-0" | "0-0-60", share: number) =>
        "usd" in budget ? prices[product] / 2_000 / share : 1 / share;
      const wants =
        one.wanted.P2O5.wantedLb * cost("11-52-0", 0.52) + one.wanted.K2O.wantedLb * cost("0-0-60", 0.6);
      expect(Math.abs(wants / cap - 1)).toBeLessThan(1e-9);
      // The files place it in steps of 5 lb/ac; more than 0.1 % above the budget is said.
      const placed = result.totals
        .filter((total) => total.pass === "all")
        .reduce((sum, total) => sum + ("usd" in budget ? total.usd! : total.lb), 0);
      expect(codes(result.notices).includes("budget-passed")).toBe(placed > 1.001 * cap);
      expect(Math.abs(placed / cap - 1)).toBeLessThan(0.03);
      expect(codes(result.notices)).toContain("budget-spent");
      const [field] = result.fields as [FieldResult];
      expect(openBalance(field)).toBeLessThan(1e-6);
      expect(Object.values(field.balanceReasons).some((reasons) => reasons.overBudgetLb > 10)).toBe(true);
      for (const nutrient of ["P2O5", "K2O"] as const) {
        const rates = nutrient === "P2O5" ? field.wanted.p2o5LbPerAc : field.wanted.k2oLbPerAc;
        const need = nutrient === "P2O5" ? field.need.p2o5LbPerAc : field.need.k2oLbPerAc;
        const { priority } = field.need[nutrient];
        const cut = inside(field).filter((cell) => need[cell]! > 0 && rates[cell]! < need[cell]! - 1e-9);
        const least = Math.min(...cut.map((cell) => priority[cell]!));
        const paid = inside(field).filter((cell) => rates[cell]! > 0);
        expect(Math.max(...paid.map((cell) => priority[cell]!))).toBeLessThanOrEqual(least);
      }
    }
    expect(plan.budget).toBeUndefined();
  });

  it("that pays for all changes nothing; one in $ needs prices", async () => {
    const rich = await worked({ plan: { pricesUsdPerTon: prices, budget: { usd: 1e6 } } });
    const plain = await worked();
    expect(rich.fields[0]!.wanted.k2oLbPerAc).toEqual(plain.fields[0]!.wanted.k2oLbPerAc);
    expect(codes(rich.notices)).not.toContain("budget-spent");
    const error = await thrown(worked({ plan: { budget: { usd: 500 } } }), InputError);
    expect(error.message).toBe("the budget is in $ and 11-52-0 has no price");
  });

  it("is the whole plan's: fields alike share alike, and one field alone gets what it gets among all", async () => {
    const rows = (field: string) => SAMPLES.map((row) => [...row, field]);
    const headings = "id,lon,lat,P M3 ppm,K M3 ppm,CEC meq/100g,field";
    const { plan, files: own } = needPlan({
      files: { "lab.csv": labCsv(rows("low-forty"), headings), "twin.csv": labCsv(rows("twin"), headings) },
      as: { "twin.csv": "samples" },
    });
    const twin = { ...plan.fields[0]!, id: "twin", name: "Twin", samples: "twin.csv" };
    const two: Plan = { ...plan, budget: { lb: 4_000 }, fields: [...plan.fields, twin] };
    const both = await run(two, sourceOf(own), { files: "later" });
    const [first, second] = both.fields as [FieldResult, FieldResult];
    expect(second.wanted.P2O5).toEqual(first.wanted.P2O5);
    const lb = (field: FieldResult) => field.wanted.P2O5.wantedLb / 0.52 + field.wanted.K2O.wantedLb / 0.6;
    expect(lb(first) + lb(second)).toBeCloseTo(4_000, 6);
    const alone = await run(two, sourceOf(own), { files: "later", only: ["twin"] });
    expect(alone.fields[0]!.wanted).toEqual(second.wanted);
  });

  it("property: what is spent is the lesser of budget and wants, in order of priority (random cells)", () => {
    const cell = fc.record({
      rate: fc.double({ min: 0, max: 150, noNaN: true }),
      priority: fc.constantFrom(0.2, 0.5, 0.9, 1, 1.4),
      areaM2: fc.double({ min: 0, max: 100, noNaN: true }),
    });
    fc.assert(
      fc.property(
        fc.array(cell, { minLength: 1, maxLength: 40 }),
        fc.double({ min: 0.01, max: 2, noNaN: true }),
        (cells, part) => {
          const rates = Float64Array.from(cells, (one) => one.rate);
          const priority = Float64Array.from(cells, (one) => one.priority);
          const none = new Float64Array(cells.length);
          const wanting = {
            cells: { areaM2: Float64Array.from(cells, (one) => one.areaM2) },
            need: { P2O5: { priority }, K2O: { priority } },
            wanted: { p2o5LbPerAc: rates, k2oLbPerAc: none },
          } as unknown as Wanting;
          const costOf = (cut: BudgetCut | null) =>
            cells.reduce(
              (sum, one) => sum + (one.rate / 0.52) * acres(one.areaM2) * spends(cut, one.priority),
              0,
            );
          const all = costOf(null);
          const lb = Math.max(1e-9, part * all);
          const cut = cutAt(queueOf({ P2O5: 1 / 0.52, K2O: 1 / 0.6 }, [wanting]), lb);
          expect(costOf(cut)).toBeCloseTo(Math.min(lb, all), 9);
          if (cut) {
            const unpaidBelow = cells.some((one) => one.priority < 1 && spends(cut, one.priority) < 1);
            const paidAbove = cells.some((one) => one.priority >= 1 && spends(cut, one.priority) > 0);
            expect(unpaidBelow && paidAbove).toBe(false);
          }
        },
      ),
      { seed, numRuns: 200 },
    );
  });
});

describe("from need to what is wanted", () => {
  it("property: need = wanted + credits - beyond + over maximum + left out + over budget + excluded - raised", async () => {
    const field = await workedField();
    const share = fc.double({ min: 0, max: 1, noNaN: true });
    const rate = fc.double({ min: 0, max: 120, noNaN: true });
    fc.assert(
      fc.property(
        rate,
        rate,
        rate,
        fc.boolean(),
        share,
        share,
        fc.double({ min: 0, max: 2, noNaN: true }),
        (credit, least, most, leaveOut, both, paid, priority) => {
          const wanted = wantedField(
            {
              ...field.field,
              credits: [
                { name: "c", kind: "other", date: "2027-01-01", lbPerAc: { P2O5: credit, K2O: credit / 2 } },
              ],
              nutrients: {
                P2O5: { minLbPerAc: least, maxLbPerAc: most, belowMinimum: leaveOut ? "leave-out" : "raise" },
              },
            },
            { from: "2026-09-01", to: "2027-08-31" },
            field.cells,
            field.need,
            { ...field.excluded, both: field.cells.areaM2.map((area) => (area > 0 ? both : 0)) },
            { priority, share: paid },
          );
          for (const nutrient of ["P2O5", "K2O"] as const) {
            const parts = wanted[nutrient];
            const need = nutrient === "P2O5" ? field.need.p2o5LbPerAc : field.need.k2oLbPerAc;
            const sum =
              parts.wantedLb +
              parts.creditsLb -
              parts.creditsBeyondNeedLb +
              parts.overMaximumLb +
              parts.leftOutLb +
              parts.overBudgetLb +
              parts.excludedLb -
              parts.raisedLb;
            expect(sum).toBeCloseTo(
              pounds(field, (cell) => need[cell]!),
              6,
            );
            for (const part of Object.values(parts)) expect(part).toBeGreaterThanOrEqual(0);
          }
        },
      ),
      { seed, numRuns: 40 },
    );
  });

  it("the balance closes with credits, limits, exclusions and a budget at once", async () => {
    const field = await workedField({
      files,
      as,
      plan: {
        budget: { lb: 2_500 },
        exclusions: [
          { ...stream, method: "surface" },
          { source: "water.geojson", record: 2, what: "inlet", method: "both", setbackFt: 60 },
        ],
      },
      field: {
        credits: [{ name: "m", kind: "manure", date: "2027-01-05", lbPerAc: { P2O5: 25, K2O: 20 } }],
        nutrients: { P2O5: { minLbPerAc: 20, maxLbPerAc: 60 }, K2O: { maxLbPerAc: 70 } },
      },
    });
    expect(openBalance(field)).toBeLessThan(1e-6);
    for (const balance of field.balances) {
      expect(Math.abs(balance.roundingLb)).toBeLessThan(0.002 * balance.needLb + 3);
      expect(balance.shortageLb).toBeGreaterThan(0);
    }
  });
});
