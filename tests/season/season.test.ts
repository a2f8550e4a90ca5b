import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { capacity, timeLines } from "../../src/capacity/index.ts";
import {
  atLeast,
  chanceDoneBy,
  chanceOfWorkableDays,
  chaseFields,
  type DayChance,
  dailyChance,
  dateOf,
  dayNumber,
  finishDistribution,
  normalCdf,
  plainBlendFields,
  planterChase,
  premiumAcres,
  seasonPlan,
  switchDate,
  wetHours,
  workableDayCounts,
} from "../../src/season/index.ts";
import { checkRow, example, near, numbersOf } from "../support/operations.ts";
import { seededDraws } from "../support/seeded-draws.ts";
import { simulateFinish } from "../support/simulate-finish.ts";

const { rig } = example("a1").inputs;
const tenders = { count: 1, lb: 23_400, tripHours: 2 };
const acPerDay = (rateLbPerAc: number): number => capacity({ rig, rateLbPerAc, tenders }).acPerDay;
const months: Readonly<Record<string, string>> = { Apr: "04", May: "05" };
/** "Apr 9" of the examples as a date of one year. */
const iso = (text: string): string => {
  const [month, day] = text.split(" ");
  return `2026-${months[month!]}-${day!.padStart(2, "0")}`;
};
const a5 = example("a5");
const chances: DayChance[] = a5.inputs.dailyChance.map((entry: { from: string; to: string; p: number }) => ({
  from: iso(entry.from),
  to: iso(entry.to),
  chance: entry.p,
}));

describe("a4: keeping ahead of the planter", () => {
  const { inputs, expected } = example("a4");
  const chase = {
    acres: inputs.acres,
    planterAcPerDay: inputs.planterAcPerDay,
    workableDaysBefore: inputs.workableDaysBefore,
    leadDays: inputs.leadDays,
    hoursPerDay: inputs.rig.hoursPerDay,
  };
  test("acres a day needed and the highest strip rate", () => {
    const one = planterChase({ ...chase, acPerDay: acPerDay(390), lines: timeLines({ rig, tenders }) });
    near(one.neededAtStartAcPerDay, expected.atStart);
    near(one.neededAtEndAcPerDay, expected.atEnd);
    near(one.neededAcPerDay, expected.need);
    near(one.highestRateLbPerAc, expected.maxRateOneTender);
    const ready = planterChase({ ...chase, acPerDay: 240, lines: timeLines({ rig }) });
    near(ready.highestRateLbPerAc, expected.maxRateReady);
  });
  test.each([
    [390, "lead390", "sim390", 3],
    [260, "lead260", "sim260", 1],
  ] as const)("%d lb/ac: days before planting, day by day", (rate, lead, sim, whole) => {
    const at = (workableDaysBefore: number) =>
      planterChase({ ...chase, workableDaysBefore, acPerDay: acPerDay(rate) });
    near(at(2).workableDaysNeeded, expected[lead]);
    expect(at(2).wholeDaysNeeded).toBe(whole);
    // The example's list begins with one day.
    expect(expected[sim].map((_: boolean, i: number) => at(i + 1).keepsAhead)).toEqual(expected[sim]);
  });
  test("the formula rounded up is enough, and at most one day cautious, 300 random chases", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 300, max: 4_000 }),
        fc.integer({ min: 80, max: 400 }),
        fc.integer({ min: 80, max: 400 }),
        fc.integer({ min: 0, max: 3 }),
        fc.constantFrom(0, 0, 100, 290, 5_000),
        (acres, planterAcPerDay, pace, leadDays, strippedAc) => {
          const at = (workableDaysBefore: number) =>
            planterChase({
              acres,
              strippedAc,
              planterAcPerDay,
              workableDaysBefore,
              leadDays,
              acPerDay: pace,
            });
          const { workableDaysNeeded, wholeDaysNeeded } = at(1);
          const rounded = Math.ceil(workableDaysNeeded - 1e-9);
          expect(at(rounded).keepsAhead).toBe(true);
          expect(rounded - wholeDaysNeeded).toBeGreaterThanOrEqual(0);
          expect(rounded - wholeDaysNeeded).toBeLessThanOrEqual(1);
          if (wholeDaysNeeded > 0) expect(at(wholeDaysNeeded - 1).keepsAhead).toBe(false);
        },
      ),
      { seed: 4, numRuns: 300 },
    );
  });
  test("the needed pace keeps ahead and a slower one does not, 200 random chases", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 500, max: 4_000 }),
        fc.integer({ min: 80, max: 400 }),
        fc.integer({ min: 1, max: 6 }),
        fc.integer({ min: 1, max: 3 }),
        fc.constantFrom(0, 40, 200),
        (acres, planterAcPerDay, workableDaysBefore, leadDays, strippedAc) => {
          const at = (pace: number) =>
            planterChase({
              ...{ acres, strippedAc, planterAcPerDay, workableDaysBefore, leadDays },
              acPerDay: Math.max(pace, 1e-6),
            });
          const pace = at(1).neededAcPerDay!;
          expect(at(pace * (1 + 1e-9)).keepsAhead).toBe(true);
          expect(at(pace).workableDaysNeeded).toBeLessThanOrEqual(workableDaysBefore + 1e-9);
          expect(at(pace * 0.99).workableDaysNeeded).toBeGreaterThan(workableDaysBefore - 1e-9);
        },
      ),
      { seed: 6, numRuns: 200 },
    );
  });
});

test("what is stripped already is ahead of the planter, by hand", () => {
  // 120 ac, 60 a day, one day of lead: 60 ac at the start, 120 a day later. 100 ac lie stripped, 20 are left.
  const chase = { acres: 120, strippedAc: 100, planterAcPerDay: 60, leadDays: 1 };
  const one = planterChase({ ...chase, workableDaysBefore: 1, acPerDay: 20 });
  expect(one).toMatchObject({ neededAtStartAcPerDay: 0, neededAtEndAcPerDay: 10, neededAcPerDay: 10 });
  expect(one).toMatchObject({ workableDaysNeeded: 0, wholeDaysNeeded: 0, keepsAhead: true });
  // At 10 a day 110 ac are ready at the end of its first day, 120 are wanted.
  const slow = planterChase({ ...chase, workableDaysBefore: 0, acPerDay: 10 });
  expect([slow.firstShortDay, slow.workableDaysNeeded]).toEqual([1, 1]);
  const done = planterChase({ ...chase, strippedAc: 120, workableDaysBefore: 0, acPerDay: 1e-6 });
  expect(done).toMatchObject({ keepsAhead: true, neededAcPerDay: 0, wholeDaysNeeded: 0 });
});

describe("a5: workable days and the finish date", () => {
  test("the generator's first draws", () => {
    const draw = seededDraws(12_345);
    for (const want of a5.expected.rngFirst3Seed12345) near(draw(), want);
    const again = seededDraws(12_345);
    expect([again(), again()]).not.toEqual([draw(), draw()]);
  });
  const cases = (["rho0", "rho0.5"] as const).flatMap((rho) =>
    ([390, 260] as const).map((rate) => [rho, rate] as const),
  );
  test.each(cases)("%s at %d lb/ac", (rho, rate) => {
    const want = a5.expected[rho][rate];
    const persistence = Number(rho.slice(3));
    const weather = { start: iso(a5.inputs.start), chances, persistence };
    const have = finishDistribution({ ...weather, acres: a5.inputs.acres, acPerDay: acPerDay(rate) });
    expect(have.workableDays).toBe(want.K);
    expect([have.date20, have.date50, have.date80, have.date90]).toEqual(
      [want.p20, want.p50, want.p80, want.p90].map(iso),
    );
    near(chanceDoneBy(have, "2026-05-10"), want.pByMay10);
    near(chanceOfWorkableDays(weather, 10, a5.inputs.leadWorkableDaysNeededByApr20[rate]), want.pLeadByApr20);
    // Monte Carlo beside the exact distribution.
    const runs = 20_000;
    const simulated = simulateFinish({
      ...weather,
      acres: a5.inputs.acres,
      acresOnDay: [acPerDay(rate)],
      runs,
      seed: 12_345,
      // The 52 days of the example's table.
      horizonDays: 52,
    });
    let largest = 0;
    simulated.byDay.forEach(({ date, share }, d) => {
      expect(have.byDay[d]!.date).toBe(date);
      largest = Math.max(largest, Math.abs(share - have.byDay[d]!.chance));
    });
    // Kolmogorov: a difference over 1.63 / sqrt(runs) comes once in a hundred.
    expect(largest).toBeLessThan(1.63 / Math.sqrt(runs));
    expect(simulated.standardError).toBeLessThanOrEqual(0.5 / Math.sqrt(runs));
    const mc = simulated.byDay.find((day) => day.date === "2026-05-10")!.share;
    // The same stream, drawn the same way: the same share, and the same largest difference.
    expect(mc).toBe(want.mcByMay10);
    near(largest, want.maxDiff, 1e-8);
  });
  test("counts add up to 1, the long-run share stays, persistence widens, 60 random seasons", () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.1, max: 0.9, noNaN: true }),
        fc.double({ min: 0, max: 0.8, noNaN: true }),
        (q, r) => {
          const weather = {
            start: "2026-04-01",
            chances: [{ from: "2026-04-01", to: "2026-04-01", chance: q }],
            persistence: r,
          };
          const counts = workableDayCounts(weather, 40)[40]!;
          const mean = counts.reduce((sum, p, k) => sum + p * k, 0);
          expect(counts.reduce((sum, p) => sum + p, 0)).toBeCloseTo(1, 12);
          near(mean, 40 * q, 1e-9);
          const spread = (c: Float64Array): number => c.reduce((sum, p, k) => sum + p * (k - mean) ** 2, 0);
          const alone = workableDayCounts({ ...weather, persistence: 0 }, 40)[40]!;
          expect(spread(counts)).toBeGreaterThanOrEqual(spread(alone) - 1e-9);
          near(spread(alone), 40 * q * (1 - q), 1e-9);
          near(atLeast(counts, 0), 1);
        },
      ),
      { seed: 8, numRuns: 60 },
    );
  });
  test("dates and chances that cannot be used", () => {
    expect(dateOf(dayNumber("2028-02-29") + 1)).toBe("2028-03-01");
    for (const date of ["2026-04-31", "4/10/2026", ""])
      expect(() => dayNumber(date)).toThrow("is not a date");
    expect(() => workableDayCounts({ start: "2026-04-01", chances, persistence: 0 }, 3)).toThrow(
      "2026-04-01",
    );
  });
  test("published days a week and seasons (A3-25; Edwards, Mar 2020)", () => {
    const [low, high] = numbersOf(checkRow("NW Iowa weekly medians").expected) as [number, number];
    expect(dailyChance(low)).toBeCloseTo(0.57, 2);
    expect(dailyChance(high)).toBeCloseTo(0.61, 2);
    const sunday = Number(checkRow("Sunday allowance").expected);
    near(dailyChance(low, false), (low + sunday) / 7);
    near(35 / 77, Number(checkRow("per-day chance from the 2019 trend").expected), 2e-9);
  });
});

test("published quantiles of the normal distribution (from memory: 0.8413447461, 0.9750021049)", () => {
  near(normalCdf(1), 0.8413447460685429, 1e-14);
  near(normalCdf(1.96), 0.9750021048517795, 1e-14);
  near(normalCdf(-1), 1 - 0.8413447460685429, 1e-13);
  expect(normalCdf(0)).toBe(0.5);
  expect([normalCdf(40), normalCdf(-40)]).toEqual([1, 0]);
});

describe("e2: wet hours", () => {
  const { inputs, expected } = example("e2");
  test.each(["a", "b", "c"])("case %s", (key) => {
    const { am, pm, crh } = inputs.cases[key];
    const have = wetHours({
      morningPercent: am,
      afternoonPercent: pm,
      limitPercent: crh,
      workFromHour: inputs.work[0],
      workToHour: inputs.work[1],
      maximumAtHour: inputs.maximumAt,
    });
    near(have.wetHours, expected[key].wet);
    near(have.dryFromHour, expected[key].dryFrom);
    near(have.dryToHour, expected[key].dryTo);
    near(have.wetShare, expected[key].share);
  });
  test("never and always wet, and against a count of minutes, 100 random days", () => {
    const day = { morningPercent: 80, afternoonPercent: 50, workFromHour: 8, workToHour: 20 };
    expect(wetHours({ ...day, limitPercent: 80 }).wetHours).toBe(0);
    expect(wetHours({ ...day, limitPercent: 50 })).toMatchObject({ wetHours: 12, dryFromHour: null });
    fc.assert(
      fc.property(
        fc.integer({ min: 0, max: 23 }),
        fc.integer({ min: 1, max: 24 }),
        fc.integer({ min: 45, max: 90 }),
        (from, length, limitPercent) => {
          const window = { ...day, workFromHour: from, workToHour: from + length, limitPercent };
          let wet = 0;
          const steps = 6_000;
          for (let i = 0; i < steps; i++) {
            const t = from + (length * (i + 0.5)) / steps;
            if (65 + 15 * Math.cos((2 * Math.PI * (t - 5)) / 24) > limitPercent) wet += length / steps;
          }
          expect(wetHours(window).wetHours).toBeCloseTo(wet, 1);
        },
      ),
      { seed: 9, numRuns: 100 },
    );
  });
});

test("e3: when to switch to the plain blend", () => {
  const { inputs, expected } = example("e3");
  const have = switchDate({
    criticalPercent: inputs.crh,
    coatingPoints: inputs.coatingPoints,
    sdPoints: inputs.sd,
    periods: Object.entries(inputs.afternoon as Record<string, number>).map(([name, afternoonPercent]) => ({
      name,
      afternoonPercent,
    })),
    hoursLost: inputs.hoursLost,
    valuePerHour: inputs.valuePerHour,
    benefitPerAc: inputs.benefitPerAc,
    acPerDay: inputs.acPerDay,
  });
  near(have.limitPercent, expected.c);
  near(have.thresholdChance, expected.threshold);
  expect(have.switchAt).toBe(expected.switchAt);
  have.periods.forEach((period, i) => {
    near(period.troubleChance, expected.periods[i].pTrouble);
  });
});

test("e4: how many acres of the premium blend to order", () => {
  const { inputs, expected } = example("e4");
  const have = premiumAcres({
    acres: inputs.acres,
    acPerDay: inputs.acPerDay,
    start: "2026-04-16",
    lastDay: "2026-05-15",
    chances,
    persistence: 0,
    tooLittlePerAc: inputs.costTooLittlePerAc,
    tooMuchPerAc: inputs.costTooMuchPerAc,
  });
  expect([have.days, have.orderAc]).toEqual([expected.days, expected.Q]);
  near(have.expectedAc, expected.mean);
  near(have.fractile, expected.fractile);
  near(have.chanceAtOrder, expected.cdf);
});

describe("e5: which fields take the plain blend", () => {
  const { inputs, expected } = example("e5");
  const fields = inputs.fields.map((field: { id: string; ac: number; benefitPerAc: number }) => ({
    id: field.id,
    areaAc: field.ac,
    benefitPerAc: field.benefitPerAc,
  }));
  test("least benefit lost", () => {
    expect(plainBlendFields({ fields, atLeastAc: inputs.atLeastAc })).toEqual({
      fields: expected.fields,
      areaAc: expected.acres,
      lostBenefit: expected.lost,
    });
    expect(plainBlendFields({ fields, atLeastAc: 0 }).fields).toEqual([]);
    expect(() => plainBlendFields({ fields, atLeastAc: 500 })).toThrow("465");
  });
  test("of equal fields the later one", () => {
    const equal = ["A", "B", "C"].map((id) => ({ id, areaAc: 40, benefitPerAc: 5 }));
    expect(plainBlendFields({ fields: equal, atLeastAc: 40 }).fields).toEqual(["C"]);
    expect(plainBlendFields({ fields: equal, atLeastAc: 41 }).fields).toEqual(["B", "C"]);
  });
  test("against every choice, 300 random farms", () => {
    const field = fc.record({
      areaAc: fc.integer({ min: 1, max: 60 }),
      benefitPerAc: fc.integer({ min: 0, max: 12 }),
    });
    fc.assert(
      fc.property(
        fc.array(field, { minLength: 1, maxLength: 8 }),
        fc.integer({ min: 0, max: 100 }),
        (list, percent) => {
          const farm = list.map((one, i) => ({ ...one, id: `F${i}` }));
          const total = farm.reduce((sum, one) => sum + one.areaAc, 0);
          const atLeastAc = Math.floor((total * percent) / 100);
          let best = Number.POSITIVE_INFINITY;
          for (let code = 0; code < 2 ** farm.length; code++) {
            const picked = farm.filter((_, i) => (code >> i) & 1);
            if (picked.reduce((sum, one) => sum + one.areaAc, 0) < atLeastAc) continue;
            best = Math.min(
              best,
              picked.reduce((sum, one) => sum + one.areaAc * one.benefitPerAc, 0),
            );
          }
          const have = plainBlendFields({ fields: farm, atLeastAc });
          expect(have.lostBenefit).toBeCloseTo(best, 9);
          expect(have.areaAc).toBeGreaterThanOrEqual(atLeastAc);
        },
      ),
      { seed: 10, numRuns: 300 },
    );
  });
});

describe("season field after field", () => {
  const input = {
    fields: ["A", "B", "C"].map((id) => ({ id, areaAc: 150, meanStripLbPerAc: 390, moveHours: 0.5 })),
    lines: timeLines({ rig, tenders }),
    hoursPerDay: 11,
    start: iso(a5.inputs.start),
    chances,
    persistence: 0,
  };
  test("hours, days and dates, by hand", () => {
    const have = seasonPlan(input);
    const hours = 150 * example("a2").expected.one[390].tau + 0.5;
    near(have.fields[0]!.hours, hours);
    near(have.hours, 3 * hours);
    expect(have.fields.map((field) => field.workableDays)).toEqual(
      [1, 2, 3].map((n) => Math.ceil((n * hours) / 11)),
    );
    near(have.acPerDay, (450 / (3 * hours)) * 11);
    expect(have.fields[2]!.date80).toBe(have.finish.date80);
    expect(have.fields[0]!.date80! < have.fields[2]!.date80!).toBe(true);
  });
  test("a restart from the ledger leaves out what is done", () => {
    const [a, b, c] = input.fields;
    const have = seasonPlan({
      ...input,
      start: "2026-04-20",
      fields: [{ ...a!, doneAc: 150 }, { ...b!, doneAc: 50 }, c!],
    });
    expect(have.acres).toBe(250);
    expect(have.fields[0]).toMatchObject({ leftAc: 0, hours: 0, workableDays: 0 });
    near(have.fields[1]!.hours, 100 * example("a2").expected.one[390].tau);
  });
  test("planters in their own order wait for strips, by hand", () => {
    const fields = ["A", "B"].map((id) => ({ id, areaAc: 240, stripHours: 11 }));
    const have = chaseFields({
      fields,
      hoursPerDay: 11,
      leadDays: 1,
      planters: [{ id: "P", acPerDay: 240, startsOnDay: 2, fields: ["B", "A"] }],
    });
    // B is stripped at the end of day 2, ready at 3: one day of waiting. Then A, ready at 2.
    expect(
      have.map(({ fieldId, waitDays, plantingStartsAtDay, slackDays }) => [
        fieldId,
        waitDays,
        plantingStartsAtDay,
        slackDays,
      ]),
    ).toEqual([
      ["A", 0, 4, 2],
      ["B", 1, 3, 0],
    ]);
    expect(() =>
      chaseFields({
        fields,
        hoursPerDay: 11,
        leadDays: 1,
        planters: [{ id: "P", acPerDay: 240, startsOnDay: 2, fields: ["X"] }],
      }),
    ).toThrow("X, which is not stripped");
  });
});
