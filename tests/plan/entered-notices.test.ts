import { expect, test } from "vitest";
import { type LedgerEvent, ledgerAddition, readLedger } from "../../src/ledger/index.ts";
import { enteredNotices } from "../../src/plan/index.ts";

const DAY = "2027-04-14";
const placed = (lb: number, areaAc: number, from: "log" | "typed", date = DAY) => ({
  date,
  event: {
    ...({ kind: "placed", fieldId: "home", pass: "strip", product: "11-52-0", lb, areaAc, from } as const),
    ...{ map: "", revision: "", p2o5Lb: 0.52 * lb, k2oLb: 0 },
  } satisfies LedgerEvent,
});

/** Codes that the last of such lines brings. */
function toldOfLast(...lines: readonly ReturnType<typeof placed>[]): string[] {
  let bytes = new Uint8Array();
  for (const { date, event } of lines)
    bytes = new Uint8Array([...bytes, ...ledgerAddition(bytes, "ledger.txt", date, event)]);
  const { entries } = readLedger(bytes, "ledger.txt");
  return enteredNotices(entries.slice(-1), entries).map(({ code }) => code);
}

test("about as much of a product by log and by scale on one day may be one work", () => {
  const log = placed(843, 8.8, "log");
  expect(toldOfLast(log, placed(840, 8.9, "typed"))).toEqual(["placed-alike"]);
  expect(toldOfLast(placed(840, 8.9, "typed"), log)).toEqual(["placed-alike"]);
});

test("other pounds or acres, another day, and fills or halves of one size are not", () => {
  const log = placed(843, 8.8, "log");
  expect(toldOfLast(log, placed(700, 8.8, "typed"))).toEqual([]);
  expect(toldOfLast(log, placed(840, 12, "typed"))).toEqual([]);
  expect(toldOfLast(log, placed(840, 8.9, "typed", "2027-04-15"))).toEqual([]);
  expect(toldOfLast(placed(2_220, 18.6, "typed"), placed(2_230, 18.6, "typed"))).toEqual([]);
  expect(toldOfLast(log, placed(840, 8.9, "log"))).toEqual([]);
});
