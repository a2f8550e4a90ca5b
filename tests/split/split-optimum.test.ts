import fc from "fast-check";
import type { Highs } from "highs";
import { beforeAll, describe, expect, test } from "vitest";
import { timeLines } from "../../src/capacity/index.ts";
import {
  loadSplitSolver,
  mergeEqualClasses,
  type OptimumClass,
  type OptimumInput,
  splitByShare,
  splitByValue,
  splitOptimum,
} from "../../src/split/index.ts";
import { example, near } from "../support/operations.ts";
import { leastCost } from "../support/vertices.ts";

let highs: Highs;
beforeAll(async () => {
  highs = await loadSplitSolver();
});

interface ExampleZone {
  readonly id: string;
  readonly field: string;
  readonly ac: number;
  readonly needP2O5: number;
  readonly needK2O: number;
  readonly valueP2O5: number;
  readonly valueK2O: number;
  readonly floorP2O5: number;
  readonly floorK2O: number;
  readonly capNplusK2O?: number;
}

const classesOf = (id: string): OptimumClass[] =>
  example(id).inputs.zones.map((zone: ExampleZone) => ({
    id: zone.id,
    fieldId: zone.field,
    areaAc: zone.ac,
    needLbPerAc: { p2o5: zone.needP2O5, k2o: zone.needK2O },
    floorLbPerAc: { p2o5: zone.floorP2O5, k2o: zone.floorK2O },
    valuePerLb: { p2o5: zone.valueP2O5, k2o: zone.valueK2O },
    ...(zone.capNplusK2O === undefined ? {} : { saltCapLbPerAc: zone.capNplusK2O }),
  }));
const products = [
  { id: "11-52-0", grade: { n: 11, p2o5: 52 }, pricePerLb: 0.39 },
  { id: "0-0-60", grade: { k2o: 60 }, pricePerLb: 0.24 },
];
const rig = example("a1").inputs.rig;
const lines = timeLines({ rig, tenders: { count: 1, lb: 23_400, tripHours: 2 } });

/** x_Z1_MAP and so on of the examples. */
function expectRates(have: ReturnType<typeof splitOptimum>, want: Record<string, number>): void {
  for (const zone of have.classes) {
    ["MAP", "MOP"].forEach((name, p) => {
      expect(zone.stripLbPerAc[p]!).toBeCloseTo(want[`x_${zone.id}_${name}`]!, 6);
      expect(zone.broadcastLbPerAc[p]!).toBeCloseTo(want[`y_${zone.id}_${name}`]!, 6);
    });
  }
}

describe("b1: a mean strip rate, floors, salt caps and values", () => {
  const { expected, inputs } = example("b1");
  test("the linear programme", () => {
    const have = splitOptimum(highs, {
      products,
      classes: classesOf("b1"),
      meanStripLbPerAcMost: inputs.meanStripRateMax,
    });
    near(have.objective, expected.objective);
    near(have.productCost, expected.productCost);
    near(have.placedValue, expected.value);
    near(have.worth.dollarsPerLb!, -expected.shadowMean);
    expect(have.worth.words).toBe("$0.012 a pound; the limit is the mean rate");
    expectRates(have, expected.x);
    near(have.meanStripLbPerAc, 200);
    expect(have.notices).toEqual([]);
  });
  test("the closed form by value", () => {
    const have = splitByValue(
      inputs.zones.map((zone: ExampleZone) => ({
        id: zone.id,
        areaAc: zone.ac,
        fullLbPerAc: [zone.needP2O5 / 0.52, zone.needK2O / 0.6],
        floorLbPerAc: [zone.floorP2O5 / 0.52, zone.floorK2O / 0.6],
        valuePerLb: [zone.valueP2O5 * 0.52, zone.valueK2O * 0.6],
        saltPerLb: [0.11, 0.6],
        saltCapLbPerAc: zone.capNplusK2O,
      })),
      inputs.meanStripRateMax,
    );
    near(have.shadowPerLb, expected.greedy.shadowPerLb);
    expect(have.leftLb).toBeCloseTo(expected.greedy.leftLb, 6);
    inputs.zones.forEach((zone: ExampleZone, z: number) => {
      expect(have.stripLbPerAc[z]![0]).toBeCloseTo(expected.x[`x_${zone.id}_MAP`], 7);
      expect(have.stripLbPerAc[z]![1]).toBeCloseTo(expected.x[`x_${zone.id}_MOP`], 7);
      expect(have.stripLbPerAc[z]![1]! - 20 / 0.6).toBeCloseTo(expected.greedy.add[zone.id], 7);
    });
  });
});

describe("b2: one common share above the floors", () => {
  const { expected, inputs } = example("b2");
  const column = (pick: (zone: ExampleZone) => number): Float64Array => Float64Array.from(inputs.zones, pick);
  const input = {
    fullLbPerAc: [column((zone) => zone.needP2O5 / 0.52), column((zone) => zone.needK2O / 0.6)],
    floorLbPerAc: [column((zone) => zone.floorP2O5 / 0.52), column((zone) => zone.floorK2O / 0.6)],
    areaM2: column((zone) => zone.ac * 4046.8564224),
    meanCapLbPerAc: inputs.meanStripRate,
    order: "alike" as const,
  };
  test.each(["alike", "first-product-first"] as const)("%s", (order) => {
    const have = splitByShare({ ...input, order });
    near(have.share, expected.uniform.s);
    expected.uniform.rates.forEach((rate: number, i: number) => {
      near(have.stripLbPerAc[0]![i]! + have.stripLbPerAc[1]![i]!, rate);
      for (const p of [0, 1]) {
        near(have.stripLbPerAc[p]![i]! + have.broadcastLbPerAc[p]![i]!, input.fullLbPerAc[p]![i]!);
        expect(have.stripLbPerAc[p]![i]!).toBeGreaterThanOrEqual(input.floorLbPerAc[p]![i]! - 1e-9);
      }
    });
  });
  test("without a limit the whole need fits; floors above the cap are told", () => {
    expect(splitByShare({ ...input, meanCapLbPerAc: 400 }).share).toBe(1);
    const low = splitByShare({ ...input, meanCapLbPerAc: 50 });
    expect([low.share, low.floorsAboveCap]).toEqual([0, true]);
  });
});

describe("b3: a second pass, field by field", () => {
  const { expected, inputs } = example("b3");
  const input = {
    products,
    classes: classesOf("b3"),
    lines,
    hourValue: inputs.hourValue,
    passFeePerAc: inputs.feePerAc,
  };
  test("costs with and without, rates, the crossing of the lines", () => {
    const have = splitOptimum(highs, input);
    near(have.objective, expected.objective);
    expectRates(have, expected.x);
    have.fields.forEach((field) => {
      near(field.costWithoutPass, expected.fields[field.id].without);
      near(field.costWithPass, expected.fields[field.id].with);
      near(field.hours, expected.x[`h_${field.id}`]);
      expect(field.pass).toBe(expected.x[`z_${field.id}`] === 1);
    });
    near(have.fields[1]!.meanStripLbPerAc, expected.fields.F2.meanStripWith);
    expect(have.gapDollars).toBe(0);
  });
  test("an hours target between both gives up passes only where they pay, and has a price", () => {
    const free = splitOptimum(highs, input);
    const tight = splitOptimum(highs, { ...input, hoursMost: free.hours! - 0.3 });
    expect(tight.hours!).toBeLessThanOrEqual(free.hours! - 0.3 + 1e-9);
    expect(tight.objective).toBeGreaterThan(free.objective);
    expect(tight.worth.dollarsPerLb).toBeGreaterThan(0);
    expect(["tender", "rig"]).toContain(tight.worth.limit);
  });
});

describe("against every vertex of the programme, 500 random small cases", () => {
  const whole = (min: number, max: number): fc.Arbitrary<number> => fc.integer({ min, max });
  test("one class, two or three products, floors, salt cap, meter limit, mean cap", () => {
    const grades = [{ n: 11, p2o5: 52 }, { k2o: 60 }, { n: 18, p2o5: 46 }, { k2o: 22, s: 22 }];
    fc.assert(
      fc.property(
        fc.record({
          second: whole(1, 3),
          prices: fc.tuple(whole(20, 60), whole(15, 40), whole(20, 60)),
          p: whole(0, 100),
          k: whole(0, 150),
          floorP: whole(0, 30),
          vP: whole(0, 12),
          vK: whole(0, 8),
          salt: whole(5, 120),
          meter: whole(50, 400),
          mean: whole(20, 400),
          area: whole(1, 90),
        }),
        (c) => {
          const used = [grades[0]!, grades[1]!, ...(c.second > 1 ? [grades[c.second]!] : [])];
          const zone: OptimumClass = {
            id: "Z",
            fieldId: "F",
            areaAc: c.area,
            needLbPerAc: { p2o5: c.p, k2o: c.k },
            floorLbPerAc: { p2o5: c.floorP },
            valuePerLb: { p2o5: c.vP / 100, k2o: c.vK / 100 },
            saltCapLbPerAc: c.salt,
          };
          const input: OptimumInput = {
            products: used.map((grade, p) => ({ id: `P${p}`, grade, pricePerLb: c.prices[p]! / 100 })),
            classes: [zone],
            meanStripLbPerAcMost: c.mean,
            meterMostLbPerAc: c.meter,
            shortagePricePerLb: 500,
          };
          const have = splitOptimum(highs, input);
          const short =
            ((have.classes[0]!.shortLbPerAc.p2o5 ?? 0) + (have.classes[0]!.shortLbPerAc.k2o ?? 0)) *
              c.area *
              500 +
            (have.classes[0]!.floorShortLbPerAc.p2o5 ?? 0) * c.area * 250;
          near(have.objective + short, leastCost(input), 1e-7);
        },
      ),
      { seed: 7, numRuns: 500 },
    );
  });

  test("closed form by value against the programme, 500 random cases without shared salt caps", () => {
    const zone = fc.record({
      area: whole(1, 90),
      p: whole(1, 100),
      k: whole(1, 150),
      floorP: whole(0, 20),
      floorK: whole(0, 20),
      vP: whole(1, 20),
      vK: whole(1, 20),
    });
    fc.assert(
      fc.property(fc.array(zone, { minLength: 1, maxLength: 6 }), whole(0, 100), (cases, room) => {
        const classes: OptimumClass[] = cases.map((c, i) => ({
          id: `Z${i}`,
          fieldId: `F${i % 2}`,
          areaAc: c.area,
          needLbPerAc: { p2o5: c.p, k2o: c.k },
          floorLbPerAc: { p2o5: Math.min(c.p, c.floorP), k2o: Math.min(c.k, c.floorK) },
          valuePerLb: { p2o5: c.vP / 100, k2o: c.vK / 100 },
        }));
        // Each product brings one nutrient.
        const single = [
          { id: "0-46-0", grade: { p2o5: 46 }, pricePerLb: 0.35 },
          { id: "0-0-60", grade: { k2o: 60 }, pricePerLb: 0.24 },
        ];
        const full = (z: OptimumClass): number[] => [z.needLbPerAc.p2o5! / 0.46, z.needLbPerAc.k2o! / 0.6];
        const floor = (z: OptimumClass): number[] => [
          z.floorLbPerAc!.p2o5! / 0.46,
          z.floorLbPerAc!.k2o! / 0.6,
        ];
        const lb = (rates: (z: OptimumClass) => number[]): number =>
          classes.reduce((all, z) => all + (rates(z)[0]! + rates(z)[1]!) * z.areaAc, 0);
        const acres = classes.reduce((all, z) => all + z.areaAc, 0);
        const mean = (lb(floor) + ((lb(full) - lb(floor)) * room) / 100) / acres + 1e-9;
        const closed = splitByValue(
          classes.map((z) => ({
            id: z.id,
            areaAc: z.areaAc,
            fullLbPerAc: full(z),
            floorLbPerAc: floor(z),
            valuePerLb: [z.valuePerLb!.p2o5! * 0.46, z.valuePerLb!.k2o! * 0.6],
          })),
          mean,
        );
        const value = classes.reduce((all, z, i) => {
          const [p, k] = closed.stripLbPerAc[i]!;
          return all + (p! * z.valuePerLb!.p2o5! * 0.46 + k! * z.valuePerLb!.k2o! * 0.6) * z.areaAc;
        }, 0);
        const have = splitOptimum(highs, { products: single, classes, meanStripLbPerAcMost: mean });
        near(have.placedValue, value, 1e-7);
      }),
      { seed: 11, numRuns: 500 },
    );
  });
});

describe("passes under a target", () => {
  const random = fc.array(
    fc.record({
      area: fc.integer({ min: 20, max: 120 }),
      p: fc.integer({ min: 0, max: 90 }),
      k: fc.integer({ min: 0, max: 160 }),
    }),
    { minLength: 6, maxLength: 6 },
  );
  test("six fields: price and choice reach the best of all 64 choices within the gap told, 8 random farms", () => {
    fc.assert(
      fc.property(random, fc.integer({ min: 100, max: 260 }), (cases, mean) => {
        const classes = cases.map((c, i) => ({
          id: `Z${i}`,
          fieldId: `F${i}`,
          areaAc: c.area,
          needLbPerAc: { p2o5: c.p, k2o: c.k },
        }));
        const input = {
          products,
          classes,
          meanStripLbPerAcMost: mean,
          passFeePerAc: 8,
          lines,
          hourValue: 300,
        };
        const have = splitOptimum(highs, input);
        // Every choice by hand: fields without a pass are forced by needing their whole rate in the strip.
        let best = Number.POSITIVE_INFINITY;
        for (let code = 0; code < 64; code++) {
          const forced = classes.map((one, i) =>
            (code >> i) & 1 ? one : { ...one, floorLbPerAc: one.needLbPerAc },
          );
          const one = splitOptimum(highs, { ...input, classes: forced, passFeePerAc: 0 });
          if (one.notices.length > 0) continue;
          const fees = classes.reduce((all, one, i) => all + ((code >> i) & 1 ? 8 * one.areaAc : 0), 0);
          best = Math.min(best, one.objective + fees);
        }
        expect(have.notices.filter((notice) => notice.code !== "passes-not-proven")).toEqual([]);
        expect(have.objective).toBeGreaterThanOrEqual(best - 1e-5 * best);
        expect(have.objective - best).toBeLessThanOrEqual(have.gapDollars + 1e-6 * best);
      }),
      { seed: 3, numRuns: 8 },
    );
  });
});

describe("what has no room", () => {
  const zone: OptimumClass = { id: "Z", fieldId: "F", areaAc: 10, needLbPerAc: { p2o5: 52, k2o: 60 } };
  test("is short, said in a notice, and no crash", () => {
    const have = splitOptimum(highs, {
      products,
      classes: [zone],
      meterMostLbPerAc: 150,
      broadcastAllowed: false,
    });
    // 100 lb of each are wanted and 150 fit; a pound short costs the same, so the denser 0-0-60 goes in first.
    near(have.classes[0]!.shortLbPerAc.p2o5!, 26);
    expect(have.notices.map((notice) => notice.code)).toEqual(["need-short"]);
  });
  test("the price of a shortage, which is the solver's own, stands in no $: unless somebody gave it", () => {
    const under = { products, classes: [zone], meanStripLbPerAcMost: 150, broadcastAllowed: false };
    const { worth } = splitOptimum(highs, under);
    expect([worth.dollarsPerLb, worth.limit]).toEqual([null, "mean rate"]);
    expect(worth.words).not.toContain("$");
    // $5 a lb short: a lb of 11-52-0 brings 0.52 lb for $0.39.
    near(splitOptimum(highs, { ...under, shortagePricePerLb: 5 }).worth.dollarsPerLb!, 0.52 * 5 - 0.39);
    // Salt lets 30 lb K2O of 60 in: without a pass the rest is short, and no cost stands beside that of a pass.
    const salty = [{ ...zone, needLbPerAc: { k2o: 60 }, saltCapLbPerAc: 30 }];
    const [field] = splitOptimum(highs, { products, classes: salty, passFeePerAc: 7 }).fields;
    expect([field!.pass, field!.costWithoutPass]).toEqual([true, null]);
    // 100 lb of 0-0-60 an acre and the pass, on 10 ac.
    near(field!.costWithPass!, 10 * (100 * 0.24 + 7));
  });
  test("a salt cap beats a floor, and says so", () => {
    const have = splitOptimum(highs, {
      products,
      classes: [{ ...zone, floorLbPerAc: { k2o: 40 }, saltCapLbPerAc: 30 }],
    });
    expect(have.notices.map((notice) => notice.code)).toEqual(["floor-short"]);
    near(have.classes[0]!.floorShortLbPerAc.k2o!, 10);
  });
  test("a meter minimum: nothing or enough", () => {
    const low = { ...zone, needLbPerAc: { p2o5: 10.4 }, valuePerLb: { p2o5: 0.01 } };
    const have = splitOptimum(highs, { products, classes: [low], meterLeastLbPerAc: 40 });
    // 20 lb/ac are needed: the strip would have to bring 40, so all of it is broadcast.
    expect(have.classes[0]!.stripLbPerAc[0]).toBe(0);
    near(have.classes[0]!.broadcastLbPerAc[0]!, 20);
    const only = splitOptimum(highs, {
      products,
      classes: [low],
      meterLeastLbPerAc: 40,
      broadcastAllowed: false,
    });
    near(only.classes[0]!.stripLbPerAc[0]!, 40);
    near(only.classes[0]!.overLbPerAc.p2o5!, 10.4);
  });
  test("hours below the bare work are refused with the figure", () => {
    expect(() => splitOptimum(highs, { products, classes: [zone], lines, hoursMost: 0.2 })).toThrow("0.4 h");
  });
});

describe("merging and classes", () => {
  const cells: OptimumClass[] = Array.from({ length: 400 }, (_, i) => ({
    id: `C${i}`,
    fieldId: `F${i % 2}`,
    areaAc: 0.1 + (i % 7) / 50,
    needLbPerAc: { p2o5: (i * 7) % 61, k2o: (i * 13) % 89 },
    valuePerLb: { p2o5: 0.05, k2o: 0.02 },
  }));
  test("equal classes as one: the same optimum", () => {
    const doubled = cells
      .slice(0, 60)
      .flatMap((zone) => [zone, { ...zone, id: `${zone.id}b`, areaAc: zone.areaAc * 2 }]);
    expect(mergeEqualClasses(doubled).classes.length).toBe(60);
    // A hair's difference in a value that costs nothing keeps the classes apart.
    const apart = doubled.map((zone, i) => ({ ...zone, mostLbPerAc: { n: 500 + i } }));
    expect(mergeEqualClasses(apart).classes.length).toBe(120);
    const input = { products, meanStripLbPerAcMost: 90, lines, hourValue: 200 };
    const merged = splitOptimum(highs, { ...input, classes: doubled });
    const single = splitOptimum(highs, { ...input, classes: apart });
    near(merged.objective, single.objective);
    near(merged.worth.dollarsPerLb!, single.worth.dollarsPerLb!, 1e-7);
  });
});
