import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, describe, expect, test } from "vitest";
import { writePlan } from "../../src/plan/index.ts";
import { cli } from "../support/in-process-cli.ts";
import { example, near } from "../support/operations.ts";
import { seasonPlanDocument } from "../support/season-plan.ts";
import { smallFarmFiles } from "../support/small-farm.ts";

const folder = mkdtempSync(join(tmpdir(), "season-verbs-"));
afterAll(() => rmSync(folder, { recursive: true }));

/** A folder with the small farm and its season. */
function farm(): string {
  const own = mkdtempSync(join(folder, "farm-"));
  for (const [path, bytes] of smallFarmFiles()) writeFileSync(join(own, path), bytes);
  writeFileSync(join(own, "plan.json"), writePlan(seasonPlanDocument()));
  return own;
}

let count = 0;
const written = (value: unknown): string => {
  const path = join(folder, `${count++}.json`);
  writeFileSync(path, JSON.stringify(value));
  return path;
};

/** The verb's JSON on an input, after its words were printed too. */
// biome-ignore lint/suspicious/noExplicitAny: read key by key below
async function figures(verb: string, input: unknown): Promise<any> {
  const path = written(input);
  const words = await cli(verb, "--input", path);
  expect(words.error).toBe("");
  expect(words.exit).toBe(0);
  expect(words.out).not.toMatch(/NaN|undefined|\[object/);
  const told = await cli(verb, "--input", path, "--json");
  return { ...JSON.parse(told.out), words: words.out };
}

describe("fills --input, worked examples d", () => {
  const { inputs, expected } = example("d1");
  const side = (tenderSide: 0 | 1, crossMinutes?: number) => ({
    passLb: inputs.passLb,
    usableLoadLb: inputs.usableLoadLb,
    reserveShare: 0,
    places: [
      {
        id: "gate",
        startSide: inputs.startSide,
        tenderSide,
        minutes: inputs.minutesPerStop,
        ...(crossMinutes === undefined ? {} : { crossMinutes }),
      },
    ],
  });
  const stopsOf = (plan: { stops: { afterPass: number }[] }) => plan.stops.map((stop) => stop.afterPass);

  test("d1: sides and the crossing", async () => {
    const near0 = await figures("fills", side(0));
    expect(stopsOf(near0.plan)).toEqual(expected.side0.plan.stops);
    expect(near0.plan.minutes).toBe(30);
    expect(near0.smallestFirstLoadLb).toEqual([expected.side0.smallest]);
    const far = await figures("fills", side(1));
    expect(stopsOf(far.plan)).toEqual([5]);
    expect(far.smallestFirstLoadLb).toEqual([5000]);
    expect((await figures("fills", side(0, inputs.crossMinutes))).plan.minutes).toBe(expected.cross6.minutes);
  });

  test("d2: habit takes 9 minutes more, said in words", async () => {
    const { inputs: d2, expected: want } = example("d2");
    const made = await figures("fills", {
      passLb: d2.passLb,
      usableLoadLb: [d2.usableLoadLb],
      reserveShare: 0,
      places: [{ id: "gate", stopMinutes: d2.stopMinutesAfterPass }],
    });
    expect(stopsOf(made.plan)).toEqual(want.dp.stops);
    expect(made.habit.minutes).toBe(want.greedy.minutes);
    expect(made.words).toContain("would take 9 min more");
  });

  test("d3 and d4", async () => {
    const { inputs: d3, expected: want3 } = example("d3");
    const three = await figures("fills", {
      passLb: d3.passLb,
      usableLoadLb: d3.usableLoadLb,
      reserveShare: 0,
      places: [{ id: "gate", stopMinutes: d3.stopMinutesAfterPass }],
    });
    expect(stopsOf(three.plan)).toEqual(want3.dp.stops);
    expect(three.plan.legs.map((leg: { lb: number[] }) => leg.lb[0])).toEqual([4600, 4700, 3700]);
    const { inputs: d4, expected: want4 } = example("d4");
    const four = await figures("fills", {
      passLb: d4.passLb,
      usableLoadLb: d4.usableLoadLb,
      reserveShare: 0,
      places: [{ id: "far", startSide: 0, tenderSide: d4.tenderSide, minutes: d4.minutesPerStop }],
    });
    expect(stopsOf(four.plan)).toEqual(want4.stops);
    expect(four.plan.legs.map((leg: { lb: number[] }) => leg.lb)).toEqual([
      [2200, 2920],
      [2250, 2880],
    ]);
  });

  test("a pass that no bin can finish; a replan from the scale", async () => {
    const none = await figures("fills", { ...side(0), usableLoadLb: 900 });
    expect(none.plan).toMatchObject({ feasible: false, reason: "pass-over-load", pass: 1 });
    expect(none.words).toContain("cannot finish pass 1");
    const again = await figures("fills", { ...side(1), stand: { stoppedAfterPass: 3, binLb: 1500 } });
    expect(stopsOf(again.plan)[0]).toBe(3);
  });
});

describe("season --input", () => {
  const weather = (persistence: number) => ({
    start: "2027-04-10",
    persistence,
    chances: [
      { from: "2027-04-10", to: "2027-04-15", chance: 0.45 },
      { from: "2027-04-16", to: "2027-04-30", chance: 0.5 },
      { from: "2027-05-01", to: "2027-05-15", chance: 0.58 },
      { from: "2027-05-16", to: "2027-05-31", chance: 0.62 },
    ],
  });

  test("a4 and a5: planter, finish dates with none beside", async () => {
    const { inputs, expected } = example("a4");
    const acPerDay = example("a2").expected.one["390"].acDay;
    const made = await figures("season", {
      weather: weather(0.5),
      rig: inputs.rig,
      tenders: { count: 1, lb: 23400, tripHours: 2 },
      planter: { acres: 1800, planterAcPerDay: 240, workableDaysBefore: 2, leadDays: 1, acPerDay },
      finish: { acres: 1800, acPerDay, doneBy: ["2027-05-10"] },
      lead: { by: "2027-04-20", workableDays: 3 },
    });
    near(made.planter.neededAcPerDay, expected.need);
    near(made.planter.highestRateLbPerAc, expected.maxRateOneTender);
    const [half, none] = made.finish;
    expect([half.date50, half.date80]).toEqual(["2027-04-29", "2027-05-06"]);
    expect([none.date50, none.date80]).toEqual(["2027-04-29", "2027-05-03"]);
    near(none.doneBy[0].chance, example("a5").expected.rho0["390"].pByMay10);
    near(made.lead[1].chance, example("a5").expected.rho0["390"].pLeadByApr20);
    expect(made.words).toContain("8 years of 10");
  });

  test("e1 to e5", async () => {
    const e2 = example("e2");
    const e3 = example("e3");
    const e5 = example("e5");
    const made = await figures("season", {
      weather: { ...weather(0), start: "2027-04-16" },
      blend: {
        parts: [
          { id: "11-52-0", share: 0.3 },
          { id: "0-0-60", share: 0.4 },
          { id: "46-0-0", share: 0.3 },
        ],
      },
      wetHours: {
        morningPercent: 82,
        afternoonPercent: 55,
        limitPercent: 60.3,
        workFromHour: 8,
        workToHour: 20,
      },
      switch: {
        criticalPercent: e3.inputs.crh,
        coatingPoints: e3.inputs.coatingPoints,
        sdPoints: e3.inputs.sd,
        periods: Object.entries(e3.inputs.afternoon).map(([name, afternoonPercent]) => ({
          name,
          afternoonPercent,
        })),
        hoursLost: 2,
        valuePerHour: 300,
        benefitPerAc: 1.5,
        acPerDay: 240,
      },
      premium: { acres: 3600, acPerDay: 200, lastDay: "2027-05-15", tooLittlePerAc: 1.5, tooMuchPerAc: 4 },
      plainFields: {
        atLeastAc: 190,
        fields: e5.inputs.fields.map((one: { id: string; ac: number; benefitPerAc: number }) => ({
          id: one.id,
          areaAc: one.ac,
          benefitPerAc: one.benefitPerAc,
        })),
      },
    });
    near(made.blend.tablePercent, example("e1").expected.ureaMopMap.crh);
    near(made.wetHours.wetHours, e2.expected.a.wet);
    expect(made.switch.switchAt).toBe(e3.expected.switchAt);
    near(made.switch.periods[3].troubleChance, e3.expected.periods[3].pTrouble);
    expect(made.premium.orderAc).toBe(example("e4").expected.Q);
    near(made.premium.expectedAc, example("e4").expected.mean);
    expect(made.plainFields).toEqual({ fields: ["C", "D"], areaAc: 195, lostBenefit: 920 });
  });
});

test("order --input, f1 with a booking and a price change", async () => {
  const { inputs, expected } = example("f1");
  const products = ["MAP", "MOP"] as const;
  const made = await figures("order", {
    maps: inputs.maps.flatMap((map: Record<string, number>) =>
      products.map((product) => ({
        id: map.id,
        fieldId: map.id,
        product,
        kind: "strip",
        lb: map[product],
      })),
    ),
    terms: products.map((product) => ({
      product,
      supplier: "elevator",
      pricePerTon: inputs.pricePerTon[product],
      freightPerTon: inputs.freightPerTon,
      overlapShare: inputs.overlap,
      lossShare: inputs.loss,
      onHandLb: inputs.onHandLb[product],
      lotTons: inputs.loadTons,
    })),
    book: [{ date: "2027-02-14", kind: "booked", product: "MAP", supplier: "elevator", tons: 90 }],
    whatIf: [{ product: "MOP", changeShare: 0.1 }],
  });
  const [map, mop] = made.products;
  near(map.line.grossLb, expected.MAP.grossLb);
  // 91.5 tons are short of which 90 are booked: one more load of 24, at the same price.
  expect(map.line).toMatchObject({ boughtTons: 90, toOrderTons: 24, lots: 1, seasonTons: 114 });
  near(map.line.cost, (expected.MAP.cost * 114) / 96);
  near(mop.line.trimShare, expected.trimMOP);
  near(made.whatIf[0].cost, expected.whatIf10pctMOP);
  near(made.book[0].changeTons + 90, expected.MAP.tons);
  near(made.book[1].changeTons, expected.MOP.tons);
  expect(made.words).toContain("4.16 % off every rate saves one lot");
});

test("applied --input, f2 and f3 in one go: the tickets' factor goes into the catch-up", async () => {
  const f2 = example("f2");
  const f3 = example("f3");
  const { startLb, tickets, endLb, wasteLb, loggedLb, scaleErrorLb } = f2.inputs;
  const made = await figures("applied", {
    tickets: { startLb, tickets, endLb, wasteLb, loggedLb, scaleErrorLb },
    fills: f2.inputs.fills.map(([logged, scale]: [number, number]) => ({ loggedLb: logged, trueLb: scale })),
    catchUp: {
      minimum: { p2o5: 5, k2o: 0 },
      productPercent: { p2o5: 52, k2o: 60 },
      classes: f3.inputs.zones.map(
        (zone: { id: string; ac: number; need: [number, number]; logged: [number, number] }) => ({
          id: zone.id,
          fieldId: "north",
          areaAc: zone.ac,
          need: { p2o5: zone.need[0], k2o: zone.need[1] },
          logged: { p2o5: zone.logged[0], k2o: zone.logged[1] },
        }),
      ),
    },
  });
  near(made.tickets.meterFactor, f2.expected.k);
  near(made.fills.leastSquares, f2.expected.fills.ls);
  near(made.catchUp.balance.k2o.catchUpLb, f3.expected.K);
  near(made.catchUp.productTons.k2o, f3.expected.mopTons);
  expect(made.words).toContain("the log is -5.21 % off".replace("-", "−"));
  const test5 = await figures("applied", {
    catchTest: { caughtLb: [2.2, 2, 1.8, 2], minutes: 1, rateLbPerAc: 100, widthFt: 10, mph: 4 },
  });
  expect(test5.catchTest.rowsOff).toEqual([1, 3]);
});

test("remainder --input by passes, and ledger --input", async () => {
  const left = await figures("remainder", {
    segments: [1, 1, 2, 3].map((pass) => ({ pass, areaAc: 2, ratesLbPerAc: [100, 50] })),
    done: { by: "pass", order: [1, 2, 3], doneAfter: 1 },
    factors: [1, 0.5],
  });
  near(left.areaAc, 4);
  near(left.lb[0], 400);
  near(left.lb[1], 100);
  const placed = {
    kind: "placed",
    fieldId: "north",
    pass: "strip",
    product: "11-52-0",
    map: "N",
    revision: "A",
    p2o5Lb: 520,
    k2oLb: 0,
    from: "log",
  };
  const stands = await figures("ledger", {
    fields: [
      { fieldId: "north", areaAc: 40, plannedStripLb: 1000 },
      { fieldId: "south", areaAc: 20 },
    ],
    events: [
      { date: "2027-04-18", event: { ...placed, lb: 1000, areaAc: 10 } },
      { date: "2027-04-19", event: { ...placed, lb: 1000, areaAc: 30 } },
    ],
  });
  expect(stands.fields.map((one: { state: string }) => one.state)).toEqual(["stripped", "waiting"]);
  const none = { fields: [], events: [{ date: "2027-04-18", event: { ...placed, lb: 8400, areaAc: 0 } }] };
  const told = await cli("ledger", "--input", written(none));
  expect([told.exit, told.error]).toEqual([2, expect.stringContaining("pounds on 0 ac")]);
});

test("figures without a part to work out are refused, and a weather alone is none", async () => {
  for (const [verb, input, part] of [
    ["season", {}, "fieldOrder, blend, wetHours"],
    ["season", { weather: { start: "2027-04-10", chances: [] } }, "finish, lead, planter"],
    ["applied", {}, "tickets, fills, catchTest or catchUp"],
  ] as const) {
    const told = await cli(verb, "--input", written(input));
    expect([verb, told.exit, told.out]).toEqual([verb, 2, ""]);
    expect(told.error).toContain(part);
  }
});

test("a day that the calendar has not is refused by the option it stands in", async () => {
  for (const words of [
    ["season", "--start"],
    ["ledger", "--finish", "low-forty", "--date"],
  ]) {
    const [verb, ...options] = words as [string, ...string[]];
    const told = await cli(verb, farm(), ...options, "2027-02-30");
    expect(told.exit).toBe(2);
    expect(told.error).toContain(`${options.at(-1)}: "2027-02-30" is not a date`);
  }
});

test("wrong shapes name their place; neither plan nor input", async () => {
  const bad = await cli("fills", "--input", written({ passLb: [1], usableLoadLb: 5, places: [{ id: 3 }] }));
  expect(bad.exit).toBe(2);
  expect(bad.error).toContain("places[0]");
  const neither = await cli("season");
  expect(neither.exit).toBe(2);
  expect(neither.error).toContain("got neither");
  const number = await cli("order", "--input", written({ maps: [], terms: [], extra: 1 }));
  expect(number.error).toContain("extra");
});

describe("docs/operations.md", () => {
  const text = readFileSync(join(import.meta.dirname, "../../docs/operations.md"), "utf8");
  const verbs = ["fills", "season", "order", "applied", "remainder"] as const;
  test.each(verbs)("the shape shown for %s is taken", async (verb) => {
    const block = text.split(`**${verb}**`)[1]!.split("\n\n")[1]!;
    await figures(verb, JSON.parse(block));
  });
});
