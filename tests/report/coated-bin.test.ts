// A bin's product with a micronutrient on it must not pass for the plain one on any sheet that goes to cab and tender.
import { beforeAll, expect, test } from "vitest";
import { type Plan, run } from "../../src/plan/index.ts";
import { sheetFiles } from "../../src/report/index.ts";
import { seasonPlanDocument } from "../support/season-plan.ts";
import { smallFarmFiles, sourceOf } from "../support/small-farm.ts";

/** What a reader sees of a sheet. */
const sheetText = (html: string): string => html.replaceAll(/<[^>]*>/g, " ").replaceAll(/\s+/g, " ");

let sheets: (path: string) => string;
beforeAll(async () => {
  const document = seasonPlanDocument();
  const [left, ...others] = document.rig.bins;
  // 25 lb Zn on 2,000 lb of product are 1.25 %, 3 lb B 0.15 %.
  const coated = [
    { element: "Zn", lbPerTon: 25 },
    { element: "B", lbPerTon: 3 },
  ] as const;
  const plan: Plan = { ...document, rig: { ...document.rig, bins: [{ ...left!, coated }, ...others] } };
  const files = sheetFiles(await run(plan, sourceOf(smallFarmFiles())));
  sheets = (path) => sheetText(files.get(path)!);
});

test("the cab sheet and the catch-test sheet have the coat in what the ticket must read, of the bin that has one alone", () => {
  for (const path of ["cab.html", "fills.html"]) {
    expect(sheets(path)).toContain("N 11, P₂O₅ 52, K₂O 0, coat: Zn 1.25, coat: B 0.15");
    expect(sheets(path)).not.toMatch(/K₂O 60, coat/);
  }
});

test("first loads, in the cab and on the fill sheet, and the tender sheet name the product with its coat", () => {
  expect(sheets("cab.html")).toContain("Left, 11-52-0 with Zn and B");
  expect(sheets("fills.html")).toContain("Left, 11-52-0 with Zn and B");
  expect(sheets("fills.html")).toMatch(/h:min from the start 11-52-0 with Zn and B, lb 0-0-60, lb/);
});
