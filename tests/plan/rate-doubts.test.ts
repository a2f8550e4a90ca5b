import { describe, expect, it } from "vitest";
import { ledgerAddition } from "../../src/ledger/index.ts";
import { run } from "../../src/plan/index.ts";
import { rateDoubts, rigDoubts } from "../../src/plan/maps/rate-doubts.ts";
import { needPlan, worked, workedField } from "../support/need-plan.ts";
import { sourceOf } from "../support/small-farm.ts";
import { split } from "../support/split-plan.ts";

const messages = (notices: readonly { code: string; message: string }[], code: string) =>
  notices.filter((notice) => notice.code === code).map(({ message }) => message);

describe("a plan whose rates are hardly meant", () => {
  it("is doubted where a step is as large as the highest rate: nothing would lie, or all of it at one rate", async () => {
    const { plan } = needPlan();
    const usual = await workedField();
    expect(messages(usual.notices, "step-coarse")).toEqual([]);
    const coarse = await workedField({ plan: { rig: { ...plan.rig, rateStepLbPerAc: 5000 } } });
    expect(messages(coarse.notices, "step-coarse")).toEqual([
      expect.stringMatching(
        /^Low Forty: strip rates in steps of 5000 lb\/ac are as large as the rates of 11-52-0/,
      ),
      expect.stringMatching(/of 0-0-60, which go up to \d+ lb\/ac/),
    ]);
    // Whether a place gets nothing or thirty times its need is chance: what is carried on fills a step somewhere.
    const rates = coarse.prescriptions
      .filter(({ pass }) => pass === "strip")
      .flatMap((map) => [...map.rateLbPerAc]);
    expect([...new Set(rates)].filter((rate) => rate !== 0 && rate !== 5000)).toEqual([]);
  });

  it("is doubted where a broadcast map is under half a step of the spreader over the field", async () => {
    const field = await workedField();
    const { plan } = needPlan();
    const { spreader } = plan;
    const map = field.prescriptions[0]!;
    const told = (totalLb: number, pass: "strip" | "broadcast" = "broadcast") =>
      messages(
        rateDoubts(plan, field.field, field.split, [{ ...map, pass, totalLb }], 20),
        "broadcast-little",
      );
    // 20 ac at half a step.
    const least = 20 * (spreader.rateStepLbPerAc / 2);
    expect(told(least - 1)).toEqual([
      expect.stringMatching(/ on 20\.0 ac, less than half a step .*worth the trip\?$/),
    ]);
    expect([told(least), told(0), told(least - 1, "strip")]).toEqual([[], [], []]);
  });

  it("is not doubted where that pass is finished and no map is written", async () => {
    const { plan, files } = needPlan({ plan: { split: split({ capLbPerAc: 140 }) } });
    const told = async () =>
      messages((await run(plan, sourceOf(files), { files: "later" })).fields[0]!.notices, "broadcast-little");
    expect(await told()).toHaveLength(1);
    const done = { kind: "finished", fieldId: plan.fields[0]!.id, pass: "broadcast" } as const;
    files.set("ledger.txt", ledgerAddition(new Uint8Array(), "ledger.txt", "2027-04-18", done));
    expect(await told()).toEqual([]);
  });

  // Planters for rows 15, 20, 22, 30, 36 and 38 in. apart are usual (common practice).
  it("is doubted where rows lie hardly so far apart", async () => {
    const { plan } = needPlan();
    const of = (rowSpacingIn: number) => rigDoubts({ ...plan, rig: { ...plan.rig, rowSpacingIn } }).length;
    expect([15, 20, 22, 30, 36, 38].map(of)).toEqual([0, 0, 0, 0, 0, 0]);
    expect([0.76, 3000].map(of)).toEqual([1, 1]);
    const metres = await worked({ plan: { rig: { ...plan.rig, rowSpacingIn: 76 } } });
    expect(messages(metres.notices, "row-spacing-unusual")).toHaveLength(1);
  });
});
