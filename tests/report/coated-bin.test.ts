// A bin's product with a micronutrient on it must not pass for the plain one on any sheet that goes to cab and tender.
import { beforeAll, expect, test } from "vitest";
import { orderOfPlan, type Plan, type RunResult, run } from "../../src/plan/index.ts";
import { orderCsv } from "../../src/publish/order-csv.ts";
import { sheetFiles } from "../../src/report/index.ts";
import { seasonPlanDocument } from "../support/season-plan.ts";
import { smallFarmFiles, sourceOf } from "../support/small-farm.ts";

/** What a reader sees of a sheet. */
const sheetText = (html: string): string => html.replaceAll(/<[^>]*>/g, " ").replaceAll(/\s+/g, " ");

let sheets: (path: string) => string;
let result: RunResult;
beforeAll(async () => {
  const document = seasonPlanDocument();
  const [left, ...others] = document.rig.bins;
  // 25 lb Zn on 2,000 lb of product are 1.25 %, 3 lb B 0.15 %.
  const coated = [
    { element: "Zn", lbPerTon: 25 },
    { element: "B", lbPerTon: 3 },
  ] as const;
  const plan: Plan = { ...document, rig: { ...document.rig, bins: [{ ...left!, coated }, ...others] } };
  result = await run(plan, sourceOf(smallFarmFiles()));
  const files = sheetFiles(result);
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

test("where the order is read the pounds to be coated and those that are plain are told apart", () => {
  const lbOf = (pass: string): number =>
    result.totals.find((one) => one.product === "11-52-0" && one.pass === pass)!.lb;
  const text = (lb: number): string => Math.round(lb).toLocaleString("en-US");
  const plain = lbOf("broadcast") >= 0.5 ? ` and ${text(lbOf("broadcast"))} lb plain` : "";
  const words = `11-52-0: ${text(lbOf("strip"))} lb with Zn 1.25 %, B 0.15 % for the strip${plain} stand in one line here: tell the supplier which is to be coated`;
  const { notices } = orderOfPlan(result.plan, result.fields, { stands: result.stands });
  const told = notices.filter(({ code }) => code === "coated-in-order").map(({ message }) => message);
  expect(told).toEqual([expect.stringContaining(words)]);
  // The sheet's page and the record's.
  expect(sheets("order.html").split(words)).toHaveLength(3);
  const rows = new TextDecoder().decode(orderCsv(result)).split(/\r?\n/);
  expect(rows.find((row) => row.startsWith("11-52-0,strip,"))).toContain("coated: Zn 1.25 %");
  expect(rows.find((row) => row.startsWith("11-52-0,all,whole farm"))).toContain(words.slice(0, 30));
  expect(rows.filter((row) => row.startsWith("0-0-60")).join()).not.toContain("coated");
  // Half of the field's strip lies there by the ledger: the other half is still to place.
  const one = result.fields[0]!;
  const map = one.prescriptions.find(({ pass, product }) => pass === "strip" && product === "11-52-0")!;
  const stand = { ...result.stands[0]!, strippedAc: 1, state: "part stripped" as const };
  const lines = {
    product: "11-52-0",
    pass: "strip",
    lb: map.totalLb / 2,
    areaAc: 1,
    p2o5Lb: 0,
    k2oLb: 0,
  } as const;
  const left = orderOfPlan(result.plan, [one], { stands: [{ ...stand, placed: [lines] }] });
  expect(left.notices.find(({ code }) => code === "coated-in-order")!.message).toContain(
    `${text(map.totalLb / 2)} lb with Zn`,
  );
});
