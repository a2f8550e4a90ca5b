import { describe, expect, test } from "vitest";
import { guideIds } from "../../src/agronomy/index.ts";
import { type FieldCare, type FieldResult, type Plan, readPlan, writePlan } from "../../src/plan/index.ts";
import { carePlanNotices } from "../../src/plan/results/field-care.ts";
import { inside, needPlan, pounds, worked, workedField } from "../support/need-plan.ts";
import { labCsv, SAMPLES } from "../support/small-farm.ts";
import { bins, resultOf, rig, split } from "../support/split-plan.ts";

/** The small farm's samples by ICP under a guide of classes, which has no critical level. */
const iowaCorn = (own: Plan["split"]): Promise<FieldResult> =>
  workedField({
    files: { "lab.csv": labCsv(SAMPLES, "id,lon,lat,P M3 ICP ppm,K M3 ppm,CEC meq/100g") },
    plan: { split: own },
    field: { guide: "iowa-2013", guideOptions: {}, crop: "corn", yieldBuPerAc: 220 },
  });

describe("limits", () => {
  test("a limit near the seed cuts N + K2O + S of the strip, potash first; soybean with the seed gets none", async () => {
    const { split: own, cells } = (await resultOf("near the seed")).fields[0]!;
    const [map, mop] = own.products;
    cells.areaM2.forEach((areaM2, i) => {
      if (areaM2 > 0) expect(map!.strip[i]! * 0.11 + mop!.strip[i]! * 0.6).toBeLessThanOrEqual(60 + 1e-6);
    });
    const none = (await resultOf("with the seed, soybean")).fields[0]!;
    for (const map of none.prescriptions.filter((one) => one.pass === "strip")) expect(map.totalLb).toBe(0);
    expect(none.notices.map((notice) => notice.code)).toContain("salt-cuts-strip");
  });

  test("meters: no segment above what they lay or below their least", async () => {
    const maps = (await resultOf("meters")).fields[0]!.prescriptions.filter((map) => map.pass === "strip");
    const perLbMin = 495 / (40 * 7);
    expect(maps[0]!.maxLbPerAc).toBeLessThanOrEqual(60 * perLbMin);
    expect(maps[1]!.maxLbPerAc).toBeLessThanOrEqual(80 * perLbMin);
    const least = [...maps[1]!.rateLbPerAc].filter((rate) => rate > 0);
    expect(Math.min(...least)).toBeGreaterThanOrEqual(30 * perLbMin - 1e-9);
  });

  test("a band that counts for more leaves named pounds out, P only and below critical only", async () => {
    const field = (await resultOf("bands counted for more")).fields[0]!;
    const plain = (await resultOf("ceiling")).fields[0]!;
    expect(field.balanceReasons.P2O5.bandedLb).toBeGreaterThan(10);
    expect(field.balanceReasons.K2O.bandedLb).toBe(0);
    const placed = (of: typeof field) => of.balances[0]!.stripLb + of.balances[0]!.broadcastLb;
    expect(placed(field)).toBeLessThan(placed(plain) - 10);
    // The balance sheet shows what it does to the soil.
    const sheetP = (of: typeof field) => of.sheet.nutrients[0]!.placedLb;
    expect(sheetP(field)).toBeLessThan(sheetP(plain));
  });

  test("a guide without a critical level: its classes below optimum count as below critical, optimum does not", async () => {
    const field = await iowaCorn(split({ capLbPerAc: 400, bandFactorP2O5: 0.75 }));
    // Mehlich-3 by ICP: low ends at 25 ppm, optimum at 35 (iowa-2013 in agronomy.md); whole ppm are read.
    const lowCells = inside(field).filter((cell) => Math.round(field.maps.P!.estimate[cell]!) <= 25);
    const optimum = inside(field).filter((cell) => {
      const ppm = Math.round(field.maps.P!.estimate[cell]!);
      return ppm > 25 && ppm <= 35;
    });
    expect([lowCells.length > 50, optimum.length > 20]).toEqual([true, true]);
    for (const cell of lowCells) expect(field.split.p2o5Counts![cell]).toBeCloseTo(4 / 3, 12);
    for (const cell of optimum) {
      expect(field.split.p2o5Counts![cell]).toBe(1);
      // Removal, 0.32 lb x 220 bu = 70.4 lb/ac, all of it in the strip as 11-52-0.
      expect(field.split.products[0]!.strip[cell]! * 0.52).toBeCloseTo(70.4, 9);
    }
    const lowLb = pounds(field, (cell) => (lowCells.includes(cell) ? field.need.p2o5LbPerAc[cell]! : 0));
    // A quarter of what the classes below optimum need; rates go by steps of 5 lb/ac.
    expect(Math.abs(field.balanceReasons.P2O5.bandedLb / (0.25 * lowLb) - 1)).toBeLessThan(0.02);
  });

  test("priorities of a guide without a critical level: removal of the optimum class is maintenance", async () => {
    const field = await iowaCorn(split({ method: "priority" }));
    const isLow = (cell: number) => Math.round(field.maps.P!.estimate[cell]!) <= 25;
    const crop = (cell: number) => Math.min(field.need.p2o5LbPerAc[cell]!, 70.4);
    const layer = (name: string) => field.split.layers.find((one) => one.name === name)!.needLb;
    expect(layer("below critical, P2O5")).toBeCloseTo(
      pounds(field, (cell) => (isLow(cell) ? crop(cell) : 0)),
      6,
    );
    expect(layer("maintenance, P2O5")).toBeCloseTo(
      pounds(field, (cell) => (isLow(cell) ? 0 : crop(cell))),
      6,
    );
    expect(layer("maintenance, P2O5")).toBeGreaterThan(50);
  });

  test("own classes say nothing of a critical level: the band factor leaves nothing out, all is maintenance", async () => {
    const own = {
      id: "mine",
      name: "Mine",
      tables: [
        { test: "P", crop: "soybean", method: "mehlich-3", belowPpm: [15, 25], lbPerAc: [110, 75, 40] },
        { test: "K", crop: "soybean", method: "mehlich-3", belowPpm: [150], lbPerAc: [100, 50] },
      ],
    } as const;
    const change = (more: Partial<Plan["split"]>) => ({
      field: { guide: "mine", guideOptions: {} },
      plan: { ownGuides: [own], split: split(more) },
    });
    const field = await workedField(change({ bandFactorP2O5: 0.75 }));
    expect(field.balanceReasons.P2O5.bandedLb).toBe(0);
    expect(Math.max(...inside(field).map((cell) => field.split.p2o5Counts![cell]!))).toBe(1);
    const { layers } = (await workedField(change({ method: "priority" }))).split;
    for (const { needLb } of layers.filter(({ name }) => name.startsWith("below critical")))
      expect(needLb).toBe(0);
  });

  test("factors by guide id: the field's own counts as the bare number did, another's changes nothing", async () => {
    const alone = (await resultOf("bands counted for more")).fields[0]!;
    const plain = (await resultOf("ceiling")).fields[0]!;
    const own = alone.need.P2O5.rule!.guide.id;
    const other = guideIds().find((id) => id !== own)!;
    const by = async (bandFactorP2O5: Readonly<Record<string, number>>) => {
      const { plan } = needPlan({ plan: { split: split({ bandFactorP2O5 }) } });
      expect(readPlan(writePlan(plan), "plan.json").split.bandFactorP2O5).toEqual(bandFactorP2O5);
      return worked({ plan: { split: plan.split } });
    };
    const both = (await by({ [own]: 0.6, [other]: 0.9 })).fields[0]!;
    expect(both.split.p2o5Counts).toEqual(alone.split.p2o5Counts);
    expect(both.balances).toEqual(alone.balances);
    const others = (await by({ [other]: 0.9 })).fields[0]!;
    expect(others.split.p2o5Counts).toBeNull();
    expect(others.balances).toEqual(plain.balances);
    const refused = await by({ "no-such-guide": 0.6 }).then(
      (result) => result.refused.map(({ code, message }) => `${code}: ${message}`),
      (error: Error) => [`${(error as Error & { code?: string }).code}: ${error.message}`],
    );
    expect(refused.join()).toContain(
      'unknown-guide: split.bandFactorP2O5: there is no guide "no-such-guide"',
    );
    for (const factor of [0.4, 1.1]) {
      const { plan } = needPlan({ plan: { split: split({ bandFactorP2O5: { [own]: factor } }) } });
      expect(() => readPlan(writePlan(plan), "plan.json")).toThrow();
    }
  });

  test("a flat product that finds no room near the seed is told with its pounds; beside the seed it has room", async () => {
    const flat = async (distanceIn: number) => {
      const own = bins("11-52-0", "0-0-60", { product: "21-0-0-24S", flatLbPerAc: 40 });
      return workedField({
        field: { crop: "corn", yieldBuPerAc: 170 },
        plan: { rig: rig(own), split: split({ capLbPerAc: 200 }), seed: { distanceIn, texture: "other" } },
      });
    };
    const near = await flat(1.5);
    // Corn, rows 30 in. apart: 240 / 30 = 8 lb/ac of N + K2O + S, of which a lb of 21-0-0-24S has 0.45.
    const lays = 8 / 0.45;
    const { areaAc } = near.checked;
    const [wanted, left] = [40 * areaAc, (40 - lays) * areaAc].map((lb) => Math.round(lb));
    const cut = near.notices.filter(({ code }) => code === "flat-rate-cut");
    expect(cut.map(({ message }) => message)).toEqual([
      `Low Forty: of the ${wanted} lb 21-0-0-24S that bin A is to lay at 40 lb/ac, ${left} lb find no room in the strip, and nothing else brings them: it lays 17.8 lb/ac in the mean, before steps`,
    ]);
    const beside = await flat(2.5);
    expect(beside.notices.map(({ code }) => code)).not.toContain("flat-rate-cut");
  });
});

describe("care", () => {
  test("distance unanswered: the limit with the seed, said once for the plan", async () => {
    const result = await resultOf("ceiling");
    const { salt } = result.fields[0]!.care;
    expect([salt.told, salt.place, salt.blocked]).toEqual([false, "in the furrow", true]);
    expect(salt.questions.map((question) => question.key)).toContain("seed-distance-in");
    expect(result.notices.filter((notice) => notice.code === "seed-not-told")).toHaveLength(1);
  });

  test("acres above the limit with the seed are told as those of all fields where there are several", () => {
    const { plan } = needPlan();
    const of = (...acres: readonly number[]) =>
      carePlanNotices(
        plan,
        acres.map((overAc) => ({ care: { salt: { overAc } } as FieldCare })),
      )[0]!.message;
    expect(of(69.5)).toContain("is above it on 70 ac; give seed.distanceIn");
    expect(of(69.5, 38.4)).toContain("is above it on 108 ac of all fields together; give seed.distanceIn");
  });

  test("beyond 3 in.: no block, a flag until somebody's name stands in the plan, and lb per 1,000 ft", async () => {
    const seed = { distanceIn: 5, bandDepthIn: 6, texture: "other" as const };
    const plan = { split: split({ capLbPerAc: 400 }), seed };
    const flagged = (await worked({ plan })).fields[0]!;
    expect(flagged.care.salt).toMatchObject({ place: "beyond", blocked: false, needsName: true });
    expect(flagged.notices.map((notice) => notice.code)).toContain("salt-over-2x2-beyond");
    // lb per 1,000 ft = lb/ac x row spacing in inches / 522.72 (43,560 ft2 an acre).
    expect(flagged.care.salt.highestLbPer1000Ft).toBeCloseTo(
      (flagged.care.salt.highestLbPerAc * 30) / 522.72,
      6,
    );
    const named = { ...seed, acknowledged: { by: "J. Doe", date: "2027-03-01" } };
    const taken = (await worked({ plan: { ...plan, seed: named } })).fields[0]!;
    expect(taken.care.salt.needsName).toBe(false);
    expect(taken.care.salt.flags[0]!.message).toMatch(
      /J\. Doe took note on 2027-03-01, of the plan as it was then/,
    );
  });

  test("a starter that shares the place counts in the sum", async () => {
    const seed = { distanceIn: 2.5, texture: "other" as const, cutToLimit: false };
    const without = (await worked({ plan: { split: split(), seed } })).fields[0]!.care.salt;
    const starter = { ...seed, starterLbPerAc: { N: 5, K2O: 5 } };
    const counted = (await worked({ plan: { split: split(), seed: starter } })).fields[0]!.care.salt;
    expect(counted.highestLbPerAc - without.highestLbPerAc).toBeCloseTo(10, 9);
    expect(counted.meanLbPerAc - without.meanLbPerAc).toBeCloseTo(10, 9);
    const apart = { ...starter, starterSharesPlace: false };
    const elsewhere = (await worked({ plan: { split: split(), seed: apart } })).fields[0]!.care.salt;
    expect(elsewhere.highestLbPerAc).toBeCloseTo(without.highestLbPerAc, 9);
  });

  test("zinc coated on a bin: low, high, acres missed, and counted among what comes along", async () => {
    const own = bins(
      { product: "11-52-0", coated: [{ element: "Zn", lbPerTon: 20, wantedLbPerAc: 1 }] },
      "0-0-60",
    );
    const field = (await worked({ plan: { rig: rig(own), split: split() } })).fields[0]!;
    const [zinc] = field.care.riding;
    const map = field.prescriptions.find((one) => one.pass === "strip" && one.bin === "L")!;
    expect(zinc!.totalLb).toBeCloseTo((map.totalLb * 20) / 2_000, 6);
    expect(zinc!.highLbPerAc).toBeCloseTo((map.maxLbPerAc * 20) / 2_000, 9);
    expect(zinc!.acresBelowWanted).toBeGreaterThanOrEqual(zinc!.acresMissed);
    expect(field.alsoWanted.find((one) => one.nutrient === "Zn")!.alongLb).toBeCloseTo(zinc!.totalLb, 6);
  });

  test("broadcast in the crop carries its warning", async () => {
    const result = await worked({ plan: { split: split({ broadcastWhen: "in-crop" }) } });
    expect(result.notices.find((notice) => notice.code === "broadcast-in-crop")!.message).toMatch(/burns/);
  });
});
