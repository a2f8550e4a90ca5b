import { beforeAll, expect, test } from "vitest";
import { appliedField, type Plan, type ProductLog, type RunResult, run } from "../../src/plan/index.ts";
import { lagInWords } from "../../src/report/index.ts";
import { drivenLog } from "../support/driven-log.ts";
import { seasonPlanDocument } from "../support/season-plan.ts";
import { smallFarmFiles, sourceOf } from "../support/small-farm.ts";

const plan: Plan = seasonPlanDocument();
let result: RunResult;
beforeAll(async () => {
  result = await run(plan, sourceOf(smallFarmFiles()), { files: "later" });
});

/** Pieces by which the map of before is off. */
const ROLLED = 3;

test("a lag is told by the map that was driven alone: not by passes that have another plan's target rates", () => {
  const [field] = result.fields;
  const own = drivenLog(result, 0, { lagS: 2 });
  // A map of before: its rates lie some pieces farther on.
  const prescriptions = field!.prescriptions.map((map) => ({
    ...map,
    rateLbPerAc: map.rateLbPerAc.map((_, k) => map.rateLbPerAc[(k + ROLLED) % map.rateLbPerAc.length]!),
  }));
  const before = drivenLog({ ...result, fields: [{ ...field!, prescriptions }] }, 0, { lagS: 2 });
  const lagOf = (points: ProductLog["log"]["points"]) =>
    appliedField(plan, field!, [{ ...own, log: { ...own.log, points } }]).products[0]!.lag;
  const told = lagOf(before.log.points);
  expect(told).toMatchObject({ isOfOtherMap: true, lagSeconds: Number.NaN });
  expect(lagInWords(told)).toBe(
    "lag not found: the log's target rates are not this plan's map's, as of one driven by maps of before",
  );
  // One day by each: by the passes of this map, all of whose rates it explains.
  const half = own.log.points.length / 2;
  const both = own.log.points.map((point, i) => (i < half ? before.log.points[i]! : point));
  const ofBoth = lagOf(both);
  expect(ofBoth).toMatchObject({ isOfOtherMap: false, lagSeconds: 2 });
  expect(ofBoth.explained).toBeGreaterThan(0.95);
  // A controller that looks 2 s ahead, logs its target 2 s late or has all rates turned up by 10 % drives this map.
  for (const [shift, times] of [
    [2, 1],
    [-2, 1],
    [0, 1.1],
  ] as const) {
    const points = own.log.points.map((point, i, all) => ({
      ...point,
      targetLbPerAc: times * (all[i + shift] ?? point).targetLbPerAc!,
    }));
    expect(lagOf(points)).toMatchObject({ isOfOtherMap: false, lagSeconds: 2 });
  }
  // A map that has a rate in few places, where the log has targets everywhere, is not the one that was driven.
  const thin = field!.prescriptions.map((map) => ({
    ...map,
    rateLbPerAc: map.rateLbPerAc.map((rate, k) => (field!.passes.pieces[k]!.run === 3 ? rate : 0)),
  }));
  // One pass of many that is as this map has it does not make it the map that was driven.
  const ofThin = appliedField(plan, { ...field!, prescriptions: thin }, [own]).products[0]!.lag;
  expect(ofThin).toMatchObject({ isOfOtherMap: true, lagSeconds: Number.NaN });
  // Without targets, or with none but 0, nobody knows.
  for (const targetLbPerAc of [null, 0])
    expect(lagOf(before.log.points.map((point) => ({ ...point, targetLbPerAc }))).isOfOtherMap).toBe(false);
});
