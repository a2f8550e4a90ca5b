// A blend with several ratios is several products: what the tickets must read, and what a bin still holds, go by the field's own.
import { beforeAll, expect, test } from "vitest";
import { fillPlan, type Plan, type RunResult, run } from "../../src/plan/index.ts";
import { sheetFiles } from "../../src/report/index.ts";
import { seasonPlanDocument } from "../support/season-plan.ts";
import { smallFarmFiles, sourceOf } from "../support/small-farm.ts";

/** What a reader sees of a sheet. */
const sheetText = (html: string): string => html.replaceAll(/<[^>]*>/g, " ").replaceAll(/\s+/g, " ");

let result: RunResult;
let fills: string;
beforeAll(async () => {
  const document = seasonPlanDocument();
  const [bin] = document.rig.bins;
  const flat = (P2O5: number, K2O: number) => ({ kind: "flat" as const, lbPerAc: { P2O5, K2O } });
  const [field] = document.fields;
  const { order: _, season: __, ...rest } = document;
  const plan: Plan = {
    ...rest,
    rig: { ...document.rig, bins: [{ ...bin!, product: "mix" }] },
    blends: [{ id: "mix", of: ["18-46-0", "0-0-60"], fit: "cover-both", ratios: 2 }],
    pricesUsdPerTon: { "18-46-0": 700, "0-0-60": 480 },
    fields: [
      { ...field!, id: "lean", name: "Lean", needFrom: flat(60, 60) },
      { ...field!, id: "rich", name: "Rich", needFrom: flat(30, 90) },
    ],
  };
  result = await run(plan, sourceOf(smallFarmFiles()));
  fills = sheetText(sheetFiles(result).get("fills.html")!);
});

test("the catch-test sheet has a ticket for each ratio, in the analysis of its maps", () => {
  const products = result.fields.map(
    ({ prescriptions }) => prescriptions.find((map) => map.pass === "strip")!,
  );
  expect(products.map(({ product }) => product).toSorted()).toEqual(["mix1", "mix2"]);
  expect(fills).not.toContain("N 0, P₂O₅ 0, K₂O 0");
  for (const { product, analysis } of products) {
    const ticket = new RegExp(`Left, ${product} N ([\\d.]+), P₂O₅ ([\\d.]+), K₂O ([\\d.]+)`).exec(fills);
    expect(Number(ticket?.[2])).toBeCloseTo(analysis.p2o5, 0);
    expect(Number(ticket?.[3])).toBeCloseTo(analysis.k2o, 0);
  }
  // 60 lb P2O5 and 60 lb K2O an acre want 130.4 lb 18-46-0 and 100 lb 0-0-60: 26 % of either.
  const lean = result.fields[0]!.prescriptions.find((map) => map.pass === "strip")!.analysis;
  expect([lean.p2o5, lean.k2o].map((percent) => percent.toFixed(1))).toEqual(["26.0", "26.0"]);
});

test("fills name the field's own ratio, and only what is of the same product counts as held", () => {
  const [lean, rich] = result.fields.map((field) => fillPlan(result.plan, field).bins[0]!.product);
  expect([lean, rich].toSorted()).toEqual(["mix1", "mix2"]);
  expect(fills).toContain("What the bins hold of the same product from the field before counts");
});
