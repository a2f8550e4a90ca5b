import { beforeAll, describe, expect, test } from "vitest";
import {
  doneAfter,
  type FieldFills,
  fillPlan,
  type Plan,
  type RunResult,
  readPlan,
  run,
  tenderPlaces,
  workedPasses,
  writePlan,
} from "../../src/plan/index.ts";
import { scalesInWords } from "../../src/report/index.ts";
import { seasonPlanDocument } from "../support/season-plan.ts";
import { smallFarmFiles, sourceOf } from "../support/small-farm.ts";

let result: RunResult;
const plan: Plan = readPlan(writePlan(seasonPlanDocument()), "plan.json");
beforeAll(async () => {
  result = await run(plan, sourceOf(smallFarmFiles()), { files: "later" });
});

/** The plan with smaller bins, so that the field takes several stops. */
const withBins = (volumeFt3: number, more: Partial<Plan> = {}): Plan => ({
  ...plan,
  ...more,
  rig: { ...plan.rig, bins: plan.rig.bins.map((bin) => ({ ...bin, volumeFt3 })) },
});
const fillsOf = (of: Plan): FieldFills => fillPlan(of, result.fields[0]!);

describe("passes of a field", () => {
  test("their pounds and acres are the files'", () => {
    const passes = workedPasses(plan, result.fields[0]!);
    const strips = result.fields[0]!.prescriptions.filter((map) => map.pass === "strip");
    for (const [b, map] of strips.entries()) {
      expect(passes.reduce((sum, pass) => sum + pass.lb[b]!, 0)).toBeCloseTo(map.totalLb, 6);
    }
    expect(passes.reduce((sum, pass) => sum + pass.areaAc, 0)).toBeCloseTo(strips[0]!.areaAc, 9);
    // The hole parts passes 3 and 4: what lies behind it is worked last.
    const numbers = passes.map((pass) => pass.pass);
    expect(numbers.slice(0, 20)).toEqual(numbers.slice(0, 20).toSorted((a, b) => a - b));
    expect(numbers.slice(-2)).toEqual([4, 3]);
    expect(passes.length).toBeGreaterThan(25);
  });

  test("ends lie a pass apart, A to B along the line", () => {
    const passes = workedPasses(plan, result.fields[0]!);
    for (const { start, end, lengthM, endAt } of passes) {
      expect(Math.hypot(end[0] - start[0], end[1] - start[1])).toBeCloseTo(lengthM, 6);
      // A lies south, B north.
      expect(end[1] > start[1]).toBe(endAt === "B");
    }
  });

  test("headland passes are driven too, and a tender reaches the rig there", async () => {
    const around = await run(
      { ...plan, rig: { ...plan.rig, headlandPasses: 1 } },
      sourceOf(smallFarmFiles()),
      {
        files: "later",
      },
    );
    const passes = workedPasses(plan, around.fields[0]!);
    expect(passes.at(-1)!.kind).toBe("headland");
    const lb = passes.reduce((sum, pass) => sum + pass.lb[0]!, 0);
    expect(lb).toBeCloseTo(around.fields[0]!.prescriptions[0]!.totalLb, 6);
    const fills = fillPlan(withBins(5), around.fields[0]!);
    expect(fills.plan.feasible).toBe(true);
    // As it is named a pass is taken where planning goes on after it: H1 is not pass 1.
    expect(fills.passes.at(-1)!.passName).toBe("H1");
    const places = [{ ...fills.passes.at(-1)!, passesDone: passes.length }, ...fills.stops];
    const isWhole = (name: string) => fills.passes.filter(({ passName }) => passName === name).length === 1;
    for (const { passName, passesDone } of places.filter((one) => isWhole(one.passName)))
      expect(doneAfter(around.fields[0]!, passName).driven).toBe(passesDone);
  });
});

describe("stops on strips already made", () => {
  const rig = { ...plan.rig, headlandPasses: 1 };
  const told = (fills: FieldFills) => fills.notices.filter(({ code }) => code === "stop-on-strips");

  test("headlands worked first are told once, headlands worked last are not", async () => {
    const stops = async (headlands: "first" | "last"): Promise<FieldFills> => {
      const own = { ...plan, rig: { ...rig, headlands } };
      const made = await run(own, sourceOf(smallFarmFiles()), { files: "later" });
      return fillPlan(
        { ...withBins(8), rig: { ...withBins(8).rig, headlandPasses: 1, headlands } },
        made.fields[0]!,
      );
    };
    const first = await stops("first");
    expect(first.stops.length).toBeGreaterThan(2);
    expect(told(first)).toEqual([
      {
        code: "stop-on-strips",
        where: first.fieldId,
        message: expect.stringMatching(
          /^Low Forty: Stop \d+ stands on strips already made \(headland pass 1\)/,
        ),
      },
    ]);
    expect(told(await stops("last"))).toEqual([]);
  });

  test("a tender in the field stands on the first pass once that is made, one at the edge never does", () => {
    const field = result.fields[0]!;
    const [pass] = workedPasses(plan, field);
    const middle = [(pass!.start[0] + pass!.end[0]) / 2, (pass!.start[1] + pass!.end[1]) / 2] as const;
    const inside = fillPlan(withBins(8), field, { places: [{ id: "yard", at: middle }] });
    expect(told(inside).map(({ message }) => message)).toEqual([
      expect.stringMatching(/Stop 1 stands on strips already made \(pass -?\d+\).*and \d+ more stops?/),
    ]);
    const edge = fillPlan(withBins(8), field, { places: [{ id: "road", at: [middle[0], -2_000] }] });
    expect(edge.stops.length).toBeGreaterThan(0);
    expect(told(edge)).toEqual([]);
  });
});

test("the last load of a field is what it still takes, unless full loads are wanted; it takes no longer", () => {
  const fills = fillsOf(withBins(8));
  const full = fillsOf({ ...withBins(8), fills: { load: "full" } });
  if (!fills.plan.feasible || !full.plan.feasible) throw new Error("no plan");
  expect(fills.stops.map(({ passesDone }) => passesDone)).toEqual(
    full.stops.map(({ passesDone }) => passesDone),
  );
  for (const [b, lb] of fills.endScaleLb!.entries()) {
    const left = lb - fills.residualLb[b]!;
    const lastStop = fills.stops.at(-1)!;
    // Nothing but the reserve, or what lay in the bin at the last stop.
    const lay = lastStop.loadLb[b]! > 0 ? 0 : left;
    expect(left).toBeCloseTo(Math.max(lay, fills.plan.reserveLb[b]!), 6);
    expect(full.endScaleLb![b]!).toBeGreaterThanOrEqual(lb);
  }
  expect(fills.times!.doneHour).toBeLessThanOrEqual(full.times!.doneHour + 1e-9);
});

test("a smaller first load for as many stops is told with the stops it makes", () => {
  const fills = fillsOf(withBins(8));
  const { scaleLb, afterPass } = fills.firstLoad!;
  expect(afterPass.length).toBe(fills.stops.length);
  const begun = scaleLb.map((lb, b) => lb - fills.residualLb[b]!);
  const first = fills.passes.findIndex(({ passName }) => passName === afterPass[0]);
  begun.forEach((lb, b) => {
    const out = fills.passes.slice(0, first + 1).reduce((sum, pass) => sum + pass.lb[b]!, 0);
    expect(lb - out).toBeGreaterThanOrEqual((fills.plan.feasible ? fills.plan.reserveLb[b]! : 0) - 1e-6);
  });
});

describe.each([5, 8, 12, 20])("bins of %i ft3", (volumeFt3) => {
  test("no bin runs into its reserve, and what is loaded goes out", () => {
    const fills = fillsOf(withBins(volumeFt3));
    expect(fills.plan.feasible).toBe(true);
    if (!fills.plan.feasible) return;
    const { reserveLb } = fills.plan;
    for (const pass of fills.passes) {
      for (const [b, lb] of pass.leftLb!.entries()) expect(lb).toBeGreaterThanOrEqual(reserveLb[b]! - 1e-6);
    }
    const last = fills.passes.at(-1)!.leftLb!;
    fills.bins.forEach((_, b) => {
      const loaded = fills.stops.reduce((sum, stop) => sum + stop.loadLb[b]!, 0);
      expect(fills.usableLb[b]! + loaded - last[b]!).toBeCloseTo(fills.fieldLb[b]!, 6);
    });
    for (const stop of fills.stops) {
      const before = fills.passes[stop.passesDone - 1]!;
      expect(before.pass).toBe(stop.pass);
      // The bin as the pass before left it is what the operator is told to expect; the scale shows the rest too.
      stop.expectedLb.forEach((lb, b) => {
        expect(before.leftLb![b]).toBeCloseTo(lb, 6);
        expect(stop.scaleAfterLb[b]).toBeCloseTo(lb + 50 + stop.loadLb[b]!, 6);
      });
      expect(fills.choice).toContain(`tender at the ${stop.end} end`);
    }
    expect(fills.stops.reduce((sum, stop) => sum + stop.acres, 0)).toBeLessThan(21);
  });

  test("the best of its cases; habit is never better", () => {
    const fills = fillsOf(withBins(volumeFt3));
    const known = fills.choices.filter((one) => one.minutes !== null);
    expect(fills.plan.feasible && fills.plan.minutes).toBe(Math.min(...known.map((one) => one.minutes!)));
    expect(fills.habitMoreMinutes!).toBeGreaterThanOrEqual(-1e-9);
  });
});

describe("what the plan says", () => {
  test("pounds carry overlap and the meter factor", () => {
    const plain = fillsOf({ ...plan, order: { overlapShare: 0 } });
    const both = fillsOf({ ...plan, order: { overlapShare: 0.1 }, fills: { meterFactor: 1.05 } });
    both.fieldLb.forEach((lb, b) => {
      expect(lb / plain.fieldLb[b]!).toBeCloseTo(1.1 * 1.05, 9);
    });
  });

  test("both ends reached: as many stops or fewer than at one", () => {
    const one = fillsOf(withBins(5));
    const two = fillsOf(withBins(5, { tender: { ...plan.tender!, reachedAt: "both-ends" } }));
    expect(two.stops.length).toBeLessThanOrEqual(one.stops.length);
    expect(two.choice).toContain("either end");
  });

  test("a pass no bin can finish is said, with its number", () => {
    const fills = fillsOf(withBins(2));
    expect(fills.plan).toMatchObject({ feasible: false, reason: "pass-over-load" });
    expect(fills.stops).toEqual([]);
    expect(fills.notices[0]).toMatchObject({ code: "pass-over-load", where: "low-forty" });
    // Bin and pass as on sheets and display, and the same words where there is no plan.
    expect(fills.notices[0]!.message).toMatch(
      /^Low Forty: bin L cannot finish pass −?\d+ \(number \d+ in working order\): \d+ lb are needed/,
    );
    expect(fills.plan).toMatchObject({ message: fills.notices[0]!.message.slice("Low Forty: ".length) });
  });

  test("a load no tender brings leaves the times out", () => {
    const fills = fillsOf(withBins(8, { tender: { count: 1, lb: 300, tripMin: 60 } }));
    expect(fills.times).toBeNull();
    expect(fills.notices.map((one) => one.code)).toContain("tender-below-load");
    expect(fills.stops[0]!.waitMinutes).toBeNull();
  });

  test("the rig carries less than full bins: loads in proportion, together at the limit", () => {
    const fills = fillsOf({ ...plan, rig: { ...plan.rig, carriesLb: 1100 } });
    expect(fills.loadsBy).toBe("rig");
    expect(fills.usableLb[0]! + fills.usableLb[1]!).toBeCloseTo(1000, 6);
    expect(fills.usableLb[0]! / fills.usableLb[1]!).toBeCloseTo(fills.fieldLb[0]! / fills.fieldLb[1]!, 6);
  });

  test("a scale that reads more than the field's load is taken as it is; no load brings the rig above what it carries", () => {
    // Bins hold 20 ft3 x 60 lb/ft3 = 1,200 lb each, 50 lb of them stay in.
    const carries = { ...plan, rig: { ...plan.rig, carriesLb: 1100 } };
    const whole = fillsOf(carries);
    const over = whole.usableLb[0]! < whole.usableLb[1]! ? 0 : 1;
    const binLb = [0, 1].map((b) => (b === over ? 700 : 200));
    expect(whole.holdsLb).toEqual([1150, 1150]);
    expect(whole.usableLb[over]).toBeLessThan(700);
    const fills = fillPlan(carries, result.fields[0]!, { stand: { stoppedAfterPass: 6, binLb } });
    expect(fills.plan.feasible && fills.plan.startLb).toEqual(binLb);
    expect(scalesInWords([1200, 1200], fills)).toEqual([]);
    expect(scalesInWords([1201, 900], fills).map(({ words }) => words)).toEqual([
      "1,201 lb is more than the 1,200 lb that the bin holds; it counts as full. Read the scale again.",
    ]);
    const first = fills.stops[0]!;
    const laid = fills.passes.slice(6, first.passesDone).reduce((lb, pass) => lb + pass.lb[over]!, 0);
    expect(first.scaleBeforeLb[over]).toBeCloseTo(50 + 700 - laid, 6);
    for (const { scaleAfterLb, loadLb } of fills.stops) {
      expect(scaleAfterLb[0]! + scaleAfterLb[1]!).toBeLessThan(1100 + 1e-6);
      expect(Math.min(...loadLb)).toBeGreaterThanOrEqual(0);
    }
  });

  test("a wall in one box leaves room for more than a load where the rig carries less than the box", () => {
    // One box of 40 ft3 x 60 lb/ft3 = 2,400 lb, 100 lb of them stay in; the rig carries 1,100.
    const box = { ...plan, rig: { ...plan.rig, carriesLb: 1100, movableWall: true } };
    const fills = fillsOf(box);
    expect(fills.loadsBy).toBe("rig");
    expect(fills.usableLb[0]! + fills.usableLb[1]!).toBeCloseTo(1000, 6);
    expect(fills.holdsLb[0]! + fills.holdsLb[1]!).toBeCloseTo(2300, 6);
    expect(fills.holdsLb[0]! / fills.holdsLb[1]!).toBeCloseTo(fills.fieldLb[0]! / fills.fieldLb[1]!, 6);
    const over = fills.usableLb[0]! < fills.usableLb[1]! ? 0 : 1;
    const binLb = [0, 1].map((b) => (b === over ? fills.usableLb[b]! + 100 : 200));
    const stand = fillPlan(box, result.fields[0]!, { stand: { stoppedAfterPass: 6, binLb } });
    expect(stand.plan.feasible && stand.plan.startLb).toEqual(binLb);
    for (const { scaleAfterLb } of stand.stops)
      expect(scaleAfterLb[0]! + scaleAfterLb[1]!).toBeLessThan(1100 + 1e-6);
    expect(fillsOf({ ...plan, rig: { ...plan.rig, movableWall: true } }).loadsBy).toBe("wall");
  });

  test("a typed place far off is refused by its id and distance, not driven to", () => {
    const at = (lonDeg: number, latDeg: number) => ({
      ...withBins(5),
      fills: { places: [{ id: "yard", field: "low-forty", lonDeg, latDeg }] },
    });
    const field = result.fields[0]!;
    // A degree of latitude there is 111.1 km, and the field ends at 42.0027.
    expect(() => tenderPlaces(at(-93.4995, 43), field)).toThrow(
      /^Low Forty: the tender's place yard, longitude -93\.4995 and latitude 43, is 110\.8 km from the field\.$/,
    );
    expect(() => tenderPlaces(at(0, 0), field)).toThrow(/longitude 0 and latitude 0, is far from the field/);
    // 0.04 degrees north are 4.4 km.
    expect(tenderPlaces(at(-93.4995, 42.04), field)).toHaveLength(1);
  });

  test("a typed place: the way there and back counts, ends on its side alone", () => {
    const placed = {
      ...withBins(5),
      fills: { places: [{ id: "gate", field: "low-forty", lonDeg: -93.5, latDeg: 42 }] },
    };
    const field = result.fields[0]!;
    const fills = fillPlan(placed, field, { places: tenderPlaces(placed, field) });
    const gate = field.checked.frame.toPlane([-93.5, 42]);
    const passes = workedPasses(placed, field);
    expect(fills.stops.length).toBeGreaterThan(0);
    for (const stop of fills.stops) {
      expect(stop.at).toBe("gate");
      expect(stop.end).toBe("A");
      const far = (a: readonly number[], b: readonly number[]) => Math.hypot(a[0]! - b[0]!, a[1]! - b[1]!);
      const isLaid = fills.beginAt === (passes[0]!.endAt === "A" ? "B" : "A");
      const [before, after] = [passes[stop.passesDone - 1]!, passes[stop.passesDone]!];
      const end = isLaid ? before.end : before.start;
      const start = isLaid ? after.start : after.end;
      const detourM = far(end, gate) + far(gate, start) - far(end, start);
      // 4 mph are 107.2896 m a minute.
      expect(stop.stopMinutes).toBeCloseTo(6 + detourM / 107.2896, 6);
    }
  });

  test("from a stop on: by the scale, passes done keep no weight", () => {
    const from = fillPlan(withBins(8), result.fields[0]!, {
      stand: { stoppedAfterPass: 6, binLb: [80, 200], meterFactor: 1.05 },
    });
    expect(from.plan.feasible).toBe(true);
    expect(from.passes.slice(0, 6).every((pass) => pass.leftLb === null)).toBe(true);
    expect(from.stops[0]!.passesDone).toBeGreaterThanOrEqual(6);
    for (const pass of from.passes.slice(6)) expect(Math.min(...pass.leftLb!)).toBeGreaterThan(0);
  });

  test("from a stop on: what is left is what the passes to come take, and the end it was begun at is settled", () => {
    const stand = { stoppedAfterPass: 6, binLb: [80, 200], meterFactor: 1.05 };
    const from = fillPlan(withBins(8), result.fields[0]!, { stand });
    from.leftLb.forEach((lb, b) => {
      const toCome = from.passes.slice(6).reduce((sum, pass) => sum + pass.lb[b]!, 0);
      expect(lb).toBeCloseTo(1.05 * toCome, 6);
      expect(lb).toBeLessThan(from.fieldLb[b]!);
    });
    const begun = new Set([from.choice, ...from.choices.map(({ id }) => id)].map((id) => id.slice(0, 10)));
    expect(begun).toEqual(new Set([`begun at ${from.beginAt}`]));
    const whole = fillsOf(withBins(8));
    expect(whole.leftLb).toEqual(whole.fieldLb);
    expect([whole.fillHere, whole.choice.slice(0, 8)]).toEqual([null, "begin at"]);
  });

  test("from a stop on: filling where the rig stands is held against driving on", () => {
    const both = withBins(8, { tender: { ...plan.tender!, reachedAt: "both-ends" } });
    const field = result.fields[0]!;
    const planFrom = (of: Plan, stoppedAfterPass: number, binLb: readonly number[]) =>
      fillPlan(of, field, { stand: { stoppedAfterPass, binLb } });
    const from = planFrom(both, 6, [300, 200]);
    expect(from.stops[0]!.passesDone).toBeGreaterThan(6);
    // A stop here takes as long as any at the end of a pass; from then on the bins are full.
    const full = planFrom(both, 6, from.usableLb);
    expect(full.plan.feasible && from.fillHere).toEqual({
      at: expect.stringMatching(/^[AB] end$/),
      minutes: full.plan.feasible ? full.plan.minutes + from.stops[0]!.stopMinutes : 0,
      stops: full.stops.length + 1,
    });
    // Bins too low for a pass: the plan itself begins here. Enough to the end: no stop at all.
    expect(planFrom(both, 6, [0, 0]).fillHere).toBeNull();
    expect(planFrom(both, 31, from.usableLb)).toMatchObject({ fillHere: null, stops: [] });
    // The tender at one end is not at the other.
    const oneEnd = [6, 7].map((done) => planFrom(withBins(8), done, [300, 200]).fillHere?.minutes);
    expect(oneEnd).toContain(null);
  });

  test("a rig that is not told names the keys", () => {
    const { work: _, ...rig } = plan.rig;
    expect(() => fillsOf({ ...plan, rig })).toThrow(/rig\.work\.mph/);
  });

  test("fields a plan does not have are refused", () => {
    const wrong = { ...plan, season: { start: "2027-04-10", order: ["low-forty", "north"] } };
    expect(() => readPlan(writePlan(wrong), "plan.json")).toThrow(/season\.order names the field “north”/);
    const bins = { ...plan, fills: { compartmentsLb: [1000] } };
    expect(() => readPlan(writePlan(bins), "plan.json")).toThrow(/1 figures for 2 bins/);
  });
});
