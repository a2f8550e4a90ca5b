import { beforeAll, describe, expect, test } from "vitest";
import { notDrivenAc } from "../../src/plan/driven/not-driven.ts";
import { smallCatchUps } from "../../src/plan/driven/small-catch-ups.ts";
import {
  appliedField,
  type Plan,
  type ProductLog,
  type RunResult,
  requireStripFinished,
  run,
  workedPasses,
} from "../../src/plan/index.ts";
import { nothingLaidInWords } from "../../src/report/index.ts";
import { driveField } from "../support/drive-log.ts";
import { drivenLog, smallFarmProducts as products } from "../support/driven-log.ts";
import { seasonPlanDocument } from "../support/season-plan.ts";
import { smallFarmFiles, sourceOf } from "../support/small-farm.ts";

const plan: Plan = seasonPlanDocument();
let result: RunResult;
let curved: RunResult;
beforeAll(async () => {
  result = await run(plan, sourceOf(smallFarmFiles()), { files: "later" });
  const around = { ...plan, rig: { ...plan.rig, headlandPasses: 1 } };
  curved = await run(around, sourceOf(smallFarmFiles()), { files: "later" });
});

const near = (value: number, wanted: number, share: number): void => {
  expect(Math.abs(value / wanted - 1), `${value} for ${wanted}`).toBeLessThan(share);
};

describe("a log from a known truth", () => {
  test("as planned: pounds within 2 %, nothing skipped to speak of", () => {
    const [one] = appliedField(plan, result.fields[0]!, [drivenLog(result, 0)]).products;
    near(one!.placedLb, one!.plannedLb, 0.02);
    expect(one!.skippedAc).toBeLessThan(0.5);
    expect(one!.insideLb + one!.outsideLb).toBeCloseTo(one!.loggedLb, 6);
    expect(one!.meterFactor).toBe(1);
  });

  test("a pass left out: its acres and pounds are found, and no others", () => {
    const [one] = appliedField(plan, result.fields[0]!, [drivenLog(result, 0, { skips: [9] })]).products;
    const whole = appliedField(plan, result.fields[0]!, [drivenLog(result, 0)]).products[0]!;
    const pass = workedPasses(plan, result.fields[0]!)[9]!;
    near(one!.skippedAc - whole.skippedAc, pass.areaAc, 0.03);
    near(one!.missingLb - whole.missingLb, pass.lb[0]!, 0.05);
    const ofPass = result.fields[0]!.passes.pieces.flatMap(({ run: of }, k) => (of === 9 ? [k] : []));
    for (const k of ofPass) expect(one!.placedLbPerAc[k]).toBeLessThan(5);
  });

  test("a pass driven with the bin shut is covered: its acres are told as those that got nothing, no others", () => {
    const [field] = result.fields;
    const shut = drivenLog(result, 0, { shut: [9] });
    const [one] = appliedField(plan, field!, [shut]).products;
    const whole = appliedField(plan, field!, [drivenLog(result, 0)]).products[0]!;
    const pass = workedPasses(plan, field!)[9]!;
    // Readings on the very boundary are 0 in both logs.
    expect(whole.nothingLaidAc).toBeLessThan(0.1);
    near(one!.nothingLaidAc - whole.nothingLaidAc, pass.areaAc, 0.03);
    expect(one!.skippedAc).toBeCloseTo(whole.skippedAc, 9);
    expect(one!.coveredAc).toBeCloseTo(whole.coveredAc, 9);
    near(one!.missingLb - whole.missingLb, pass.lb[0]!, 0.05);
    expect(nothingLaidInWords({ nothingLaidAc: 0.049 })).toBe("");
    // 0.42 ac x 0.404686 ha = 0.17 ha.
    expect(nothingLaidInWords({ nothingLaidAc: 0.42 })).toBe(
      ", of it 0.42 ac got nothing where the map has a rate",
    );
    expect(nothingLaidInWords({ nothingLaidAc: 0.42 }, "metric")).toBe(
      ", of it 0.17 ha got nothing where the map has a rate",
    );
    // Where the map wants nothing there, nothing is as planned.
    const none = field!.prescriptions.map((map) => ({
      ...map,
      rateLbPerAc: map.rateLbPerAc.map((rate, k) => (field!.passes.pieces[k]!.run === 9 ? 0 : rate)),
    }));
    const asPlanned = appliedField(plan, { ...field!, prescriptions: none }, [shut]).products[0]!;
    expect(asPlanned.nothingLaidAc).toBeLessThan(whole.nothingLaidAc + 0.01);
  });

  test("a pass that is not finished is no skip: acres not driven yet, told first", () => {
    const [field] = result.fields;
    const worked = workedPasses(plan, field!);
    const upTo = Math.ceil(worked.length / 2);
    const made = appliedField(plan, field!, [drivenLog(result, 0, { upTo })]);
    near(
      made.notDrivenAc,
      worked.slice(upTo).reduce((sum, { areaAc }) => sum + areaAc, 0),
      0.03,
    );
    expect(made.notices[0]).toMatchObject({
      code: "strip-not-finished",
      message: expect.stringContaining("go on with `remainder`"),
    });
    const whole = appliedField(plan, field!, [drivenLog(result, 0, { skips: [9] })]);
    expect(whole.notDrivenAc).toBe(0);
    expect(whole.notices.map(({ code }) => code)).toContain("skips-still-planned");
    // Two passes next to each other are 6.6 % of the field; the first one alone is 2.1 %, a single one between driven ones 3.3 %.
    for (const [skips, open] of [
      [[9, 10], true],
      [[0], true],
      [[9, 14], false],
      [[9, 11, 13, 15], true],
    ] as const) {
      const some = appliedField(plan, field!, [drivenLog(result, 0, { skips })]).notDrivenAc;
      const wantedAc = skips.reduce((sum: number, k) => sum + worked[k]!.areaAc, 0);
      if (open) near(some, wantedAc, 0.05);
      else expect(some, `${skips}`).toBe(0);
    }
    // Whoever says that it is finished wants the rest caught up on.
    const finished = [{ pass: "strip" as const, date: "2027-04-20" }];
    const over = appliedField(plan, { ...field!, finished }, [drivenLog(result, 0, { upTo })]);
    expect([over.notDrivenAc, over.notices.some(({ code }) => code === "strip-not-finished")]).toEqual([
      0,
      false,
    ]);
  });

  test("one bin's log ends before the other's: its acres and pounds, and none where it has readings of rate 0 or nothing to lay", () => {
    const [field] = result.fields;
    const worked = workedPasses(plan, field!);
    const upTo = worked.length - 2;
    const [left, right] = [drivenLog(result, 0, { upTo }), drivenLog(result, 1)];
    const made = appliedField(plan, field!, [left, right]);
    expect(made.lacking).toMatchObject([{ product: products[0], beside: [products[1]] }]);
    const lacks = worked.slice(upTo);
    near(
      made.lacking[0]!.areaAc,
      lacks.reduce((ac, { areaAc }) => ac + areaAc, 0),
      0.03,
    );
    near(
      made.lacking[0]!.lb,
      lacks.reduce((lb, pass) => lb + pass.lb[0]!, 0),
      0.03,
    );
    expect(made.notices[0]!.code).toBe("log-lacks-ground");
    expect(() => requireStripFinished(made)).toThrow("a file of this log may lack");
    expect(made.notices[0]!.message).toMatch(/enter what was laid \(--into-ledger\), then `ledger --finish/);
    // Half the field driven: what is not driven comes first, and nothing is finished before it is.
    const half = Math.floor(worked.length / 2);
    const ofHalf = appliedField(plan, field!, [
      drivenLog(result, 0, { upTo: half - 2 }),
      drivenLog(result, 1, { upTo: half }),
    ]);
    const leftAc = worked.slice(half).reduce((ac, { areaAc }) => ac + areaAc, 0);
    near(ofHalf.notDrivenAc, leftAc, 0.03);
    expect(ofHalf.lacking).toMatchObject([{ product: products[0], beside: [products[1]] }]);
    expect(ofHalf.notices[0]!.message).toMatch(
      new RegExp(
        `^[^:]+: ${ofHalf.notDrivenAc.toFixed(1)} of [\\d.]+ ac are not driven yet: go on with \`remainder\` first\\. On ground that is driven the log of ${products[0]} has no reading`,
      ),
    );
    expect(ofHalf.notices[0]!.message).toContain(
      "enter what was laid (--into-ledger), and once the whole field is driven `ledger --finish",
    );
    expect(() => requireStripFinished(ofHalf)).toThrow("are not driven yet: go on with `remainder` first");
    // The bin shut there: its readings say 0.
    const whole = drivenLog(result, 0);
    const shut = whole.log.points.map((point, i) =>
      i < left.log.points.length ? point : { ...point, appliedLbPerAc: 0 },
    );
    const ofShut = appliedField(plan, field!, [{ ...whole, log: { ...whole.log, points: shut } }, right]);
    expect([ofShut.lacking, ofShut.notices.filter(({ code }) => code === "log-lacks-ground")]).toEqual([
      [],
      [],
    ]);
    // Written every 16 m beside every 3 m: the first piece of each pass lacks, and no file does.
    const coarse = whole.log.points.filter((_, i) => i % 5 === 0);
    const seldom = appliedField(plan, field!, [{ ...whole, log: { ...whole.log, points: coarse } }, right]);
    expect(seldom.products[0]!.skippedAc).toBeGreaterThan(0.02 * field!.checked.areaAc);
    expect(seldom.lacking).toEqual([]);
    // Nothing to lay there by its map.
    const from = field!.passes.pieces.map(({ run: of }) => of >= upTo);
    const prescriptions = field!.prescriptions.map((map) =>
      map.product === products[0] && map.pass === "strip"
        ? { ...map, rateLbPerAc: map.rateLbPerAc.map((rate, k) => (from[k] ? 0 : rate)) }
        : map,
    );
    expect(appliedField(plan, { ...field!, prescriptions }, [left, right]).lacking).toEqual([]);
  });

  test("a headland into which the passes run, and passes beyond it: not driven, though half the headland is covered", () => {
    const [field] = curved.fields;
    const worked = workedPasses(curved.plan, field!);
    const headland = field!.passes.runs.findIndex(({ kind }) => kind === "headland");
    const share = field!.passes.pieces.map(({ run }) => (run < 5 ? 0 : run < headland ? 1 : 0.55));
    const made = notDrivenAc(field!.passes, [Float64Array.from(share)]);
    const open = worked.map(({ areaAc }, k) => (k < 5 ? 0 : k < headland ? areaAc : 0.55 * areaAc));
    expect(made).toBeCloseTo(
      open.reduce((sum, ac) => sum + ac, 0),
      6,
    );
    // By over half it is driven, and what lacks is skipped; without passes to come there is nothing left.
    const passed = field!.passes.pieces.map(({ run }) => (run < headland ? 0 : 0.45));
    expect(notDrivenAc(field!.passes, [Float64Array.from(passed)])).toBe(0);
    expect(notDrivenAc(field!.passes, [])).toBe(0);
  });

  test("the meter follows 2 s late", () => {
    const [one] = appliedField(plan, result.fields[0]!, [drivenLog(result, 0, { lagS: 2 })]).products;
    expect(Math.abs(one!.lag.lagSeconds - 2)).toBeLessThanOrEqual(0.5);
  });

  test("the scale finds a meter that gives 7 % more than it logs; pounds and map take the factor", () => {
    const log = drivenLog(result, 0);
    const logged = appliedField(plan, result.fields[0]!, [log]).products[0]!.loggedLb;
    const tickets = {
      startLb: 400,
      endLb: 900,
      wasteLb: 20,
      tickets: [{ grossLb: 30_000 + 1.07 * logged + 520, tareLb: 30_000 }],
    };
    const [one] = appliedField(plan, result.fields[0]!, [{ ...log, tickets }]).products;
    expect(one!.meterFactor).toBeCloseTo(1.07, 9);
    expect(one!.meterFactorFrom).toBe("tickets");
    expect(one!.placedLb).toBeCloseTo(1.07 * one!.insideLb, 6);
    expect(one!.tickets!.notices[0]!.code).toBe("meter-off");
    const wrong = { ...tickets, tickets: [{ grossLb: 30_000 + 1.5 * logged, tareLb: 30_000 }] };
    expect(appliedField(plan, result.fields[0]!, [{ ...log, tickets: wrong }]).products[0]).toMatchObject({
      meterFactor: 1,
      meterFactorFrom: "none",
    });
  });

  test("a catch-up of under 1 % of the strip map's pounds is told as hardly worth a trip, and no other", () => {
    const strip = [
      { product: "11-52-0", totalLb: 16_258 },
      { product: "0-0-60", totalLb: 13_698 },
    ];
    // 39 / 16,258 is 0.24 %; 137 lb are 1.0001 % of 13,698; what the strip pass lays nothing of is not judged by it.
    const made = smallCatchUps(
      strip,
      [
        { product: "11-52-0", totalLb: 39 },
        { product: "0-0-60", totalLb: 137 },
        { product: "46-0-0", totalLb: 5 },
      ],
      "north",
    );
    expect(made).toEqual([
      {
        code: "catch-up-small",
        message:
          "11-52-0: the catch-up of 39 lb is 0.2 % of the 16,258 lb of its strip map, less than meter and scale can tell: hardly worth a trip of the spreader",
        where: "north",
      },
    ]);
    const skipped = appliedField(plan, result.fields[0]!, [drivenLog(result, 0, { skips: [9] })]);
    expect(skipped.notices.map(({ code }) => code)).not.toContain("catch-up-small");
  });

  describe("of which product it is", () => {
    /** The potash log; as a CSV without a product column, or without targets. */
    const potash = (change: (point: ProductLog["log"]["points"][number]) => object = () => ({})) => {
      const { log } = drivenLog(result, 1);
      return { ...log, points: log.points.map((point) => ({ ...point, product: "", ...change(point) })) };
    };
    const doubtsOf = (logs: readonly ProductLog[]): string[] =>
      appliedField(plan, result.fields[0]!, logs).notices.flatMap(({ code, message }) =>
        /^(log-|same-log)/.test(code) ? [`${code}: ${message}`] : [],
      );

    test("target rates that are another product's map are told, with how far they are off their own", () => {
      const [field] = result.fields;
      const [own, other] = [0, 1].map((bin) => driveField(plan, field!, bin));
      // The same places in both: readings with a rate, each against the other map there.
      const squares = other!.flatMap(({ target }, k) =>
        target > 0 ? [(target - own![k]!.target) ** 2] : [],
      );
      const off = Math.sqrt(squares.reduce((total, one) => total + one, 0) / squares.length);
      const [doubt, ...more] = doubtsOf([{ product: "11-52-0", log: potash() }]);
      expect(more).toEqual([]);
      const [, offOwn, offOther] = /lie ([\d.]+) lb\/ac off the map of 11-52-0 and ([\d.]+) off/.exec(
        doubt!,
      )!;
      expect(Math.abs(Number(offOwn) - off)).toBeLessThan(0.5);
      expect(Number(offOther)).toBeLessThan(0.5);
      expect(doubt).toContain("log-of-other-product: 11-52-0: the target rates");
      expect(doubtsOf([{ product: "0-0-60", log: potash() }])).toEqual([]);
    });

    test("readings too far apart to follow each other are refused, for they would count as ground that got nothing", () => {
      const given = potash();
      const sparse = { ...given, points: given.points.filter((_, k) => k % 20 === 0) };
      expect(() => doubtsOf([{ product: "0-0-60", log: sparse }])).toThrow(
        expect.objectContaining({
          code: "log-gives-nothing",
          message: expect.stringMatching(/^0-0-60: \d+ readings with rates lie on .* within 30 m/),
        }),
      );
    });

    test("readings in no order of places are refused too, and what is refused says of which product", () => {
      const given = potash(() => ({ time: "" }));
      // A third as driven, then every 97th reading, over and over: those lie 300 m and more apart along the way.
      const count = given.points.length;
      const mixed = given.points.map((one, k) => (k < count / 3 ? one : given.points[(97 * k) % count]!));
      expect(() => doubtsOf([{ product: "0-0-60", log: { ...given, points: mixed } }])).toThrow(
        expect.objectContaining({
          code: "log-gives-nothing",
          message: expect.stringMatching(/^0-0-60: .* follow another one within 30 m/),
        }),
      );
      const timed = potash();
      const sorted = timed.points.toSorted((one, two) => one.at[0] - two.at[0]);
      expect(() => doubtsOf([{ product: "0-0-60", log: { ...timed, points: sorted } }])).toThrow(
        expect.objectContaining({
          code: "log-out-of-order",
          message: expect.stringMatching(/^0-0-60: the log's readings are not in the order of their times/),
        }),
      );
    });

    test("without target rates the applied ones tell, also 2 s late and 15 % too high", () => {
      const late = drivenLog(result, 1, { lagS: 2 }).log;
      const points = late.points.map((point) => ({
        ...{ ...point, product: "", targetLbPerAc: null },
        appliedLbPerAc: 1.15 * point.appliedLbPerAc,
      }));
      expect(doubtsOf([{ product: "11-52-0", log: { ...late, points } }])).toEqual([
        expect.stringMatching(/^log-of-other-product: 11-52-0: the .* of 0-0-60/),
      ]);
      expect(doubtsOf([{ product: "0-0-60", log: { ...late, points } }])).toEqual([]);
    });

    test("the same readings for both products, and a name that is another's, are told", () => {
      const twice = doubtsOf(products.map((product) => ({ product, log: potash() })));
      expect(twice[0]).toBe(
        "same-log-twice: 11-52-0 and 0-0-60 were given the same log, reading for reading: it can be of one of them alone",
      );
      const named = potash(() => ({ product: "0-0-60" }));
      expect(doubtsOf([{ product: "11-52-0", log: named }])[0]).toBe(
        "log-of-other-product: 11-52-0: its log says 0-0-60",
      );
      expect(doubtsOf([{ product: "0-0-60", log: potash(() => ({ product: "Potash" })) }])).toEqual([
        "log-product-name: 0-0-60: its log says “Potash”; taken for 0-0-60",
      ]);
    });
  });

  test("what lies off the field is told, counts in none of its figures, and is what the scale weighed too", () => {
    const { log, product } = drivenLog(result, 0);
    const [field] = result.fields;
    const whole = appliedField(plan, field!, [{ log, product }]).products[0]!;
    // The same readings once more, a degree of latitude north: the rig did another field of the same pounds.
    const passes = Math.max(...log.points.map(({ pass }) => pass)) + 1;
    const elsewhere = log.points.map((point) => ({
      ...point,
      at: [point.at[0], point.at[1] + 0.1] as const,
      time: "",
      pass: point.pass + passes,
    }));
    const points = [...log.points, ...elsewhere];
    const scale = { startLb: 0, endLb: 0, wasteLb: 0, tickets: [{ grossLb: 2 * whole.loggedLb, tareLb: 0 }] };
    const made = appliedField(plan, field!, [{ product, log: { ...log, points }, tickets: scale }]);
    const [one] = made.products;
    expect(one!.placedLb / whole.placedLb).toBeCloseTo(one!.meterFactor, 9);
    near(one!.meterFactor, 1, 0.002);
    expect(made.notices.find(({ code }) => code === "readings-elsewhere")!.message).toMatch(
      new RegExp(
        `^11-52-0: ${elsewhere.length.toLocaleString("en-US")} readings of its log, [\\d,]+ lb, lie over 30 m off`,
      ),
    );
    expect(appliedField(plan, field!, [{ log, product }]).notices.map(({ code }) => code)).not.toContain(
      "readings-elsewhere",
    );
  });

  test("headland passes are mapped too", () => {
    const [one] = appliedField(curved.plan, curved.fields[0]!, [
      drivenLog(curved, 0, { skips: [3] }),
    ]).products;
    const pass = workedPasses(curved.plan, curved.fields[0]!)[3]!;
    expect(one!.skippedAc).toBeGreaterThan(0.9 * pass.areaAc);
    expect(one!.insideLb + one!.outsideLb).toBeCloseTo(one!.loggedLb, 6);
  });

  test("a log of elsewhere, of a product no bin holds", () => {
    const log = drivenLog(result, 0);
    const away = {
      ...log,
      log: {
        ...log.log,
        points: log.log.points.map((point) => ({ ...point, at: [-90, 40] as [number, number] })),
      },
    };
    expect(() => appliedField(plan, result.fields[0]!, [away])).toThrow(/none of the \d+ readings/);
    expect(() => appliedField(plan, result.fields[0]!, [{ ...log, product: "46-0-0" }])).toThrow(
      /no bin with 46-0-0/,
    );
  });
});

describe("catch-up", () => {
  test("what a left-out pass lacks comes by the spreader; need = strip + catch-up + credits + short - over - rounding", () => {
    const field = result.fields[0]!;
    const both = [drivenLog(result, 0, { skips: [9] }), drivenLog(result, 1, { skips: [9] })];
    const made = appliedField(plan, field, both).catchUp;
    const plain = appliedField(plan, field, [drivenLog(result, 0), drivenLog(result, 1)]).catchUp;
    for (const [i, one] of made.balances.entries()) {
      const sum =
        one.stripLb + one.broadcastLb + one.creditsLb + one.shortageLb - one.excessLb - one.roundingLb;
      expect(sum).toBeCloseTo(one.needLb, 6);
      const pass = workedPasses(plan, field)[9]!;
      const oxide = i === 0 ? 0.52 * pass.lb[0]! : 0.6 * pass.lb[1]!;
      const more =
        one.broadcastLb + one.shortageLb - plain.balances[i]!.broadcastLb - plain.balances[i]!.shortageLb;
      near(more, oxide, 0.15);
    }
    expect(made.prescriptions.map((map) => map.stem)).toEqual(["LOWFORTY_CU_1152", "LOWFORTY_CU_0060"]);
    expect(made.voids).toEqual(
      field.prescriptions.filter((map) => map.pass === "broadcast").map((map) => map.stem),
    );
  });

  test("a product without a log counts as planned, and it says so", () => {
    const made = appliedField(plan, result.fields[0]!, [drivenLog(result, 0)]);
    expect(made.asPlanned).toEqual(["0-0-60"]);
    expect(made.notices[0]).toMatchObject({ code: "taken-as-planned" });
    const planned = result.fields[0]!.balances.find((one) => one.nutrient === "K2O")!;
    expect(made.catchUp.balances[1]!.stripLb).toBeCloseTo(planned.stripLb, 6);
  });

  test("pounds without a log lie in proportion to the map; much off is said", () => {
    const field = result.fields[0]!;
    const planned = field.prescriptions.find((map) => map.pass === "strip" && map.bin === "R")!;
    const of = (lb: number) =>
      appliedField(plan, field, [drivenLog(result, 0)], [{ product: "0-0-60", lb, from: "typed" }]);
    const same = of(planned.totalLb);
    const asPlanned = appliedField(plan, field, [drivenLog(result, 0)]);
    expect(same.asPlanned).toEqual([]);
    for (const [i, one] of same.catchUp.balances.entries()) {
      expect(one.stripLb).toBeCloseTo(asPlanned.catchUp.balances[i]!.stripLb, 6);
      expect(one.broadcastLb).toBeCloseTo(asPlanned.catchUp.balances[i]!.broadcastLb, 6);
    }
    const less = of(0.9 * planned.totalLb);
    expect(less.byPounds).toEqual([
      {
        product: "0-0-60",
        lb: 0.9 * planned.totalLb,
        from: "typed",
        stem: planned.stem,
        plannedLb: planned.totalLb,
      },
    ]);
    const [, k] = [same, less].map((one) => one.catchUp.balances.find(({ nutrient }) => nutrient === "K2O")!);
    expect(k!.stripLb).toBeCloseTo(0.6 * 0.9 * planned.totalLb, 6);
    expect(k!.broadcastLb).toBeGreaterThan(same.catchUp.balances[1]!.broadcastLb);
    expect(less.notices).toEqual([]);
    expect(of(0.5 * planned.totalLb).notices.map(({ code }) => code)).toEqual(["pounds-not-as-planned"]);
    const loud = of(11 * planned.totalLb).notices;
    expect(loud.map(({ code }) => code)).toEqual(["pounds-beyond-map"]);
    expect(loud[0]!.message).toMatch(/^0-0-60: [\d,]+ LB WENT OUT, 11\.0 TIMES THE MAP'S /);
    expect(() => appliedField(plan, field, [], [{ product: "46-0-0", lb: 9, from: "typed" }])).toThrow(
      /no bin with 46-0-0/,
    );
  });
});
