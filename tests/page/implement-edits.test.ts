import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, it } from "vitest";
import { feet } from "../../app/src/state/figures.ts";
import {
  withFollower,
  withLead,
  withLineRecord,
  withOwnHeadland,
  withRigKeys,
  withRowSpacing,
  withRows,
  withSectionDelay,
  withShortestStretch,
  withSpreader,
  withTurnRadius,
} from "../../app/src/state/implement-edits.ts";
import { withBin, withRigWork } from "../../app/src/state/rig-edits.ts";
import { type Plan, readPlan, writePlan } from "../../src/plan/index.ts";
import { barePlan } from "../support/bare-plan.ts";
import { sample } from "./support/browser.ts";

const plan = barePlan(
  readPlan(new Uint8Array(readFileSync(join(sample("home-farm"), "plan.json"))), "plan.json"),
);
/** The plan as it comes back from its file: a plan the schema refuses throws. */
const saved = (of: Plan): Plan => readPlan(writePlan(of), "plan.json");

describe("edits of the implements", () => {
  it("figures of turns and meters go in and, emptied, out again without a trace", () => {
    for (const [make, key, name, emptied] of [
      [withTurnRadius, "turnRadiusFt", "turn radius 25 ft", "turn radius as assumed"],
      [
        withShortestStretch,
        "shortestStretchFt",
        "shortest stretch 25 ft",
        "shortest stretch by speed and response",
      ],
      [withLead, "leadS", "rates 25 s ahead", "no lead of the rates"],
    ] as const) {
      const typed = make(plan, 25);
      expect(typed.name).toBe(name);
      expect(saved(typed.plan).rig[key]).toBe(25);
      const out = make(typed.plan, null);
      expect(out).toEqual({ name: emptied, plan });
    }
    expect(withLead(plan, 0).plan).toEqual(plan);
  });

  it("delays keep the sections, and sections that do not divide the rows start together", () => {
    const late = withSectionDelay(plan, "on", 0.8);
    expect(late.name).toBe("sections on after 0.8 s");
    expect(saved(late.plan).rig.sections).toEqual({
      ...plan.rig.sections,
      count: plan.rig.sections?.count ?? 1,
      onDelayS: 0.8,
    });
    const both = withSectionDelay(late.plan, "off", 0.3);
    expect(saved(both.plan).rig.sections).toMatchObject({ onDelayS: 0.8, offDelayS: 0.3 });
    expect(withSectionDelay(late.plan, "on", null).plan).toEqual(plan);
    const four = {
      ...both.plan,
      rig: { ...both.plan.rig, rows: 16, sections: { ...both.plan.rig.sections!, count: 4 } },
    };
    expect(withRows(four, 12)).toMatchObject({
      name: "12 rows",
      plan: { rig: { rows: 12, sections: { count: 4 } } },
    });
    const ten = withRows(four, 10);
    expect(ten.name).toBe("10 rows, all sections at once");
    expect(saved(ten.plan).rig.sections).toEqual({ count: 1, onDelayS: 0.8, offDelayS: 0.3 });
    expect(saved(withRowSpacing(plan, 20).plan).rig.rowSpacingIn).toBe(20);
  });

  it("a planter begins with the spacing of the strips and goes as a whole", () => {
    const planter = withFollower(plan, { rows: 24 }, "planter of 24 rows");
    expect(saved(planter.plan).rig.planter).toEqual({ rows: 24, rowSpacingIn: plan.rig.rowSpacingIn });
    const drilled = withFollower(planter.plan, { drilled: true, sameLine: false }, "crop drilled");
    expect(saved(drilled.plan).rig.planter).toMatchObject({ rows: 24, drilled: true, sameLine: false });
    const again = withFollower(drilled.plan, { drilled: null, sameLine: null }, "");
    expect(again.plan).toEqual(planter.plan);
    expect(withFollower(planter.plan, null, "planter not told").plan).toEqual(plan);
  });

  it("a field has headland passes of its own, or the rig's again; another line of its file", () => {
    const [first] = plan.fields;
    const own = withOwnHeadland(plan, first!, true);
    expect(saved(own.plan).fields[0]!.headlandPasses).toBe(plan.rig.headlandPasses ?? 0);
    expect(saved(own.plan).fields[1]).toEqual(plan.fields[1]);
    expect(withOwnHeadland(own.plan, own.plan.fields[0]!, false).plan).toEqual(plan);
    const line = withLineRecord(plan, first!, 3);
    expect(line.name).toBe(`${first!.name}: line 3 of ${first!.guidance.source}`);
    expect(saved(line.plan).fields[0]!.guidance).toEqual({ ...first!.guidance, record: 3 });
  });

  it("steps, spreader, bins and reserve are kept as typed", () => {
    const steps = withRigKeys(plan, { rateStepLbPerAc: 4, carriesLb: 9_000, movableWall: true }, "");
    expect(saved(steps.plan).rig).toMatchObject({ rateStepLbPerAc: 4, carriesLb: 9_000, movableWall: true });
    const spreader = withSpreader(plan, { widthFt: 80, leastLbPerAc: 60 }, "");
    expect(saved(spreader.plan).spreader).toEqual({ ...plan.spreader, widthFt: 80, leastLbPerAc: 60 });
    expect(
      withSpreader(spreader.plan, { widthFt: plan.spreader.widthFt, leastLbPerAc: null }, "").plan,
    ).toEqual(plan);
    const id = plan.rig.bins[0]!.id;
    const bin = withBin(plan, id, { meterMinLbPerMin: 12, filledShare: 0.95, residualLb: 80 }, "");
    expect(saved(bin.plan).rig.bins[0]).toMatchObject({
      meterMinLbPerMin: 12,
      filledShare: 0.95,
      residualLb: 80,
    });
    const work = withRigWork(plan, { mph: 7, reserveShare: 0.1 }, "");
    expect(saved(work.plan).rig.work).toEqual({ mph: 7, reserveShare: 0.1 });
  });

  it("a rig's width stands on the page as on the cab sheet, not in whole feet", () => {
    expect(feet((11 * 30) / 12)).toBe("27.5");
    expect(feet((16 * 30) / 12)).toBe("40");
  });
});
