// A log that was entered with tickets, and is given again without them: the ledger has more of these very readings.
import { beforeAll, expect, test } from "vitest";
import { type LedgerEvent, ledgerAddition, readLedger } from "../../src/ledger/index.ts";
import {
  appliedField,
  logDigest,
  type Plan,
  type RunResult,
  remainderMaps,
  requireStripFinished,
  run,
  spanOf,
} from "../../src/plan/index.ts";
import { drivenLog } from "../support/driven-log.ts";
import { seasonPlanDocument } from "../support/season-plan.ts";
import { smallFarmFiles, sourceOf } from "../support/small-farm.ts";

const plan: Plan = seasonPlanDocument();
let result: RunResult;
beforeAll(async () => {
  result = await run(plan, sourceOf(smallFarmFiles()), { files: "later" });
});

/** The ledger with the log's line at so many times its pounds. */
function entriesAt(times: number) {
  const field = result.fields[0]!;
  const { log } = drivenLog(result, 0);
  const { placedLb, coveredAc } = appliedField(plan, field, [drivenLog(result, 0)]).products[0]!;
  const lb = times * placedLb;
  const event: LedgerEvent = {
    ...({ kind: "placed", fieldId: field.field.id, pass: "strip", product: "11-52-0", lb } as const),
    ...{ areaAc: coveredAc, map: "A", revision: "1", from: "log", p2o5Lb: 0.52 * lb, k2oLb: 0 },
    ...{ log: logDigest(log), ...spanOf(field, log) },
  };
  return readLedger(ledgerAddition(new Uint8Array(), "ledger.txt", "2027-04-14", event), "ledger.txt")
    .entries;
}

test("8 % more than the log shows holds the catch-up back; 3 % does not", () => {
  const field = result.fields[0]!;
  const logs = [drivenLog(result, 0)];
  const more = appliedField(plan, field, logs, [], entriesAt(1.08));
  expect(more.missing).toHaveLength(1);
  expect(() => requireStripFinished(more)).toThrow(/with the tickets that they were entered with/);
  expect(appliedField(plan, field, logs, [], entriesAt(1.03)).missing).toEqual([]);
  // With its tickets it is all there.
  const { loggedLb } = more.products[0]!;
  const weighed = { ...logs[0]!, tickets: { startLb: 1.08 * loggedLb, endLb: 0, tickets: [], wasteLb: 0 } };
  expect(appliedField(plan, field, [weighed], [], entriesAt(1.08)).missing).toEqual([]);
});

test("what is left to drive is worked out by it all the same", () => {
  const field = result.fields[0]!;
  const logs = [drivenLog(result, 0)];
  const of = (times: number) =>
    remainderMaps(plan, field, { by: "log", logs, ledger: entriesAt(times) }).remainder.areaAc;
  expect(of(1.08)).toBeCloseTo(of(1), 9);
});
