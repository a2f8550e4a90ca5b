// Pounds typed of a field that the ledger has as part stripped: no catch-up of ground that is still to be stripped.
import { beforeAll, expect, test } from "vitest";
import { type LedgerEvent, ledgerAddition, readLedger } from "../../src/ledger/index.ts";
import { appliedField, type Plan, type RunResult, requireStripFinished, run } from "../../src/plan/index.ts";
import { seasonPlanDocument } from "../support/season-plan.ts";
import { smallFarmFiles, sourceOf } from "../support/small-farm.ts";

const plan: Plan = seasonPlanDocument();
let result: RunResult;
beforeAll(async () => {
  result = await run(plan, sourceOf(smallFarmFiles()), { files: "later" });
});

const LB = { "11-52-0": 900, "0-0-60": 500 };

/** The lines of both products on so many acres, by the pounds above. */
function entriesOn(areaAc: number) {
  let bytes = new Uint8Array();
  for (const [product, lb] of Object.entries(LB)) {
    const event: LedgerEvent = {
      ...({
        kind: "placed",
        fieldId: result.fields[0]!.field.id,
        pass: "strip",
        product,
        lb,
        areaAc,
      } as const),
      ...{ map: "", revision: "", from: "typed" },
      ...{ p2o5Lb: product === "11-52-0" ? 0.52 * lb : 0, k2oLb: product === "0-0-60" ? 0.6 * lb : 0 },
    };
    bytes = new Uint8Array([...bytes, ...ledgerAddition(bytes, "ledger.txt", "2027-04-14", event)]);
  }
  return readLedger(bytes, "ledger.txt").entries;
}

const typedOf = (times: number) =>
  Object.entries(LB).map(([product, lb]) => ({ product, lb: times * lb, from: "typed" as const }));

test("pounds that the ledger has on a part of the field hold the catch-up back", () => {
  const field = result.fields[0]!;
  const { areaAc } = field.checked;
  const part = appliedField(plan, field, [], typedOf(1), entriesOn(areaAc / 2));
  expect(part.notDrivenAc).toBeCloseTo(areaAc / 2, 1);
  expect(() => requireStripFinished(part)).toThrow(/the strip pass is not finished/);
  expect(part.notices[0]!.code).toBe("strip-not-finished");
  // The scale has 8 % more than the lines: the same work all the same.
  expect(appliedField(plan, field, [], typedOf(1.08), entriesOn(areaAc / 2)).notDrivenAc).toBeGreaterThan(0);
});

test("a bin of which the ledger has nothing yet does not let it through", () => {
  const field = result.fields[0]!;
  const [first] = entriesOn(field.checked.areaAc / 2);
  expect(appliedField(plan, field, [], typedOf(1), [first!]).notDrivenAc).toBeGreaterThan(0);
});

test("pounds of the whole field, of more than the lines have, or without any, do not", () => {
  const field = result.fields[0]!;
  const { areaAc } = field.checked;
  for (const applied of [
    appliedField(plan, field, [], typedOf(1), entriesOn(areaAc)),
    appliedField(plan, field, [], typedOf(2), entriesOn(areaAc / 2)),
    appliedField(plan, field, [], typedOf(1), []),
  ]) {
    expect(applied.notDrivenAc).toBe(0);
    expect(() => requireStripFinished(applied)).not.toThrow();
  }
});
