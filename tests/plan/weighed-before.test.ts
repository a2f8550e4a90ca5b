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
  expect(more.otherPounds).toHaveLength(1);
  expect(() => requireStripFinished(more)).toThrow(/that they were entered with/);
  expect(appliedField(plan, field, logs, [], entriesAt(1.03)).otherPounds).toEqual([]);
  expect(appliedField(plan, field, logs, [], entriesAt(0.97)).otherPounds).toEqual([]);
  // As much less: entered with a scale that had less than the log.
  expect(appliedField(plan, field, logs, [], entriesAt(0.9)).otherPounds).toHaveLength(1);
  expect(more.missing).toEqual([]);
  // With its tickets it is all there.
  const { loggedLb } = more.products[0]!;
  const weighed = { ...logs[0]!, tickets: { startLb: 1.08 * loggedLb, endLb: 0, tickets: [], wasteLb: 0 } };
  expect(appliedField(plan, field, [weighed], [], entriesAt(1.08)).otherPounds).toEqual([]);
});

test("two days entered with their tickets, and both logs given together without", () => {
  const field = result.fields[0]!;
  const [whole, day1] = [drivenLog(result, 0), drivenLog(result, 0, { upTo: 12 })];
  const { placedLb, coveredAc } = appliedField(plan, field, [whole]).products[0]!;
  const first = appliedField(plan, field, [day1]).products[0]!;
  const later = {
    ...whole.log,
    points: whole.log.points.filter(
      ({ time }) => Date.parse(time) > Date.parse(day1.log.points.at(-1)!.time),
    ),
  };
  const entriesAt = (times: number) => {
    let bytes = new Uint8Array();
    for (const [log, lb, areaAc] of [
      [day1.log, first.placedLb, first.coveredAc],
      [later, placedLb - first.placedLb, coveredAc - first.coveredAc],
    ] as const) {
      const event: LedgerEvent = {
        ...({ kind: "placed", fieldId: field.field.id, pass: "strip", product: "11-52-0" } as const),
        ...{ lb: times * lb, areaAc, map: "A", revision: "1", from: "log" },
        ...{ p2o5Lb: 0.52 * times * lb, k2oLb: 0, log: logDigest(log), ...spanOf(field, log) },
      };
      bytes = new Uint8Array([...bytes, ...ledgerAddition(bytes, "ledger.txt", "2027-04-14", event)]);
    }
    return readLedger(bytes, "ledger.txt").entries;
  };
  expect(appliedField(plan, field, [whole], [], entriesAt(1)).otherPounds).toEqual([]);
  for (const times of [1.1, 0.9]) {
    const other = appliedField(plan, field, [whole], [], entriesAt(times));
    expect(other.otherPounds).toHaveLength(2);
    expect(other.notices[0]!.message).toContain("the ledger has other pounds of the logs that were given");
  }
});

test("a line of the other bin is its own log's, though the rig was there in the same hours", () => {
  const field = result.fields[0]!;
  const [left, right] = [drivenLog(result, 0), drivenLog(result, 1)];
  const { placedLb, coveredAc } = appliedField(plan, field, [right]).products[0]!;
  const event: LedgerEvent = {
    ...({ kind: "placed", fieldId: field.field.id, pass: "strip", product: "0-0-60", lb: placedLb } as const),
    ...{ areaAc: coveredAc, map: "A", revision: "1", from: "log", p2o5Lb: 0, k2oLb: 0.6 * placedLb },
    ...{ log: logDigest(right.log), ...spanOf(field, right.log) },
  };
  const bytes = ledgerAddition(new Uint8Array(), "ledger.txt", "2027-04-14", event);
  const { entries } = readLedger(bytes, "ledger.txt");
  const one = appliedField(plan, field, [left], [], entries);
  expect([one.missing.length, one.otherPounds]).toEqual([1, []]);
  expect(() => requireStripFinished(one)).toThrow(/give all the field's logs together/);
  expect(appliedField(plan, field, [left, right], [], entries).missing).toEqual([]);
});

test("what is left to drive is worked out by it all the same", () => {
  const field = result.fields[0]!;
  const logs = [drivenLog(result, 0)];
  const of = (times: number) =>
    remainderMaps(plan, field, { by: "log", logs, ledger: entriesAt(times) }).remainder.areaAc;
  expect(of(1.08)).toBeCloseTo(of(1), 9);
});
