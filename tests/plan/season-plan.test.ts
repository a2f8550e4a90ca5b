import { beforeAll, describe, expect, test } from "vitest";
import { hoursAtRate, timeLinesOf } from "../../src/capacity/index.ts";
import type { FieldStand } from "../../src/ledger/index.ts";
import {
  fieldCapacity,
  fillPlan,
  type Plan,
  planCapacity,
  type RunResult,
  rigFigures,
  run,
  seasonOfPlan,
  workedPasses,
} from "../../src/plan/index.ts";
import { noTenderGain } from "../../src/report/index.ts";
import { finishDistribution, wetHours } from "../../src/season/index.ts";
import { asFour, inOrderOf, seasonPlanDocument, standWith } from "../support/season-plan.ts";
import { smallFarmFiles, sourceOf } from "../support/small-farm.ts";

const plan: Plan = seasonPlanDocument();
let result: RunResult;
beforeAll(async () => {
  result = await run(plan, sourceOf(smallFarmFiles()), { files: "later", readings: "all" });
});
const four = () => asFour(result.fields[0]!);
const inOrder = inOrderOf(plan);

describe("season of a plan", () => {
  test("hours by hand: acres x (work + stops + waiting) + the way there", () => {
    const season = seasonOfPlan(plan, result.fields);
    const [row] = season.fields;
    const fills = fillPlan(plan, result.fields[0]!);
    expect(row!.acPerFill).toBeCloseTo(fills.acPerFill!, 9);
    const loadLb = fills.acPerFill! * row!.meanStripLbPerAc;
    const width = 30;
    const work = {
      widthFt: width,
      mph: 7,
      turnEfficiency: fills.workRate.acPerHour / ((width * 7) / 8.25),
      fixedHoursPerStop: 0.1,
      transferLbPerHour: 78_000,
      hoursPerDay: 10,
    };
    const lines = timeLinesOf(work, loadLb, { count: 1, lb: 4800, tripHours: 1 });
    const { hoursPerAc } = hoursAtRate(lines, row!.meanStripLbPerAc);
    expect(row!.hours).toBeCloseTo(row!.areaAc * hoursPerAc + 0.5, 9);
  });

  test.each([
    ["bins of their own", {}, {}],
    ["a rig that may carry less", { carriesLb: 1_700 }, {}],
    ["one box with a wall", { movableWall: true }, {}],
    ["a measured overlap and meter", { overlapPercent: 6 }, { meterFactor: 1.04 }],
    ["nothing typed of overlap", {}, {}],
  ])("acres a fill are one figure in capacity, fills and season: %s", (_, rig, fills) => {
    const told: Plan = { ...plan, rig: { ...plan.rig, ...rig }, fills };
    const [field] = result.fields;
    const { acPerFill } = fillPlan(told, field!);
    const [row] = seasonOfPlan(told, result.fields).fields;
    const at = planCapacity({ ...result, plan: told });
    expect(row!.acPerFill).toBeCloseTo(acPerFill!, 9);
    expect(at.all.acPerFill).toBeCloseTo(acPerFill!, 9);
    expect(at.fields[0]!.capacity.acPerFill).toBeCloseTo(acPerFill!, 9);
    expect(fieldCapacity(told, field!, rigFigures(told, field!.laid)).acPerFill).toBeCloseTo(acPerFill!, 9);
    expect(at.all.binLbPerAc).toBeCloseTo(row!.meanStripLbPerAc, 9);
  });

  test("fields in the season's order, dates rise, the finish is the last field's", () => {
    const season = seasonOfPlan(inOrder, four());
    expect(season.fields.map((row) => row.fieldId)).toEqual(["c", "a", "b", "d"]);
    const days = season.fields.map((row) => row.workableDays);
    expect(days).toEqual(days.toSorted((a, b) => a - b));
    expect(season.finish[0]!.date80).toBe(season.fields.at(-1)!.date80);
    expect(season.finish.map((one) => one.persistence)).toEqual([0.5, 0]);
  });

  test("the finish is the exact distribution of its workable days", () => {
    const season = seasonOfPlan(inOrder, four());
    const days = Math.ceil(season.hours / 10);
    expect(season.workableDays).toBe(days);
    const exact = finishDistribution({
      start: "2027-04-10",
      persistence: 0.5,
      chances: [
        { from: "2027-04-10", to: "2027-04-30", chance: 0.5 },
        { from: "2027-05-01", to: "2027-05-31", chance: 0.6 },
      ],
      acres: days,
      acPerDay: 1,
    });
    expect(season.finish[0]).toMatchObject({ date80: exact.date80, date50: exact.date50 });
  });

  test("from today's ledger: finished fields take no time, begun ones no way there", () => {
    const before = seasonOfPlan(inOrder, four());
    const stands = [
      standWith("c", { state: "stripped", frozen: true, strippedAc: 15 }),
      standWith("a", { state: "part stripped", strippedAc: 10, toStripAc: before.fields[1]!.areaAc }),
    ];
    const after = seasonOfPlan(inOrder, four(), { stands, start: "2027-04-20" });
    const [c, a] = after.fields;
    expect(c).toMatchObject({ leftAc: 0, hours: 0, isDone: true, workableDays: 0 });
    expect(c).toMatchObject({ date80: null, date50: null, waitMinutesPerFill: 0 });
    expect(a!.isDone).toBe(false);
    expect(a!.leftAc).toBeCloseTo(before.fields[1]!.areaAc - 10, 9);
    const perAc = (before.fields[1]!.hours - 0.5) / before.fields[1]!.areaAc;
    expect(a!.hours).toBeCloseTo(a!.leftAc * perAc, 9);
    expect(after.start).toBe("2027-04-20");
    // So it is with acres a day: 10 h a day, and of three fields left the ways to two, 0.5 h each.
    expect(after.hours).toBeCloseTo(after.acres * perAc + 2 * 0.5, 9);
    expect(after.acPerDaySteady).toBeCloseTo((10 * after.acres) / after.hours, 6);
    expect(after.acPerDayFromFull).toBeGreaterThanOrEqual(after.acPerDaySteady);
    // With the begun one alone left there is no way to come.
    const last = ["c", "b", "d"].map((id) => standWith(id, { state: "stripped", frozen: true }));
    const alone = seasonOfPlan(inOrder, four(), { stands: [...last, stands[1]!] });
    expect(alone.acPerDaySteady).toBeCloseTo(10 / perAc, 6);
    // 4 ac of it get nothing: with 10 of the others done, that share of its pounds and of its time is behind.
    const toStripAc = before.fields[1]!.areaAc - 4;
    const kept = seasonOfPlan(inOrder, four(), { stands: [standWith("a", { strippedAc: 10, toStripAc })] });
    expect(kept.fields[1]!.leftAc / before.fields[1]!.areaAc).toBeCloseTo(1 - 10 / toStripAc, 9);
  });

  test("what is left is not worked before what the ledger has: from the day after its last strips", () => {
    const part = standWith("a", { state: "part stripped", strippedAc: 5, lastStripDate: "2027-04-22" });
    const start = seasonOfPlan(inOrder, four()).start!;
    expect(start < "2027-04-22").toBe(true);
    const after = seasonOfPlan(inOrder, four(), { stands: [part] });
    expect(after.start).toBe("2027-04-23");
    expect(after.finish).toEqual(
      seasonOfPlan(inOrder, four(), { stands: [part], start: "2027-04-23" }).finish,
    );
    expect(after.notices).toContainEqual({
      code: "start-after-work",
      message: `the season's start is ${start} and the ledger has strips placed on 2027-04-22: what is left is reckoned from 2027-04-23`,
      where: "season",
    });
    // A start that is typed stands; work before the start, or dated another season, moves nothing.
    const typed = seasonOfPlan(inOrder, four(), { stands: [part], start: "2027-04-20" });
    expect(typed.start).toBe("2027-04-20");
    for (const lastStripDate of ["2026-11-02", "2072-04-22"]) {
      const { start: same, notices } = seasonOfPlan(inOrder, four(), {
        stands: [{ ...part, lastStripDate }],
      });
      expect(same).toBe(start);
      expect(notices.map(({ code }) => code)).not.toContain("start-after-work");
    }
  });

  test("a start outside the days typed, or for another season, is told with the days that are taken", () => {
    const { from, to, daysPerWeek } = plan.season!.workableDays![0]!;
    const last = plan.season!.workableDays!.at(-1)!;
    const told = (start?: string, stands: FieldStand[] = []) =>
      seasonOfPlan(plan, result.fields, { stands, ...(start === undefined ? {} : { start }) }).notices.filter(
        ({ code }) => code.startsWith("start-"),
      );
    expect(told()).toEqual([]);
    expect(told("2027-03-20").map(({ message }) => message)).toEqual([
      `the start 2027-03-20 is before the days with workable days typed, ${from} to ${last.to}: from it on the ${daysPerWeek} days a week of ${from} to ${to} are taken`,
    ]);
    expect(told("2028-05-02").map(({ code, message }) => [code, message])).toEqual([
      [
        "start-other-season",
        "the start 2028-05-02 is work for the season of 2028, and the plan is for 2027: look at its year",
      ],
      [
        "start-outside-days",
        `the start 2028-05-02 is after the days with workable days typed, ${from} to ${last.to}: from it on the ${last.daysPerWeek} days a week of ${last.from} to ${last.to} are taken`,
      ],
    ]);
    const done = standWith(plan.fields[0]!.id, { state: "stripped", frozen: true, strippedAc: 40 });
    expect(told("2028-05-02", [done])).toEqual([]);
    // One day alone says that all days are alike: none is outside of it.
    const alike = {
      ...plan.season!,
      workableDays: [{ from: "2027-04-05", to: "2027-04-05", daysPerWeek: 3.5 }],
    };
    const { notices } = seasonOfPlan({ ...plan, season: alike }, result.fields, { start: "2027-04-19" });
    expect(notices.map(({ code }) => code)).not.toContain("start-outside-days");
  });

  test("what if: another tender, fewer pounds, more speed, longer days", () => {
    const today = seasonOfPlan(inOrder, four());
    expect(today.fields[0]!.bound).toBe("tender");
    for (const options of [{ tenders: 2 }, { stripShare: 0.7 }, { hoursPerDay: 14 }]) {
      expect(seasonOfPlan(inOrder, four(), options).acPerDaySteady).toBeGreaterThan(today.acPerDaySteady);
    }
    expect(noTenderGain(today)).toBeNull();
    const { anotherTender: _, ...levers5 } = seasonOfPlan(inOrder, four(), { tenders: 5 }).levers;
    const even = { ...levers5, anotherTender: levers5.today };
    const [first, ...others] = today.fields;
    const free = others.map((row) => ({ ...row, bound: "rig" as const }));
    expect(noTenderGain({ levers: even, fields: free })).toBe(
      "another tender or a shorter trip: nothing to gain",
    );
    expect(noTenderGain({ levers: even, fields: [first!, ...free] })).toMatch(
      /nothing to gain in the farm's mean, but the rig waits for it at .+$/,
    );
    const faster = seasonOfPlan(inOrder, four(), { mph: 9, tenders: 5 });
    expect(faster.hours).toBeLessThan(seasonOfPlan(inOrder, four(), { tenders: 5 }).hours);
    const { levers } = today;
    expect(levers.anotherTender!.acPerDay).toBeGreaterThan(levers.today.acPerDay);
    expect(levers.lowerRate.acPerDay).toBeGreaterThan(levers.today.acPerDay);
    expect(today.acPerDayFromFull).toBeGreaterThan(today.acPerDayFromEmpty);
  });

  test("a slow rig before a planter: it waits, in the field named", () => {
    const rushed: Plan = {
      ...inOrder,
      season: {
        ...inOrder.season!,
        planters: [{ id: "16 rows", acPerDay: 400, startsOn: "2027-04-10", fields: ["c", "d"] }],
      },
    };
    const season = seasonOfPlan(rushed, four());
    expect(season.notices.find((one) => one.code === "planter-waits")).toMatchObject({ where: "c" });
    expect(season.planters[0]!.chase.keepsAhead).toBe(false);
    expect(season.fields.map((row) => row.chase!.planterId)).toEqual(["16 rows", null, null, "16 rows"]);

    // What the ledger has as stripped is ahead: its planter neither waits nor is short, and the other's fields get the rig.
    const { planters: _, ...rest } = rushed.season!;
    const two: Plan = {
      ...inOrder,
      season: {
        ...rest,
        planters: [
          { id: "16 rows", acPerDay: 400, startsOn: "2027-04-18", fields: ["c", "d"] },
          { id: "8 rows", acPerDay: 40, startsOn: "2027-04-30", fields: ["a", "b"] },
        ],
      },
    };
    const areaAc = season.fields[0]!.areaAc;
    const stands = ["c", "d"].map((id) =>
      standWith(id, { state: "stripped", strippedAc: areaAc, areaAc, lastStripDate: "2027-04-16" }),
    );
    const later = seasonOfPlan(two, four(), { stands });
    expect(later.notices.filter(({ code }) => code === "planter-waits")).toEqual([]);
    expect(later.planters.map(({ chase }) => chase.keepsAhead)).toEqual([true, true]);
    expect(later.planters[0]).toMatchObject({ chase: { neededAcPerDay: 0, wholeDaysNeeded: 0 } });
    expect(later.notices.map(({ code }) => code)).not.toContain("planter-began");
    const begun = { ...two.season!, planters: [{ ...two.season!.planters![1]!, startsOn: "2027-04-10" }] };
    const told = seasonOfPlan({ ...two, season: begun }, four(), { stands }).notices;
    const began = told.find(({ code }) => code === "planter-began")!;
    expect(began.message).toMatch(/^8 rows began on 2027-04-10, before the day reckoned from, 2027-04-17: /);
    // Where it is given, whatever a planter is called.
    expect(began.where).toBe("season.planters");
    // Acres a day are of what is left, moves between the fields left in them.
    expect(later.acPerDaySteady).toBeCloseTo((later.acres / later.hours) * plan.rig.work!.hoursPerDay!, 6);
    const alone = later.planters[1]!.chase.workableDaysNeeded;
    const shared = seasonOfPlan(two, four()).planters[1]!.chase.workableDaysNeeded;
    expect(alone).toBeLessThan(shared);
  });

  test("humidity by product and half-month, as the curve says", () => {
    const [row] = seasonOfPlan(plan, result.fields).humidity;
    expect(row).toMatchObject({
      product: "11-52-0",
      limitPercent: 70,
      limitStatus: "unconfirmed",
      emptyAtNight: true,
    });
    expect(row!.hours).toEqual(
      wetHours({
        morningPercent: 82,
        afternoonPercent: 55,
        limitPercent: 70,
        workFromHour: 8,
        workToHour: 20,
      }),
    );
  });

  const binsOf = (...held: readonly string[]) =>
    held.map((product, b) => ({ ...plan.rig.bins[b]!, product, lbPerFt3: 60 }));
  const coated = {
    ...{ coatingPoints: 8, sdPoints: 12, hoursLost: 4, usdPerHour: 300 },
    ...{ benefitUsdPerAc: 2, leftOverUsdPerAc: 4 },
  };

  test("humidity of an own product: by its typed limit, else a notice", () => {
    const season = (more: { readonly criticalHumidityPercent?: number }, products: string[]) => {
      const own = { id: "12-40-0", name: "own", grade: { N: 12, P2O5: 40 }, ...more };
      const of: Plan = {
        ...plan,
        products: [own],
        rig: { ...plan.rig, bins: binsOf("12-40-0", "0-0-60") },
        season: { ...plan.season!, coated: { ...coated, products } },
      };
      return seasonOfPlan(of, result.fields);
    };
    const unknown = season({}, ["12-40-0"]);
    expect(new Set(unknown.humidity.map(({ product }) => product))).toEqual(new Set(["0-0-60"]));
    expect(unknown.coated).toBeNull();
    expect(unknown.notices.filter(({ code }) => code === "product-humidity-unknown")).toEqual([
      {
        code: "product-humidity-unknown",
        message:
          "season.humidity and season.coated are not used for 12-40-0: above what humidity it draws water is not known; type criticalHumidityPercent of it among the plan's products",
        where: "season.humidity",
      },
    ]);
    expect(season({}, ["0-0-60"]).notices.map(({ message }) => message)).toContainEqual(
      expect.stringMatching(/^season\.humidity is not used for 12-40-0/),
    );
    const known = season({ criticalHumidityPercent: 62 }, ["12-40-0"]);
    expect(known.humidity[0]).toMatchObject({ product: "12-40-0", limitPercent: 62, limitStatus: "typed" });
    expect(known.coated).not.toBeNull();
    expect(known.notices.filter(({ code }) => code === "product-humidity-unknown")).toEqual([]);
  });

  test("a coated blend without the air's humidity is told, not passed over", () => {
    const { humidity, ...dry } = plan.season!;
    expect(humidity).not.toBeUndefined();
    const codes = (season: Plan["season"]) =>
      seasonOfPlan({ ...plan, season: season! }, result.fields).notices.map(({ code }) => code);
    expect(codes({ ...dry, coated })).toContain("coated-without-humidity");
    expect(codes({ ...plan.season!, coated })).not.toContain("coated-without-humidity");
    expect(codes(dry)).not.toContain("coated-without-humidity");
  });

  test("humidity of a blend is that of its parts", async () => {
    const blended: Plan = {
      ...plan,
      blends: [{ id: "mix", of: ["11-52-0", "0-0-60"], fit: "typed", shares: [0.6, 0.4], rate: "no-excess" }],
      rig: { ...plan.rig, bins: binsOf("mix") },
      season: { ...plan.season!, coated: { ...coated, products: ["mix"] } },
    };
    const made = await run(blended, sourceOf(smallFarmFiles()), { files: "later" });
    const season = seasonOfPlan(blended, made.fields);
    // The pair stands at 72.8 in the table, commercial blends at about 55.
    expect(season.humidity[0]).toMatchObject({
      product: "mix",
      limitPercent: 55,
      limitStatus: "unconfirmed",
    });
    expect(season.coated).not.toBeNull();
    expect(season.notices.map(({ code }) => code)).not.toContain("product-humidity-unknown");
  });

  test("a coated blend: the switch, the acres to order, whole fields for the plain one", () => {
    const coated = {
      coatingPoints: 8,
      sdPoints: 12,
      hoursLost: 4,
      usdPerHour: 300,
      benefitUsdPerAc: 2,
      leftOverUsdPerAc: 4,
    };
    const season = seasonOfPlan({ ...inOrder, season: { ...inOrder.season!, coated } }, four());
    const made = season.coated!;
    const worth = 2 * season.acPerDaySteady;
    const trouble = made.switch.periods.map((one) => one.costPerDay > worth);
    expect(made.switch.switchAt).toBe(
      trouble.includes(true) ? made.switch.periods[trouble.indexOf(true)]!.name : null,
    );
    expect(made.plainAc + made.orderAc!).toBeGreaterThanOrEqual(season.acres - 0.2);

    const told = (products: string[]) =>
      seasonOfPlan(
        { ...inOrder, season: { ...inOrder.season!, coated: { ...coated, products } } },
        four(),
      ).notices.filter(({ code }) => code === "coated-not-in-bins");
    expect(told(["11-52-0"])).toEqual([]);
    expect(told(["11-52-0", "12-40-0"])[0]!.message).toMatch(
      /names 12-40-0, which no bin holds \(they hold 11-52-0, 0-0-60\): it counts nowhere/,
    );
  });

  test("no days typed: hours and days, no dates, and it says so", () => {
    const { workableDays: _, ...season } = plan.season!;
    const made = seasonOfPlan({ ...plan, season }, result.fields);
    expect(made.finish).toEqual([]);
    expect(made.fields[0]!.date80).toBeNull();
    expect(made.notices.map((one) => one.code)).toContain("no-workable-days");
  });
});

test("passes are counted once: the season's acres are the maps'", () => {
  const season = seasonOfPlan(plan, result.fields);
  const passes = workedPasses(plan, result.fields[0]!);
  expect(season.acres).toBeCloseTo(
    passes.reduce((sum, pass) => sum + pass.areaAc, 0),
    9,
  );
});
