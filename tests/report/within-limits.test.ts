import { beforeAll, expect, test } from "vitest";
import type { FieldResult, RunResult } from "../../src/plan/index.ts";
import { splitLines } from "../../src/report/index.ts";
import { runSample } from "./run-sample.ts";

/** A cap that never binds, a maximum that does, and money for half of what is wanted. */
let result: RunResult;
let field: FieldResult;

beforeAll(async () => {
  result = await runSample("single-field", [], (plan) => ({
    ...plan,
    split: { ...plan.split, method: "ceiling", capLbPerAc: 5_000 },
    pricesUsdPerTon: { "11-52-0": 700, "0-0-60": 500 },
    budget: { usd: 4_000 },
    fields: plan.fields.map((one) => ({ ...one, nutrients: { P2O5: { maxLbPerAc: 60 } } })),
  }));
  field = result.fields[0]!;
});

test("where limits cut and the cap does not, only that of the cap is said", () => {
  for (const { needLb, shortageLb } of field.balances) expect(shortageLb).toBeGreaterThan(0.1 * needLb);
  const [{ text } = { text: "" }] = splitLines(result.plan, field.split);
  expect(text).toMatch(/^one ceiling on the strip, at most 5,000 lb\/ac, .*; the cap cuts nothing\.$/);
});
