import { readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, it } from "vitest";
import { withTerms } from "../../app/src/state/season-edits.ts";
import { readPlan } from "../../src/plan/index.ts";
import { sample } from "./support/browser.ts";

const plan = readPlan(new Uint8Array(readFileSync(join(sample("single-field"), "plan.json"))), "plan.json");

it("stock typed for a product leaves the terms of its other suppliers", () => {
  const terms = [
    { product: "0-0-60", supplier: "river", freightUsdPerTon: 14 },
    { product: "0-0-60", supplier: "depot", freightUsdPerTon: 9 },
  ];
  const { plan: edited } = withTerms({ ...plan, order: { terms } }, "0-0-60", { onHandLb: 500 }, "on hand");
  expect(edited.order!.terms).toEqual([{ ...terms[0], onHandLb: 500 }, terms[1]]);
  const { plan: first } = withTerms({ ...plan, order: {} }, "0-0-60", { onHandLb: 500 }, "on hand");
  expect(first.order!.terms).toEqual([{ product: "0-0-60", supplier: "supplier", onHandLb: 500 }]);
});
