import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  acresPerFill,
  breakEvenHourValue,
  type Capacity,
  capacity,
  crossoverRate,
  divideMovableWall,
  finiteSource,
  leavePolicy,
  levers,
  meterFlow,
  type Rig,
  simulateWork,
  speedsByClass,
  startAfterNight,
  steadyAcPerHour,
  type Tenders,
  tenderList,
  timeLines,
  topSpeed,
  usableLoad,
  wholePassLoad,
  workDay,
  workRate,
  workRateFromPasses,
} from "../../src/capacity/index.ts";
import { InputError } from "../../src/errors/index.ts";
import { checkRow, example, near, numbersOf } from "../support/operations.ts";

const a1 = example("a1");
const a2 = example("a2");
const rig: Rig = Object.freeze(a1.inputs.rig);
const one: Tenders = { count: 1, lb: a2.inputs.tender.lb, tripHours: a2.inputs.tender.tripHours };
const two: Tenders = { ...one, count: 2 };

function same(have: Capacity, want: Record<string, number | string>): void {
  expect(have.bound).toBe(want.bound);
  near(have.acPerFill, want.acPerFill as number);
  near(have.hoursPerAc, want.tau as number);
  near(have.acPerHour, want.acH as number);
  near(have.acPerDay, want.acDay as number);
  near(have.acPerDayPerLbPerAc, want.marginalAcDayPerLb as number);
  near(have.cycleMinutes, want.cycleMin as number);
  near(have.waitMinutesPerFill, want.waitMinPerFill as number, 1e-8);
  near(have.overallEfficiency, want.overallEff as number);
}

describe("a1: one rig, product always at hand", () => {
  test("work rate, load, minutes of a stop", () => {
    near(workRate(rig), a1.expected.A);
    expect(usableLoad(rig)).toEqual({
      byVolumeLb: 12_600,
      byWeightLb: 12_000,
      limit: "weight",
      loadLb: 11_700,
    });
    near(capacity({ rig, rateLbPerAc: 390 }).stopMinutes, a1.expected.fillMin);
  });
  test.each([390, 260])("%d lb/ac", (rateLbPerAc) => {
    same(capacity({ rig, rateLbPerAc }), a1.expected.ready[rateLbPerAc]);
  });
  test("meter flow and the speed a meter allows", () => {
    const have = capacity({ rig, rateLbPerAc: 390, meterMaxLbPerMin: a1.inputs.meterMaxLbPerMin });
    near(have.meterLbPerMin, a1.expected.meterLbMin390);
    near(have.meterTopMph, a1.expected.speedCapAt160lbMin);
  });
});

describe("a2: tenders", () => {
  test("both lines and where they cross", () => {
    const lines = timeLines({ rig, tenders: one });
    near(lines.rig.hoursPerAc, a2.expected.lines.rig.tau0);
    near(lines.rig.hoursPerLb, a2.expected.lines.rig.kappa);
    near(lines.tender!.hoursPerAc, a2.expected.lines.ten.tau0);
    near(lines.tender!.hoursPerLb, a2.expected.lines.ten.kappa);
    near(crossoverRate(lines), a2.expected.crossover);
  });
  test.each([390, 260])("one tender at %d lb/ac", (rateLbPerAc) => {
    same(capacity({ rig, rateLbPerAc, tenders: one }), a2.expected.one[rateLbPerAc]);
  });
  test("two tenders at 390 lb/ac", () => {
    same(capacity({ rig, rateLbPerAc: 390, tenders: two }), a2.expected.two[390]);
  });
  test("both levers side by side", () => {
    const have = levers({ rig, tenders: one, rateLbPerAc: 390, lowerLbPerAc: 260 });
    near(have.gainLowerRateAcPerDay, a2.expected.gain130);
    near(have.gainAnotherTenderAcPerDay, a2.expected.two[390].acDay - a2.expected.one[390].acDay, 1e-8);
    const trip = have.tripHoursLikeAnotherTender!;
    near(
      capacity({ rig, rateLbPerAc: 390, tenders: { ...one, tripHours: trip } }).acPerDay,
      have.anotherTender.acPerDay,
    );
    const slower = capacity({ rig, rateLbPerAc: 390, tenders: { ...one, tripHours: trip + 0.01 } });
    expect(slower.acPerDay).toBeLessThan(have.anotherTender.acPerDay);
  });
  test("simulated steady rates", () => {
    const steady = (rateLbPerAc: number, tenders: Tenders): number =>
      steadyAcPerHour({ rig, rateLbPerAc, tenders: tenderList(tenders) });
    near(steady(390, one), a2.expected.sim.one390.acH);
    near(steady(260, one), a2.expected.sim.one260.acH);
    near(steady(390, two), a2.expected.sim.two390.acH);
    const odd = leavePolicy({
      rig,
      rateLbPerAc: 390,
      tenders: tenderList({ ...one, lb: a2.inputs.alsoTenderLb }),
    });
    near(odd.stayAcPerHour, a2.expected.sim.odd24000stay.acH);
    near(odd.leaveAcPerHour, a2.expected.sim.odd24000leave.acH);
    expect(odd.leaveBelowLb).toBe(a2.inputs.leaveBelowLb);
    expect(odd.better).toBe("leave");
  });
  test.each([
    ["one390", 390, one],
    ["one260", 260, one],
    ["two390", 390, two],
    ["two260", 260, two],
  ] as const)("a day from full: %s", (key, rateLbPerAc, tenders) => {
    const have = workDay({ rig, rateLbPerAc, tenders: tenderList(tenders) }, "full");
    const want = a2.expected.day[key];
    near(have.acres, want.acres);
    expect(have.fills.length).toBe(want.fills);
    near(have.waitHours, want.waitH, 1e-8);
    near(have.workHours + have.stopHours + have.waitHours + have.moveHours, rig.hoursPerDay);
  });
  test("a day from empty does less, and all empty least", () => {
    const day = { rig, rateLbPerAc: 390, tenders: tenderList(one) };
    const acres = (["full", "bin-empty", "all-empty"] as const).map((start) => workDay(day, start).acres);
    // From empty by hand: the first 0.25 h fill the bin.
    expect(acres[0]!).toBeGreaterThan(acres[1]!);
    expect(acres[1]!).toBeGreaterThan(acres[2]!);
    expect(workDay(day, "all-empty").fills[0]!.atHour).toBeCloseTo(2 + 0.15, 12);
    expect(startAfterNight(82, 55)).toBe("bin-empty");
    expect(startAfterNight(50, 55)).toBe("full");
  });
});

test("a3: finite source, one to three tenders", () => {
  const { serviceH, thinkH, ...want } = example("a3").expected;
  const cycle = capacity({ rig, rateLbPerAc: 390 }).cycleMinutes! / 60;
  near(2 * cycle, serviceH);
  near(one.tripHours - (cycle - 11_700 / rig.transferLbPerHour), thinkH, 1e-9);
  for (const n of [1, 2, 3]) {
    const have = finiteSource(n, serviceH, thinkH);
    near(have.idleChance, want[`n${n}`].p0, 2e-9);
    near(have.servicesPerHour, want[`n${n}`].loadsPerH, 2e-9);
    near(have.utilization, want[`n${n}`].util, 2e-9);
    near(have.servicesPerHour * ((2 * 11_700) / 390), want[`n${n}`].acH, 2e-9);
  }
});

test("a6: two bins and a movable wall", () => {
  const { inputs, expected } = example("a6");
  const bins = inputs.loadsLb.map((loadLb: number, i: number) => ({
    loadLb,
    rateLbPerAc: inputs.ratesLbPerAc[i],
  }));
  expect(acresPerFill(bins)).toEqual({
    acPerBin: expected.perBin,
    acPerFill: expected.acPerFill,
    limitingBin: 1,
    leftLb: expected.leftLb,
  });
  const wall = divideMovableWall({
    weightLimitLb: 11_700,
    products: inputs.ratesLbPerAc.map((rateLbPerAc: number) => ({ rateLbPerAc })),
  });
  expect(wall.loadsLb).toEqual(expected.bestDivide);
  expect(wall.acPerFill).toBe(expected.bestAcPerFill);
  // Both sides are empty at once, whatever the last digit of their division says.
  for (const off of [0, 1e-12, -1e-12]) {
    const sides = bins.map((bin: { rateLbPerAc: number }, i: number) => ({
      ...bin,
      loadLb: wall.loadsLb[i]! * (1 + (i === 0 ? off : 0)),
    }));
    expect(acresPerFill(sides).limitingBin).toBe(0);
  }
  // By hand: 125 lb/ac at 62.5 lb/ft3 and 200 at 50 take 2 + 4 ft3/ac; 210 ft3 last 35 ac.
  const volume = divideMovableWall({
    usableFt3: 210,
    weightLimitLb: 11_700,
    products: [
      { rateLbPerAc: 125, lbPerFt3: 62.5 },
      { rateLbPerAc: 200, lbPerFt3: 50 },
    ],
  });
  expect(volume).toEqual({ acPerFill: 35, limit: "volume", loadsLb: [4_375, 7_000], loadsFt3: [70, 140] });
});

test("a7: hour value that pays for a second pass", () => {
  const { inputs, expected } = example("a7");
  const lines = timeLines({ rig, tenders: one });
  const at = { feePerAc: inputs.feePerAc, lbPerAcOffStrip: inputs.poundsOffStripPerAc };
  near(breakEvenHourValue({ ...at, line: lines.tender! }), expected.breakEvenHourOneTender);
  near(breakEvenHourValue({ ...at, line: lines.rig }), expected.breakEvenHourReady);
});

test("a8: headland stops shorten the usable load", () => {
  const { inputs, expected } = example("a8");
  const { passFt, rateLbPerAc } = inputs;
  near(capacity({ rig, rateLbPerAc }).acPerHour, expected.acHFull);
  const oneEnd = capacity({ rig, rateLbPerAc, passes: { passFt, refillAt: "one-end" } });
  const bothEnds = capacity({ rig, rateLbPerAc, passes: { passFt, refillAt: "both-ends" } });
  near(oneEnd.countedLoadLb, expected.oneSide);
  near(bothEnds.countedLoadLb, expected.bothSides);
  near(oneEnd.acPerHour, expected.acHOneSide);
  near(bothEnds.acPerHour, expected.acHBoth);
  // Half-mile passes: 8 from one end, 9 with both ends (operations-model a.1).
  near(wholePassLoad(11_700, expected.lbPerPass / 2, "one-end"), expected.lbPerPass * 4);
  near(wholePassLoad(11_700, expected.lbPerPass / 2, "both-ends"), expected.lbPerPass * 4.5);
});

describe("published figures (tests/data/operations/check-values.csv)", () => {
  const rate = (widthFt: number, mph: number, turnEfficiency: number): number =>
    workRate({ widthFt, mph, turnEfficiency });
  test.each([
    ["effective field capacity, spreader", 40, 6, 0.7],
    ["effective field capacity, 9-knife", 22.5, 5, 0.65],
    ["effective field capacity, 13-knife", 32.5, 5, 0.65],
    ["effective field capacity, 17-knife", 42.5, 5, 0.63],
  ])("Iowa State Univ. PM 696: %s, rounded to 0.1", (start, widthFt, mph, efficiency) => {
    expect(Math.round(rate(widthFt, mph, efficiency) * 10) / 10).toBe(Number(checkRow(start).expected));
  });
  test("arithmetic on Strip-Till Farmer 2343: 60 ft at 8.25 mph", () => {
    expect(rate(60, 8.25, 1)).toBe(Number(checkRow("theoretical capacity at quoted speed").expected));
  });
  test("arithmetic on The Western Producer, Sep 2016: 700 lb/ac at 8 mph, 60 ft", () => {
    near(meterFlow(700, 60, 8), Number(checkRow("meter flow needed").expected));
    near(topSpeed(700, 60, meterFlow(700, 60, 8)), 8);
  });
  test("An Introduction to Management Science ch. 11: six machines", () => {
    near(
      finiteSource(6, 2, 20).idleChance,
      Number(checkRow("finite source queue").expected),
      0.000005 / 0.48451,
    );
  });
  test("own computation rows a1 to a8 agree with the worked examples", () => {
    const one390 = capacity({ rig, rateLbPerAc: 390, tenders: one });
    const row = numbersOf(checkRow("a2 one tender at 390 lb/ac").expected);
    [one390.acPerHour, one390.acPerDay, one390.waitMinutesPerFill, one390.acPerDayPerLbPerAc].forEach(
      (have, i) => {
        // 9 digits are printed: half a unit of the last one.
        near(have, row[i]!, 5e-9);
      },
    );
  });
});

describe("closed forms against the simulation", () => {
  const rigs = fc.record({
    widthFt: fc.integer({ min: 20, max: 60 }),
    mph: fc.integer({ min: 4, max: 9 }),
    turnEfficiency: fc.constantFrom(0.7, 0.8, 0.9),
    binFt3: fc.integer({ min: 80, max: 400 }),
    lbPerFt3: fc.integer({ min: 45, max: 70 }),
    residualLb: fc.constant(0),
    fixedHoursPerStop: fc.constantFrom(0, 0.05, 0.1, 0.2),
    transferLbPerHour: fc.integer({ min: 40_000, max: 150_000 }),
    hoursPerDay: fc.constant(11),
  });
  test("steady rate of n tenders with m loads, 300 random rigs, 1e-9", () => {
    fc.assert(
      fc.property(
        rigs,
        fc.integer({ min: 1, max: 4 }),
        fc.integer({ min: 1, max: 3 }),
        fc.double({ min: 0.1, max: 4, noNaN: true }),
        fc.integer({ min: 50, max: 600 }),
        (random, count, loads, tripHours, rateLbPerAc) => {
          const tenders = { count, lb: loads * usableLoad(random).loadLb, tripHours };
          const closed = capacity({ rig: random, rateLbPerAc, tenders }).acPerHour;
          near(steadyAcPerHour({ rig: random, rateLbPerAc, tenders: tenderList(tenders) }), closed, 1e-9);
        },
      ),
      { seed: 20_26, numRuns: 300 },
    );
  });
  test("hours per acre never fall with the rate, never rise with a tender, 300 random rigs", () => {
    fc.assert(
      fc.property(
        rigs,
        fc.integer({ min: 1, max: 3 }),
        fc.integer({ min: 1, max: 600 }),
        (random, count, rate) => {
          const tenders = { count, lb: 24_000, tripHours: 1.5 };
          const hours = (n: number, at: number): number =>
            capacity({ rig: random, rateLbPerAc: at, tenders: { ...tenders, count: n } }).hoursPerAc;
          expect(hours(count, rate + 10)).toBeGreaterThanOrEqual(hours(count, rate));
          expect(hours(count + 1, rate)).toBeLessThanOrEqual(hours(count, rate));
        },
      ),
      { seed: 20_26, numRuns: 300 },
    );
  });
});

describe("a day over several fields", () => {
  test("moves and the trip of each field are counted once, by hand", () => {
    const have = simulateWork({
      rig,
      hours: 11,
      fields: [
        { id: "A", areaAc: 27.151515151515152, rateLbPerAc: 0, moveHours: 0.5 },
        { id: "B", areaAc: 30, rateLbPerAc: 390, moveHours: 0.75 },
      ],
    });
    // A: 0.5 + 1 h. B: 0.75 h move, one full bin.
    expect(have.doneAtHour[0]).toBeCloseTo(1.5, 12);
    expect(have.doneAtHour[1]).toBeCloseTo(1.5 + 0.75 + 30 / 27.151515151515152, 12);
    expect(have.moveHours).toBe(1.25);
    expect(have.fills).toEqual([]);
    expect(have.binLb).toBeCloseTo(0, 9);
  });
  test("a tender's trip follows the field", () => {
    const run = (tripHours: number): number =>
      simulateWork({
        rig,
        hours: 11,
        tenders: tenderList(one),
        fields: [{ id: "A", areaAc: 1e4, rateLbPerAc: 390, tripHours }],
      }).acres;
    expect(run(3)).toBeLessThan(run(2));
    near(run(2), 210);
  });
  test("work rate from passes holds the turns: ten half-mile passes, 1 minute a turn, by hand", () => {
    const have = workRateFromPasses({
      passFt: Array.from({ length: 10 }, () => 2_640),
      areaAc: (10 * 2_640 * 40) / 43_560,
      widthFt: 40,
      mph: 5,
      minutesPerTurn: 1,
    });
    // 5 miles at 5 mph = 1 h, nine turns = 0.15 h.
    expect(have.workHours).toBeCloseTo(1, 12);
    expect(have.turnHours).toBeCloseTo(0.15, 12);
    expect(have.turnEfficiency).toBeCloseTo(1 / 1.15, 12);
  });
  test("speeds by class: the slower meter decides, hours add up", () => {
    const have = speedsByClass({
      classes: [
        { areaAc: 10, ratesLbPerAc: [390, 0] },
        { areaAc: 30, ratesLbPerAc: [100, 100] },
      ],
      widthFt: 40,
      wantedMph: 7,
      maxLbPerMin: [160, 160],
      turnEfficiency: 0.8,
    });
    near(have.mphByClass[0]!, a1.expected.speedCapAt160lbMin);
    expect(have.mphByClass[1]).toBe(7);
    expect(have.slowedAc).toBe(10);
    near(40 / have.meanMph, 10 / have.mphByClass[0]! + 30 / 7);
  });
});

describe("input that cannot be used", () => {
  test.each([
    ["widthFt", { ...rig, widthFt: 0 }],
    ["turnEfficiency", { ...rig, turnEfficiency: 1.2 }],
    ["mph", { ...rig, mph: Number.NaN }],
    ["transferLbPerHour", { ...rig, transferLbPerHour: -1 }],
  ])("%s is named", (key, wrong) => {
    expect(() => capacity({ rig: wrong, rateLbPerAc: 100 })).toThrow(new RegExp(key));
    expect(() => capacity({ rig: wrong, rateLbPerAc: 100 })).toThrow(InputError);
  });
  test("a residual larger than the bin", () => {
    expect(() => usableLoad({ ...rig, residualLb: 12_000 })).toThrow("12000 lb stay in it");
  });
  test("a rate of zero is no error", () => {
    const have = capacity({ rig, rateLbPerAc: 0, tenders: one });
    expect(have.acPerFill).toBeNull();
    near(have.acPerHour, a1.expected.A);
  });
});
