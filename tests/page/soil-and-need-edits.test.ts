import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import {
  ownRowsDoubt,
  withBudget,
  withConfirmed,
  withCost,
  withDrivenBy,
  withGuideFigure,
  withNewOwnGuide,
  withOwnRows,
} from "../../app/src/state/need-edits.ts";
import {
  type MapMethod,
  methodOf,
  withMapMethod,
  withSampleOff,
  withSampleOn,
} from "../../app/src/state/soil-edits.ts";
import { type Plan, readPlan, writePlan } from "../../src/plan/index.ts";
import { sample } from "./support/browser.ts";

const plan = readPlan(new Uint8Array(readFileSync(join(sample("home-farm"), "plan.json"))), "plan.json");
const first = (of: Plan) => of.fields[0]!;
/** The plan as it comes back from its file: a plan the schema refuses throws. */
const saved = (of: Plan): Plan => readPlan(writePlan(of), "plan.json");
const start = { nugget: 5, structures: [{ type: "spherical" as const, partialSill: 60, rangeM: 250 }] };

describe("edits of the soil maps", () => {
  it("every method leads to every other, and the plan saves and opens as it is", () => {
    const all: readonly MapMethod[] = ["averaged", "pooled", "typed", "inverse-distance"];
    for (const from of all) {
      const begun = withMapMethod(plan, first(plan), "P", from, start).plan;
      expect(methodOf(begun, first(begun), "P")).toBe(from);
      for (const to of all) {
        const changed = saved(withMapMethod(begun, first(begun), "P", to, start).plan);
        expect(methodOf(changed, first(changed), "P"), `${from} to ${to}`).toBe(to);
        expect(methodOf(changed, first(changed), "K"), `${from} to ${to}`).not.toBe("typed");
      }
    }
  });

  it("a typed variogram is one field's and goes when another method is taken", () => {
    const typed = withMapMethod(plan, first(plan), "K", "typed", start).plan;
    expect(first(typed).models).toEqual({ K: start });
    expect(typed.fields.slice(1)).toEqual(plan.fields.slice(1));
    const back = withMapMethod(typed, first(typed), "K", "averaged", start).plan;
    expect("models" in first(back)).toBe(false);
  });

  it("a sample leaves the map of one test with its reason, and comes back without a trace", () => {
    const once = withSampleOff(plan, first(plan), "P", "7", "a fence row").plan;
    const twice = saved(withSampleOff(once, first(once), "P", "7", "a feed lot").plan);
    expect(first(twice).switchedOff).toEqual([{ sample: "7", test: "P", reason: "a feed lot" }]);
    expect(withSampleOn(twice, first(twice), "P", "7").plan).toEqual(plan);
  });
});

describe("edits of the need", () => {
  it("nothing is weighted any longer once a cost is taken out", () => {
    const costs = withCost(withCost(plan, "usdPerLbMissing", 2).plan, "usdPerLbExcess", 0.5).plan;
    const weighted = saved(withDrivenBy(costs, "weighted").plan);
    expect(weighted.need).toEqual({ drivenBy: "weighted", usdPerLbMissing: 2, usdPerLbExcess: 0.5 });
    const change = withCost(weighted, "usdPerLbMissing", null);
    expect(change.name).toBe("a missing lb costs $2 → none");
    expect(saved(change.plan).need).toEqual({ drivenBy: "mapped-test", usdPerLbExcess: 0.5 });
  });

  it("a confirmation is entered and taken back; replaced figures stay", () => {
    const own = { ...plan, guides: [{ id: "tri-state-2020", constants: {} }] };
    const confirmed = { by: "A. Grower", page: "table 12", date: "2027-02-01" };
    const entered = saved(withConfirmed(own, "tri-state-2020", confirmed).plan);
    expect(entered.guides).toEqual([{ id: "tri-state-2020", constants: {}, confirmed }]);
    expect(withConfirmed(entered, "tri-state-2020", null).plan.guides).toEqual(own.guides);
    const bare = withConfirmed(plan, "tri-state-2020", confirmed).plan;
    expect(withConfirmed(bare, "tri-state-2020", null).plan.guides).toEqual([]);
  });

  it("a figure in place of a guide's stands in the plan, beside a confirmation, and goes without a trace", () => {
    const figure = { id: "p.critical.corn-soy", what: "P critical level" };
    const own = saved(withGuideFigure(plan, "tri-state-2020", figure, 25).plan);
    expect(own.guides).toEqual([{ id: "tri-state-2020", constants: { "p.critical.corn-soy": 25 } }]);
    const confirmed = { by: "A. Grower", page: "table 12", date: "2027-02-01" };
    const both = withConfirmed(own, "tri-state-2020", confirmed).plan;
    const back = saved(withGuideFigure(both, "tri-state-2020", figure, null).plan);
    expect(back.guides).toEqual([{ id: "tri-state-2020", confirmed }]);
    expect(withGuideFigure(own, "tri-state-2020", figure, null).plan.guides).toEqual([]);
  });

  it("a budget is dollars or pounds, and none leaves no key", () => {
    expect(saved(withBudget(plan, { usd: 9_000 }).plan).budget).toEqual({ usd: 9_000 });
    expect("budget" in withBudget(withBudget(plan, { lb: 1 }).plan, null).plan).toBe(false);
  });

  it("an own table begins with nothing, takes rows, and changes no field until chosen", () => {
    const begun = withNewOwnGuide(plan, first(plan), { P: "mehlich-3-icp", K: "mehlich-3" }).plan;
    expect(begun.fields).toEqual(plan.fields);
    const rows = [
      { ppm: 20, lbPerAc: 80 },
      { ppm: null, lbPerAc: 0 },
    ];
    const guide = begun.ownGuides![0]!;
    const changed = saved(
      withOwnRows(begun, { guide: guide.id, list: "tables", index: 0 }, rows, "20 ppm added").plan,
    );
    expect(changed.ownGuides![0]!.tables[0]).toMatchObject({ test: "P", belowPpm: [20], lbPerAc: [80, 0] });
    expect(changed.ownGuides![0]!.tables[1]).toMatchObject({ test: "K", belowPpm: [], lbPerAc: [0] });
    const again = withNewOwnGuide(changed, first(changed), { P: "olsen", K: "mehlich-3" }).plan;
    expect(new Set(again.ownGuides!.map(({ id }) => id)).size).toBe(2);
  });

  it.each([
    [[20, 20], [80, 40, 0], "The tests must rise."],
    [[-1], [80, 0], "A test is a number above 0."],
    [[20], [80, -5], "A rate is a number from 0 up."],
    [[20], [80, Number.NaN], "A rate is a number from 0 up."],
    [[20], [80, 0], ""],
  ])("limits %j with rates %j: %s", (limits, rates, doubt) => {
    const rows = rates.map((lbPerAc, k) => ({ ppm: limits[k] ?? null, lbPerAc }));
    expect(ownRowsDoubt(rows)).toBe(doubt);
  });
});
