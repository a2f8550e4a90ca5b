// The density of a blend is by the shares it is laid in, on every sheet and line alike.
import { expect, it } from "vitest";
import { type Plan, rigFigures, run, seasonOfPlan } from "../../src/plan/index.ts";
import { sheetFiles } from "../../src/report/index.ts";
import { seasonPlanDocument } from "../support/season-plan.ts";
import { smallFarmFiles, sourceOf } from "../support/small-farm.ts";

it("a catch sheet's full bin of a blend weighs what the stops reckon with, and so do the season's lines", async () => {
  const season = seasonPlanDocument();
  const { lbPerFt3: _, ...bin } = { ...season.rig.bins[0]!, product: "mix" };
  const blend = { id: "mix", of: ["11-52-0", "0-0-60"], fit: "typed", shares: [0.9, 0.1] } as const;
  const plan: Plan = { ...season, rig: { ...season.rig, bins: [bin] }, blends: [blend] };
  const result = await run(plan, sourceOf(smallFarmFiles()));
  const [field] = result.fields;
  const densityOf = (part: string): number => {
    const alone: Plan = { ...season, rig: { ...season.rig, bins: [{ ...bin, product: part }] } };
    return rigFigures(alone).bins[0]!.lbPerFt3;
  };
  const byHand = 0.9 * densityOf("11-52-0") + 0.1 * densityOf("0-0-60");
  expect(rigFigures(plan, field!.laid).bins[0]!.lbPerFt3).toBeCloseTo(byHand, 9);
  const halfAndHalf = (densityOf("11-52-0") + densityOf("0-0-60")) / 2;
  expect(Math.abs(byHand - halfAndHalf)).toBeGreaterThan(0.3);
  const files = sheetFiles(result);
  const fills = String(files.get("fills.html"));
  expect(fills).toContain(byHand.toFixed(1));
  expect(fills).not.toContain(halfAndHalf.toFixed(1));
  expect(JSON.stringify(seasonOfPlan(plan, result.fields))).toContain(byHand.toFixed(1));
});
