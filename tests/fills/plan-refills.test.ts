import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  chooseRefillPlan,
  greedyRefills,
  headlandStopMinutes,
  type NoRefillPlan,
  planRefills,
  type RefillInput,
  type RefillPlan,
  refillReserve,
  refillTimes,
  replanRefills,
  sideStopMinutes,
  smallestFirstLoad,
} from "../../src/fills/index.ts";
import { example, near } from "../support/operations.ts";

const oneBin = (
  passLb: readonly number[],
  load: number,
  stopMinutes: readonly (number | null)[],
): RefillInput => ({
  passLb: passLb.map((lb) => [lb]),
  usableLoadLb: [load],
  places: [{ id: "gate", stopMinutes }],
  reserveShare: 0,
});
function planned(plan: RefillPlan | NoRefillPlan): RefillPlan {
  if (!plan.feasible) throw new Error(plan.message);
  return plan;
}
const stopsOf = (plan: RefillPlan): number[] => plan.stops.map((stop) => stop.afterPass);

describe("d1: ten equal passes, the side of the tender", () => {
  const { inputs, expected } = example("d1");
  const side = (tenderSide: 0 | 1, crossMinutes?: number): RefillInput =>
    oneBin(
      inputs.passLb,
      inputs.usableLoadLb,
      sideStopMinutes({
        passes: inputs.passLb.length,
        startSide: inputs.startSide,
        tenderSide,
        minutes: inputs.minutesPerStop,
        ...(crossMinutes === undefined ? {} : { crossMinutes }),
      }),
    );
  test.each([
    ["side0", 0],
    ["side1", 1],
  ] as const)("%s: minutes, stops, legs, smallest first load", (key, tenderSide) => {
    const want = expected[key];
    const have = planned(planRefills(side(tenderSide)));
    expect(have.minutes).toBe(want.plan.minutes);
    expect(stopsOf(have)).toEqual(want.plan.stops);
    expect(have.legs.map(({ from, to, lb }) => ({ from, to, lb: lb[0] }))).toEqual(want.plan.legs);
    expect(smallestFirstLoad(side(tenderSide))).toEqual([want.smallest]);
  });
  test("a bin that lays nothing needs no first load", () => {
    const one = side(0);
    const [usableLb] = one.usableLoadLb;
    const two = { ...one, passLb: one.passLb.map(([lb]) => [lb!, 0]), usableLoadLb: [usableLb!, 4_000] };
    const withReserve = (input: RefillInput) => smallestFirstLoad({ ...input, reserveShare: 0.05 });
    expect(withReserve(two)).toEqual([withReserve(one)![0], 0]);
  });
  test("crossing the field", () => {
    const have = planned(planRefills(side(0, inputs.crossMinutes)));
    expect([have.minutes, stopsOf(have)]).toEqual([expected.cross6.minutes, expected.cross6.stops]);
  });
  test("pounds carried, full and to need", () => {
    expect(planned(planRefills(side(1))).carriedLbPasses).toBe(expected.carriedFull);
    const need = planned(planRefills({ ...side(1), load: "to-need" }));
    expect(need.carriedLbPasses).toBe(expected.carriedToNeed);
    expect(need.stops[0]).toMatchObject({ expectedLb: [0], loadLb: [5_000] });
  });
  test("the last load to need: what is loaded is what goes out, in no more minutes", () => {
    const full = planned(planRefills(side(0)));
    const last = planned(planRefills({ ...side(0), load: "last-to-need" }));
    expect([last.minutes, stopsOf(last)]).toEqual([full.minutes, stopsOf(full)]);
    // Ten passes of 1,000 lb from 5,500 lb: stops after 4 and 8, the last one for two passes.
    expect(last.stops.map(({ loadLb }) => loadLb[0])).toEqual([4_000, 500]);
    expect([last.startLb, last.endLb, full.endLb]).toEqual([[5_500], [0], [3_500]]);
    const one = planned(planRefills({ ...side(0), passLb: [[1_000], [1_000]], load: "last-to-need" }));
    expect([one.stops.length, one.startLb, one.endLb]).toEqual([0, [2_000], [0]]);
  });
  // Loads of 4,100 lb, 5 % of them, 205 lb, kept back: three passes of 1,000 lb a load by that, and at the last stop 1,100 lb
  // are in the bin where one pass of 1,000 lb and 5 % of it are to come.
  test("where every bin holds enough there is a look at the scales in place of a stop", () => {
    const of = (passes: number) =>
      planned(
        planRefills({
          passLb: Array.from({ length: passes }, () => [1_000, 100]),
          usableLoadLb: [4_100, 4_100],
          reserveShare: 0.05,
          places: [{ id: "end", stopMinutes: new Array(passes - 1).fill(6) }],
          load: "last-to-need",
        }),
      );
    const none = of(4);
    expect([none.minutes, none.stops, none.legs.length]).toEqual([0, [], 1]);
    // The first load is to need as well: what goes out and what is kept back.
    expect(none.startLb).toEqual([4_100, 605]);
    expect(none.looks).toMatchObject([{ afterPass: 3, expectedLb: [1_100, 305], enoughTo: 4 }]);
    near(none.looks[0]!.enoughLb[0]!, 1_050);
    near(none.looks[0]!.enoughLb[1]!, 105);
    expect(none.endLb).toEqual([100, 205]);

    const one = of(7);
    expect([one.minutes, stopsOf(one)]).toEqual([6, [3]]);
    // 4,000 and 205 lb would be more than a full bin. The light bin begins with its 700 lb and 205, not full.
    expect(one.startLb).toEqual([4_100, 905]);
    expect(one.stops[0]).toMatchObject({ expectedLb: [1_100, 605], loadLb: [3_000, 0], enoughTo: 7 });
    near(one.stops[0]!.enoughLb[1]!, 420);
    expect(one.looks.map(({ afterPass }) => afterPass)).toEqual([6]);
    expect(one.legs.map(({ from, to }) => [from, to])).toEqual([
      [0, 3],
      [3, 7],
    ]);
    expect(one.endLb).toEqual([100, 205]);
  });
  // By hand: 1,000 lb loads, 5 % kept back, five passes of 300 lb in one bin: one stop, after pass 3, for two passes more.
  test.each([
    [194, 0, 388 * 1.05],
    [198, 2 * 198 + 50 - (1_000 - 3 * 198), null],
    [100, 0, 200 * 1.05],
  ])(
    "a bin of %i lb a pass at a stop to need: nothing where it holds what is to come and 5 %% of that",
    (lb, loadLb, enoughLb) => {
      const have = planned(
        planRefills({
          passLb: Array.from({ length: 5 }, () => [300, lb]),
          usableLoadLb: [1_000, 1_000],
          reserveShare: 0.05,
          places: [{ id: "end", stopMinutes: [6, 6, 6, 6] }],
          load: "last-to-need",
        }),
      );
      expect(have.stops.map(({ afterPass }) => afterPass)).toEqual([3]);
      expect(have.stops[0]!.loadLb).toEqual([550, loadLb]);
      expect(have.stops[0]!.enoughLb[0]).toBeNull();
      if (enoughLb === null) expect(have.stops[0]!.enoughLb[1]).toBeNull();
      else expect(have.stops[0]!.enoughLb[1]).toBeCloseTo(enoughLb, 9);
      const startLb = Math.min(1_000, 5 * lb + 50);
      expect([have.startLb[1], have.endLb[1]]).toEqual([startLb, startLb - 5 * lb + loadLb]);
    },
  );
  test("a bin that lays nothing gets nothing; one that lays little is not filled for it", () => {
    const laid = (load: "full" | "last-to-need" | "to-need") =>
      planned(
        planRefills({
          passLb: Array.from({ length: 6 }, () => [900, 0, 10]),
          usableLoadLb: [2_000, 2_000, 2_000],
          reserveShare: 0.05,
          places: [{ id: "end", stopMinutes: [6, 6, 6, 6, 6] }],
          load,
        }),
      );
    expect(laid("full").startLb).toEqual([2_000, 2_000, 2_000]);
    // 60 lb in all and 100 kept back; to the next stop, after pass 2, 20 and 100.
    expect(laid("last-to-need").startLb).toEqual([2_000, 0, 160]);
    expect(laid("last-to-need").endLb.slice(1)).toEqual([0, 100]);
    expect(laid("to-need").startLb).toEqual([1_900, 0, 120]);
  });
  test("both sides beside each other, the better first", () => {
    const have = chooseRefillPlan([
      { id: "start side", input: side(0) },
      { id: "far side", input: side(1) },
    ]);
    expect(have.map((choice) => choice.id)).toEqual(["far side", "start side"]);
  });
});

test("d2: greedy is not best when stops cost differently", () => {
  const { inputs, expected } = example("d2");
  const input = oneBin(inputs.passLb, inputs.usableLoadLb, inputs.stopMinutesAfterPass);
  const have = planned(planRefills(input));
  expect([have.minutes, stopsOf(have)]).toEqual([expected.dp.minutes, expected.dp.stops]);
  expect(have.legs.map(({ from, to, lb }) => ({ from, to, lb: lb[0] }))).toEqual(expected.dp.legs);
  const greedy = planned(greedyRefills(input));
  expect([greedy.minutes, stopsOf(greedy)]).toEqual([expected.greedy.minutes, expected.greedy.stops]);
});

test("d3: variable rates", () => {
  const { inputs, expected } = example("d3");
  const input = oneBin(inputs.passLb, inputs.usableLoadLb, inputs.stopMinutesAfterPass);
  const have = planned(planRefills(input));
  expect([have.minutes, stopsOf(have)]).toEqual([expected.dp.minutes, expected.dp.stops]);
  expect(have.legs.map(({ from, to, lb }) => ({ from, to, lb: lb[0] }))).toEqual(expected.dp.legs);
  const greedy = planned(greedyRefills(input));
  expect([greedy.minutes, stopsOf(greedy)]).toEqual([expected.greedy.minutes, expected.greedy.stops]);
});

test("d4: two bins, stop when the first would run out", () => {
  const { inputs, expected } = example("d4");
  const have = planned(
    planRefills({
      passLb: inputs.passLb,
      usableLoadLb: inputs.usableLoadLb,
      reserveShare: 0,
      places: [
        {
          id: "far side",
          stopMinutes: sideStopMinutes({
            passes: 10,
            startSide: 0,
            tenderSide: inputs.tenderSide,
            minutes: inputs.minutesPerStop,
          }),
        },
      ],
    }),
  );
  expect([have.minutes, stopsOf(have)]).toEqual([expected.minutes, expected.stops]);
  expect(have.legs).toEqual(expected.legs);
});

describe("against every choice of stops", () => {
  const minutes = fc.option(fc.integer({ min: 3, max: 9 }), { nil: null, freq: 4 });
  const cases = fc.integer({ min: 1, max: 7 }).chain((passes) =>
    fc.record({
      lb: fc.array(fc.tuple(fc.integer({ min: 0, max: 9 }), fc.integer({ min: 0, max: 9 })), {
        minLength: passes,
        maxLength: passes,
      }),
      load: fc.tuple(fc.integer({ min: 8, max: 24 }), fc.integer({ min: 8, max: 24 })),
      first: fc.tuple(fc.integer({ min: 0, max: 24 }), fc.integer({ min: 0, max: 24 })),
      bins: fc.integer({ min: 1, max: 2 }),
      places: fc.array(fc.array(minutes, { minLength: passes - 1, maxLength: passes - 1 }), {
        minLength: 1,
        maxLength: 2,
      }),
      mostMoves: fc.integer({ min: 0, max: 2 }),
      moveMinutes: fc.integer({ min: 0, max: 3 }),
    }),
  );

  interface Brute {
    readonly minutes: number;
    readonly stops: readonly number[];
  }

  /** Every subset of stops and every way of standing at them; nothing shared with the code under test. */
  function brute(input: RefillInput): Brute | null {
    const n = input.passLb.length;
    let best: Brute | null = null;
    const lasts = (from: number, to: number, load: readonly number[]): boolean =>
      load.every((lb, b) => input.passLb.slice(from, to).reduce((sum, pass) => sum + pass[b]!, 0) <= lb);
    const better = (a: Brute, b: Brute): boolean => {
      if (a.minutes !== b.minutes) return a.minutes < b.minutes;
      if (a.stops.length !== b.stops.length) return a.stops.length < b.stops.length;
      for (let i = a.stops.length - 1; i >= 0; i--)
        if (a.stops[i] !== b.stops[i]) return a.stops[i]! > b.stops[i]!;
      return false;
    };
    const go = (stops: number[], place: number, moves: number, cost: number): void => {
      const from = stops.at(-1) ?? 0;
      const load = from === 0 ? input.firstLoadLb! : input.usableLoadLb;
      const capped = load.map((lb, b) => Math.min(lb, input.usableLoadLb[b]!));
      if (lasts(from, n, capped)) {
        const found = { minutes: cost, stops };
        if (best === null || better(found, best)) best = found;
      }
      for (let k = from + 1; k < n; k++) {
        if (!lasts(from, k, capped)) break;
        for (let p = 0; p < input.places.length; p++) {
          const here = input.places[p]!.stopMinutes[k - 1] ?? null;
          const moved = stops.length > 0 && p !== place ? 1 : 0;
          if (here === null || moves + moved > input.mostMoves!) continue;
          go([...stops, k], p, moves + moved, cost + here + moved * input.moveMinutes!);
        }
      }
    };
    go([], 0, 0, 0);
    return best;
  }

  test("1,000 random small cases: minutes, number of stops, and the stops themselves with one place", () => {
    let plans = 0;
    fc.assert(
      fc.property(cases, (c) => {
        const input: RefillInput = {
          passLb: c.lb.map((pass) => pass.slice(0, c.bins)),
          usableLoadLb: c.load.slice(0, c.bins),
          firstLoadLb: c.first.slice(0, c.bins),
          places: c.places.map((stopMinutes, p) => ({ id: `${p}`, stopMinutes })),
          mostMoves: c.mostMoves,
          moveMinutes: c.moveMinutes,
          reserveShare: 0,
        };
        const want = brute(input);
        const have = planRefills(input);
        expect(have.feasible).toBe(want !== null);
        if (!have.feasible || want === null) return;
        plans++;
        expect(have.minutes).toBeCloseTo(want.minutes, 9);
        expect(have.stops.length).toBe(want.stops.length);
        if (c.places.length === 1) expect(stopsOf(have)).toEqual(want.stops);
      }),
      { seed: 42, numRuns: 1_000 },
    );
    // The check must not pass on empty hands.
    expect(plans).toBeGreaterThan(300);
  });

  test("greedy is as good where all stops cost the same, never better elsewhere, 300 random cases", () => {
    const list = fc.array(fc.integer({ min: 1, max: 9 }), { minLength: 2, maxLength: 12 });
    fc.assert(
      fc.property(list, fc.integer({ min: 9, max: 30 }), fc.boolean(), (lb, load, equal) => {
        const costs = lb.slice(1).map((_, k) => (equal ? 12 : 5 + ((k * 7) % 11)));
        const best = planned(planRefills(oneBin(lb, load, costs)));
        const habit = planned(greedyRefills(oneBin(lb, load, costs)));
        expect(habit.minutes).toBeGreaterThanOrEqual(best.minutes);
        if (equal) expect(habit.minutes).toBe(best.minutes);
      }),
      { seed: 43, numRuns: 300 },
    );
  });

  test("20,000 passes in milliseconds", () => {
    const passes = 20_000;
    const input = oneBin(
      Array.from({ length: passes }, (_, k) => 900 + ((k * 37) % 400)),
      11_700,
      Array.from({ length: passes - 1 }, (_, k) => (k % 2 === 0 ? 12 + (k % 5) : null)),
    );
    const start = process.cpuUsage();
    expect(planRefills(input).feasible).toBe(true);
    // Measured 30 to 60 ms alone; the bound is against work that grows with the square.
    expect(process.cpuUsage(start).user).toBeLessThan(1_000_000);
  });
});

describe("no plan", () => {
  test("a pass over the load is named before anything starts", () => {
    const have = planRefills(oneBin([1_000, 6_000, 1_000], 5_500, [15, 15]));
    expect(have).toMatchObject({
      feasible: false,
      reason: "pass-over-load",
      pass: 2,
      bin: 0,
      neededLb: 6_000,
    });
  });
  test("no stop in reach: the pass that cannot be finished", () => {
    const have = planRefills(oneBin([1_000, 1_000, 1_000, 1_000], 2_500, [null, null, 15]));
    expect(have).toMatchObject({
      feasible: false,
      reason: "no-stop-in-reach",
      pass: 3,
      neededLb: 3_000,
      atHandLb: 2_500,
    });
  });
  test("the reserve counts: 5 % unless typed, or the measured meter error if larger", () => {
    const { reserveShare: _, ...typed } = oneBin([1_000, 1_000], 2_000, [15]);
    const have = planned(planRefills(typed));
    expect(stopsOf(have)).toEqual([1]);
    expect(have.reserveLb).toEqual([100]);
    expect(have.notices.map((notice) => notice.code)).toEqual(["reserve-unconfirmed"]);
    expect(refillReserve([2_000], 0.05, 0.07)).toEqual([140]);
    expect(planned(planRefills(oneBin([1_000, 1_000], 2_000, [15]))).notices).toEqual([]);
  });
});

describe("replan from where the rig stands", () => {
  const input = oneBin(new Array(10).fill(1_000), 5_500, new Array(9).fill(15));
  test("stopped after pass 3 with 1,200 lb: a stop here or after pass 4", () => {
    const have = planned(replanRefills(input, { stoppedAfterPass: 3, binLb: [1_200] }));
    expect(stopsOf(have)).toEqual([4, 9]);
    expect(have.legs[0]).toEqual({ from: 3, to: 4, lb: [1_000] });
    near(have.stops[0]!.expectedLb[0]!, 200);
  });
  test("an empty bin: fill here", () => {
    expect(stopsOf(planned(replanRefills(input, { stoppedAfterPass: 3, binLb: [0] })))[0]).toBe(3);
  });
  test("a meter that gives 10 % more needs more stops", () => {
    const have = planned(replanRefills(input, { stoppedAfterPass: 0, binLb: [5_500], meterFactor: 1.1 }));
    expect(stopsOf(have)).toEqual([5]);
    const more = planned(replanRefills(input, { stoppedAfterPass: 0, binLb: [5_500], meterFactor: 1.2 }));
    expect(more.stops.length).toBe(2);
    near(more.legs[0]!.lb[0]!, 4_800);
  });
  test("a pass that cannot be finished keeps its number", () => {
    const bad = oneBin([1_000, 1_000, 9_000, 1_000], 5_500, [15, 15, 15]);
    expect(replanRefills(bad, { stoppedAfterPass: 1, binLb: [5_500] })).toMatchObject({
      feasible: false,
      pass: 3,
    });
  });
});

describe("loads, weights, minutes and times", () => {
  test("minutes over a tender on the headland, by hand", () => {
    // 60 m detour at 3.728 mph (100 m/min) on a fixed 6 minutes.
    const passes = [
      { start: [0, 0], end: [0, 100] },
      { start: [10, 100], end: [10, 0] },
      { start: [20, 0], end: [20, 100] },
    ] as const;
    const have = headlandStopMinutes({
      passes,
      tender: [40, 100],
      fixedMinutes: 6,
      headlandMph: 100 / ((5_280 * 0.3048) / 60),
      reachable: (afterPass) => afterPass === 1,
    });
    near(have[0]!, 6.6);
    expect(have[1]).toBeNull();
  });
  test("times, waits and trips of a tender with two compartments, by hand", () => {
    const plan = planned(
      planRefills({
        passLb: new Array(6).fill([1_000, 500]),
        usableLoadLb: [2_000, 1_000],
        places: [{ id: "gate", stopMinutes: new Array(5).fill(6) }],
        reserveShare: 0,
      }),
    );
    const have = refillTimes({
      plan,
      passAc: new Array(6).fill(10),
      workAcPerHour: 20,
      transferLbPerHour: 60_000,
      tenders: [{ id: "T", compartmentLb: [2_000, 1_500], tripHours: 2 }],
    });
    // 1 h of work, 3 min to the tender, 3 min for 3,000 lb, 3 min back; it leaves at 1.1 h and is back at 3.1 h.
    near(have.stops[0]!.arriveHour, 1.05);
    near(have.stops[0]!.leaveHour, 1.15);
    near(have.stops[1]!.arriveHour, 2.2);
    near(have.stops[1]!.waitMinutes, 54);
    // 2,000 and 1,000 lb are wanted at each stop; after the first it holds 0 and 500.
    expect(have.stops.map((stop) => stop.shortLb)).toEqual([null, 2_500]);
    near(have.doneHour, 3.1 + 0.05 + 0.05 + 1);
    expect(have.trips).toEqual([1]);
    expect(have.stops.map((stop) => stop.tenderId)).toEqual(["T", "T"]);
  });
});
