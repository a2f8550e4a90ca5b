// Work that the ledger has already, given again: its pounds count, as tickets or a meter factor made them when it was entered.
import { beforeAll, expect, test } from "vitest";
import { type LedgerEntry, type LedgerEvent, ledgerAddition, readLedger } from "../../src/ledger/index.ts";
import type { EnteredLine } from "../../src/plan/driven/applied-types.ts";
import {
  type AppliedProduct,
  appliedField,
  logDigest,
  logsAsOne,
  type Plan,
  type ProductLog,
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

test("the ledger's pounds of a log's own readings count, with other tickets nothing does", () => {
  const field = result.fields[0]!;
  const logs = [drivenLog(result, 0)];
  const alone = appliedField(plan, field, logs);
  const [{ placedLb, placedLbPerAc }] = alone.products as [AppliedProduct];
  for (const times of [1.08, 1.03, 0.9]) {
    const { products, missing, otherPounds, notices } = appliedField(plan, field, logs, [], entriesAt(times));
    const [one] = products as [AppliedProduct];
    expect(one.placedLb).toBeCloseTo(times * placedLb, 6);
    const apart = one.placedLbPerAc.map((rate, k) => Math.abs(rate - times * placedLbPerAc[k]!));
    expect(Math.max(...apart)).toBeLessThan(1e-9);
    expect([one.meterFactorFrom, missing, otherPounds]).toEqual(["ledger", [], []]);
    expect(one.meterFactor).toBeCloseTo(times, 9);
    expect(notices.find(({ code }) => code === "pounds-as-entered")!.message).toMatch(
      new RegExp(
        `^11-52-0: the ledger has .* \\(entry 1 of 2027-04-14\\) .*the log times ${times}.*--void 1`,
      ),
    );
  }
  const same = appliedField(plan, field, logs, [], entriesAt(1));
  expect(same.products[0]).toMatchObject({ placedLb, meterFactor: 1, meterFactorFrom: "none" });
  expect(same.notices.map(({ code }) => code)).not.toContain("pounds-as-entered");
  // With its tickets it is all there; with others the one or the other is wrong.
  const { loggedLb } = alone.products[0]!;
  const weighed = (times: number) => ({
    ...logs[0]!,
    tickets: { startLb: times * loggedLb, endLb: 0, tickets: [], wasteLb: 0 },
  });
  expect(appliedField(plan, field, [weighed(1.08)], [], entriesAt(1.08)).otherPounds).toEqual([]);
  for (const [scale, ledger] of [
    [1.15, 1],
    [0.9, 1],
    [1, 1.08],
  ] as const) {
    const other = appliedField(plan, field, [weighed(scale)], [], entriesAt(ledger));
    expect(other.otherPounds).toHaveLength(1);
    expect(() => requireStripFinished(other)).toThrow(
      /give them without tickets, and the ledger's pounds count/,
    );
  }
});

test("a line that stands there twice holds the catch-up back", () => {
  const field = result.fields[0]!;
  const [line] = entriesAt(1) as [LedgerEntry];
  const twice = appliedField(plan, field, [drivenLog(result, 0)], [], [line, { ...line, number: 2 }]);
  expect(twice.otherPounds).toHaveLength(1);
  expect(() => requireStripFinished(twice)).toThrow(/or it stands there twice/);
});

test("days entered with other factors keep them, day by day, also of a meter that was set in between", () => {
  const field = result.fields[0]!;
  const [whole, day1] = [drivenLog(result, 0), drivenLog(result, 0, { upTo: 12 })];
  const end = Date.parse(day1.log.points.at(-1)!.time);
  const points = whole.log.points.filter(({ time }) => Date.parse(time) > end);
  const day2 = { ...whole, log: { ...whole.log, points } };
  const [first, second] = [day1, day2].map((one) => appliedField(plan, field, [one]).products[0]!) as [
    AppliedProduct,
    AppliedProduct,
  ];
  const lineOf = (log: ProductLog["log"], of: AppliedProduct, times: number): LedgerEvent => ({
    ...({ kind: "placed", fieldId: field.field.id, pass: "strip", product: "11-52-0" } as const),
    ...{ lb: times * of.placedLb, areaAc: of.coveredAc, map: "A", revision: "1", from: "log" },
    ...{ p2o5Lb: 0.52 * times * of.placedLb, k2oLb: 0, log: logDigest(log), ...spanOf(field, log) },
  });
  const entriesOf = (...events: LedgerEvent[]): readonly LedgerEntry[] => {
    let bytes = new Uint8Array();
    for (const event of events)
      bytes = new Uint8Array([...bytes, ...ledgerAddition(bytes, "ledger.txt", "2027-04-14", event)]);
    return readLedger(bytes, "ledger.txt").entries;
  };
  const both = entriesOf(lineOf(day1.log, first, 1.15), lineOf(day2.log, second, 1));
  const [one] = appliedField(plan, field, [whole], [], both).products as [AppliedProduct];
  // Each day's own pounds lie where that day drove; only pieces that both drove on lie between.
  const alone = [...one.placedLbPerAc].flatMap((rate, k) => {
    const isShared = first.skippedShare[k]! < 1 && second.skippedShare[k]! < 1;
    return isShared ? [] : [Math.abs(rate - 1.15 * first.placedLbPerAc[k]! - second.placedLbPerAc[k]!)];
  });
  expect(alone.length).toBeGreaterThan(0.9 * one.placedLbPerAc.length);
  expect(Math.max(...alone)).toBeLessThan(0.5);
  expect(one.placedLb / (1.15 * first.placedLb + second.placedLb)).toBeCloseTo(1, 2);
  // The day that is not entered yet counts by the log and the plan's meter factor.
  const checked: Plan = { ...plan, fills: { ...plan.fills, meterFactor: 1.1 } };
  const entered = entriesOf(lineOf(day1.log, first, 1));
  const [part] = appliedField(checked, field, [whole], [], entered).products as [AppliedProduct];
  expect(part.placedLb / (first.placedLb + 1.1 * second.placedLb)).toBeCloseTo(1, 2);
  expect(part.entered).toHaveLength(1);
});

test("of files driven in the same hours each line has its own file's readings; of the rest the shortest", () => {
  const field = result.fields[0]!;
  const { log, product } = drivenLog(result, 0);
  // Every second pass by another rig, its clock as if both drove at once.
  const began = Date.parse(log.points[0]!.time);
  const rigs = [0, 1].map((rig) => {
    const own = log.points.filter(({ pass }) => pass % 2 === rig);
    const early = Date.parse(own[0]!.time) - began;
    const points = own.map((point) => ({
      ...point,
      time: new Date(Date.parse(point.time) - early).toISOString(),
    }));
    return { ...log, points };
  });
  const alone = rigs.map((own) => appliedField(plan, field, [{ product, log: own }]).products[0]!);
  const line = (rig: number, times: number): EnteredLine => {
    const { placedLb, coveredAc } = alone[rig]!;
    const lb = times * placedLb;
    return {
      ...({ number: rig + 1, date: "2027-04-14", kind: "placed", fieldId: field.field.id } as const),
      ...({ pass: "strip", product, lb, areaAc: coveredAc, map: "A", revision: "1", from: "log" } as const),
      ...{ p2o5Lb: 0.52 * lb, k2oLb: 0, log: logDigest(rigs[rig]!), ...spanOf(field, rigs[rig]!) },
    };
  };
  const both = logsAsOne(rigs);
  const placed = (lines: readonly EnteredLine[]) => {
    const { products, otherPounds, missing } = appliedField(plan, field, [{ product, log: both }], [], lines);
    expect([otherPounds, missing]).toEqual([[], []]);
    return products[0]!.placedLb;
  };
  const [one, other] = alone.map(({ placedLb }) => placedLb) as [number, number];
  expect(placed([line(0, 1.14)]) / (1.14 * one + other)).toBeCloseTo(1, 6);
  expect(placed([line(0, 1.14), line(1, 0.9)]) / (1.14 * one + 0.9 * other)).toBeCloseTo(1, 6);
});

test("a log without times keeps the pounds of its lines together", () => {
  const field = result.fields[0]!;
  const { log, product } = drivenLog(result, 0);
  const points = log.points.map((point) => ({ ...point, time: "" }));
  const half = Math.floor(points.length / 2);
  const parts = [points.slice(0, half), points.slice(half)].map((own) => ({ ...log, points: own }));
  const lines = parts.map((own, i): EnteredLine => {
    const { placedLb, coveredAc } = appliedField(plan, field, [{ product, log: own }]).products[0]!;
    const lb = 1.1 * placedLb;
    return {
      ...({ number: i + 1, date: "2027-04-14", kind: "placed", fieldId: field.field.id } as const),
      ...({ pass: "strip", product, lb, areaAc: coveredAc, map: "A", revision: "1", from: "log" } as const),
      ...{ p2o5Lb: 0.52 * lb, k2oLb: 0, log: logDigest(own), ...spanOf(field, own) },
    };
  });
  const whole = appliedField(plan, field, [{ product, log: { ...log, points } }], [], lines);
  expect(whole.products[0]!.placedLb).toBeCloseTo(lines[0]!.lb + lines[1]!.lb, 6);
  expect([whole.missing, whole.otherPounds]).toEqual([[], []]);
});

test("typed pounds of a product without a log count as the ledger has them", () => {
  const field = result.fields[0]!;
  const logs = [drivenLog(result, 0)];
  const { coveredAc } = appliedField(plan, field, logs).products[0]!;
  const lines = (acres: number): LedgerEntry[] =>
    [1_130, 1_290].map((lb, i) => ({
      ...({ number: i + 1, date: "2027-04-14", kind: "placed", fieldId: field.field.id } as const),
      ...({ pass: "strip", product: "0-0-60", lb, areaAc: acres / 2, map: "A", revision: "1" } as const),
      ...{ from: "typed", p2o5Lb: 0, k2oLb: 0.6 * lb },
    }));
  const of = (acres: number, lb?: number) =>
    appliedField(
      ...([plan, field, logs] as const),
      lb === undefined ? [] : [{ product: "0-0-60", lb, from: "typed" }],
      lines(acres),
    );
  const counted = of(coveredAc);
  expect(counted.byPounds).toMatchObject([{ product: "0-0-60", lb: 2_420, from: "ledger" }]);
  expect(counted.asPlanned).toEqual([]);
  expect(counted.catchUp.balances[1]!.stripLb).toBeCloseTo(0.6 * 2_420, 6);
  expect([counted.missing, of(coveredAc, 2_420).missing]).toEqual([[], []]);
  // Of half the ground they are a day's, and so are pounds of one day: both wait, and are told what to give.
  for (const waits of [of(coveredAc / 2), of(coveredAc, 1_290)]) {
    expect(waits.missing).toHaveLength(2);
    expect(waits.notices[0]!.message).toContain(
      "give the pounds of 0-0-60 of all its days together (--tickets), or, with the logs of all those days, none: the ledger's count then",
    );
  }
});

test("typed lines count before the log of that work, where they can be of no other", () => {
  const field = result.fields[0]!;
  const [whole, day1] = [drivenLog(result, 0), drivenLog(result, 0, { upTo: 12 })];
  const linesOf = ({ coveredAc, placedLb }: AppliedProduct): EnteredLine[] =>
    [0.4, 0.45].map((share, i) => ({
      ...({ number: i + 1, date: "2027-04-14", kind: "placed", fieldId: field.field.id } as const),
      ...({ pass: "strip", product: "11-52-0", lb: share * placedLb, areaAc: 0.49 * coveredAc } as const),
      ...({ map: "A", revision: "1", from: "typed", p2o5Lb: 0.52 * share * placedLb, k2oLb: 0 } as const),
    }));
  const [all, part] = [whole, day1].map((one) => appliedField(plan, field, [one]).products[0]!) as [
    AppliedProduct,
    AppliedProduct,
  ];
  const counted = appliedField(plan, field, [whole], [], linesOf(all));
  expect(counted.products[0]!.placedLb / all.placedLb).toBeCloseTo(0.85, 6);
  expect([counted.missing, counted.otherPounds]).toEqual([[], []]);
  // Of half of what the log covers nothing says which readings: the log counts, and it is told.
  const half = linesOf(all).slice(0, 1);
  const told = appliedField(plan, field, [whole], [], half);
  expect(told.products[0]!.placedLb).toBeCloseTo(all.placedLb, 6);
  expect(told.notices.find(({ code }) => code === "counted-by-log")?.message).toMatch(
    /^Low Forty: the ledger has entry 1 of .* enter the logs of the other days first/,
  );
  expect(counted.notices.map(({ code }) => code)).not.toContain("counted-by-log");
  // Beside a log of a part of the field they may be of the rest.
  const beside = appliedField(plan, field, [day1], [], linesOf(part));
  expect(beside.products[0]!.placedLb).toBeCloseTo(part.placedLb, 6);
  expect(beside.missing).toHaveLength(2);
  expect(beside.notices[0]!.message).toContain(
    "where a log of 11-52-0 is lost, leave its other logs out and give its pounds of all days (--tickets)",
  );
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
