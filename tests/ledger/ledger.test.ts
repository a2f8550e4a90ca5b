import { describe, expect, test } from "vitest";
import {
  fieldStands,
  type LedgerEvent,
  ledgerAddition,
  type PlacedEntry,
  readLedger,
} from "../../src/ledger/index.ts";

const name = "ledger.txt";
const placed = (lb: number, areaAc: number, more: Partial<PlacedEntry> = {}): PlacedEntry => ({
  kind: "placed",
  fieldId: "A",
  pass: "strip",
  product: "11-52-0",
  lb,
  areaAc,
  map: "A-strip",
  revision: "r1",
  p2o5Lb: lb * 0.52,
  k2oLb: 0,
  from: "log",
  ...more,
});
const join = (...parts: Uint8Array[]): Uint8Array => Uint8Array.from(parts.flatMap((part) => [...part]));
function write(events: readonly LedgerEvent[], start: Uint8Array = new Uint8Array()): Uint8Array {
  return events.reduce(
    (file, event, i) => join(file, ledgerAddition(file, name, `2026-04-${10 + i}`, event)),
    start,
  );
}
const events: LedgerEvent[] = [
  { kind: "loaded", fieldId: "A", map: "A-strip", revision: "r1" },
  placed(4_000, 40),
  placed(6_100, 60),
  { kind: "finished", fieldId: "A", pass: "strip" },
  { kind: "yield", fieldId: "A", crop: "corn", buPerAc: 212 },
];
const plan = [
  { fieldId: "A", areaAc: 100, plannedStripLb: 10_000 },
  { fieldId: "B", areaAc: 50, plannedStripLb: null },
];

describe("the file", () => {
  test("a pass is finished once, until the line is taken back", () => {
    const file = write(events);
    const again: LedgerEvent = { kind: "finished", fieldId: "A", pass: "strip" };
    expect(() => ledgerAddition(file, name, "2026-05-01", again)).toThrow(
      /was finished \(strip\) on 2026-04-13/,
    );
    expect(() => ledgerAddition(file, name, "2026-05-01", { ...again, pass: "broadcast" })).not.toThrow();
    const back = write([{ kind: "void", voids: 4, why: "rain" }], file);
    expect(() => ledgerAddition(back, name, "2026-05-01", again)).not.toThrow();
  });

  test("the same readings are one work under another product's name too, as of a blend mixed anew", () => {
    const file = write([placed(4_000, 40, { product: "alpha2", log: "0123456789abcdef" })]);
    const anew = placed(3_900, 40, { product: "alpha1", log: "0123456789abcdef" });
    expect(() => ledgerAddition(file, name, "2026-05-01", anew)).toThrow(
      "3,900 lb alpha1 strip stand in the ledger already, as 4,000 lb alpha2 in entry 1",
    );
    const other = placed(3_900, 40, { product: "alpha1", log: "fedcba9876543210" });
    expect(() => ledgerAddition(file, name, "2026-05-01", other)).not.toThrow();
    expect(() => ledgerAddition(file, name, "2026-05-01", { ...anew, fieldId: "B" })).not.toThrow();
  });

  test("what is written is read back, with numbers and dates", () => {
    const { entries, notices } = readLedger(write(events), name);
    expect(notices).toEqual([]);
    expect(entries).toEqual(
      events.map((event, i) => ({ number: i + 1, date: `2026-04-${10 + i}`, ...event })),
    );
    expect(readLedger(new Uint8Array(), name).entries).toEqual([]);
  });

  test("cut off at every byte of every write: finished entries stay, the next one goes on", () => {
    const file = write(events);
    const ends = [...file.keys()].filter((i) => file[i] === 0x0a).map((i) => i + 1);
    for (let length = 0; length <= file.length; length++) {
      const cut = file.slice(0, length);
      // A line that lacks only its line break is whole.
      const whole = ends.filter((end) => end - 1 <= length).length;
      const { entries, notices } = readLedger(cut, name);
      expect(entries.length).toBe(whole);
      expect(notices.length).toBe(
        length === 0 || ends.some((end) => end === length || end - 1 === length) ? 0 : 1,
      );
      const more = join(
        cut,
        ledgerAddition(cut, name, "2026-05-01", { kind: "yield", fieldId: "B", crop: "corn", buPerAc: 1 }),
      );
      const again = readLedger(more, name);
      expect(again.entries.length).toBe(whole + 1);
      expect(again.entries.at(-1)).toMatchObject({ number: whole + 1, fieldId: "B" });
    }
  });

  test("a finished line that was changed or taken out is noticed", () => {
    const text = new TextDecoder().decode(write(events));
    const lines = text.split("\n");
    const changed = text.replace("4000", "4100");
    const removed = [lines[0], ...lines.slice(2)].join("\n");
    const refused = (bad: string) => expect(() => readLedger(new TextEncoder().encode(bad), name));
    // The line named is the one that is bad: where it was changed, where the hole is.
    refused(changed).toThrow("ledger.txt, line 2: it does not read as it was written");
    refused(removed).toThrow("ledger.txt, line 2: entry 3 follows entry 1");
    refused(text.replace("A-strip", "B-strip")).toThrow("ledger.txt, line 1: it does not read");
    // The last line too, and one that lost its end: its number is not the next.
    refused(text.replace("212", "213")).toThrow("ledger.txt, line 5: it does not read as it was written");
    const shortened = [lines[0], lines[1]!.slice(0, -9), ...lines.slice(2)].join("\n");
    refused(shortened).toThrow(
      "ledger.txt, line 2: it does not read as it was written, and in line 3 entry 3 follows entry 1",
    );
    refused([lines[0], ...lines.slice(1, 5).map((line) => line.slice(0, -9))].join("\n")).toThrow(
      "ledger.txt, line 2: it does not read as it was written",
    );
  });

  test("nothing of a file that is no ledger is taken for a line that was cut off", () => {
    const text = new TextDecoder().decode(write(events));
    const refused = (bytes: Uint8Array) => expect(() => readLedger(bytes, name));
    refused(new Uint8Array(Buffer.from(text, "utf16le"))).toThrow("ledger.txt, line 1");
    refused(new TextEncoder().encode("wren: 4000 lb")).toThrow("ledger.txt, line 1");
  });

  test.each(["\r\n", "\r"])("line ends that became %j change nothing; the next line goes on", (end) => {
    const crlf = new TextEncoder().encode(new TextDecoder().decode(write(events)).replaceAll("\n", end));
    expect(readLedger(crlf, name)).toEqual(readLedger(write(events), name));
    for (let cut = 0; cut <= end.length; cut++) {
      const file = crlf.slice(0, crlf.length - cut);
      const yields: LedgerEvent = { kind: "yield", fieldId: "B", crop: "corn", buPerAc: 1 };
      const more = readLedger(join(file, ledgerAddition(file, name, "2026-05-01", yields)), name);
      expect(more.notices).toEqual([]);
      expect(more.entries.map(({ number }) => number)).toEqual([1, 2, 3, 4, 5, 6]);
    }
  });
});

describe("where fields stand", () => {
  const stands = (list: readonly LedgerEvent[]) => fieldStands(readLedger(write(list), name).entries, plan);
  test.each([
    ["waiting", 0],
    ["on stick", 1],
    ["part stripped", 2],
    ["stripped", 3],
    ["stripped", 4],
  ] as const)("%s after %d events", (state, count) => {
    expect(stands(events.slice(0, count))[0]!.state).toBe(state);
  });
  test("short: finished with less than 95 % of the pounds; frozen", () => {
    const [a, b] = stands([placed(9_000, 100), { kind: "finished", fieldId: "A", pass: "strip" }]);
    expect(a).toMatchObject({ state: "short", frozen: true, p2o5Lb: 4_680, strippedAc: 100 });
    expect(b).toMatchObject({ state: "waiting", frozen: false, lastDate: null });
  });
  test("a finished field takes no more work until the line is taken back", () => {
    const file = write(events);
    expect(() => ledgerAddition(file, name, "2026-05-01", placed(1, 1))).toThrow("entry 4");
    const open = write([{ kind: "void", voids: 4, why: "two passes were left" }], file);
    expect(() => ledgerAddition(open, name, "2026-05-01", placed(1, 1))).not.toThrow();
    expect(() => ledgerAddition(open, name, "2026-05-01", { kind: "void", voids: 4, why: "" })).toThrow(
      "entry 4 was taken back already",
    );
    expect(() => ledgerAddition(file, name, "2026-05-01", { kind: "void", voids: 99, why: "" })).toThrow(
      "entry 99",
    );
  });
  test("two products of one pass cover the same acres", () => {
    const have = stands([
      placed(5_000, 50),
      placed(3_000, 50, { product: "0-0-60", p2o5Lb: 0, k2oLb: 1_800 }),
    ])[0]!;
    expect([have.strippedAc, have.k2oLb, have.placed.length]).toEqual([50, 1_800, 2]);
  });
  test("not stripped while a bin's product has nothing; acres end at the field's", () => {
    const known = plan.map((one) => ({ ...one, stripProducts: ["11-52-0", "0-0-60"] }));
    const of = (list: readonly LedgerEvent[]) =>
      fieldStands(readLedger(write(list), name).entries, known)[0]!;
    const one = of([placed(90_000, 900)]);
    expect(one).toMatchObject({ state: "part stripped", strippedAc: 100, missing: ["0-0-60"] });
    expect(one.placed[0]!.areaAc).toBe(900);
    const both = [placed(5_000, 99), placed(3_000, 99, { product: "0-0-60" })];
    expect(of(both)).toMatchObject({ state: "stripped", missing: [] });
    expect(of([])).toMatchObject({ state: "waiting", missing: [] });
  });
  test("a product that no map has lies in place of those that bring the same nutrient, on acres of its own", () => {
    const known = [{ fieldId: "A", areaAc: 100, plannedStripLb: null, stripProducts: ["11-52-0", "0-0-60"] }];
    const of = (list: readonly LedgerEvent[]) =>
      fieldStands(readLedger(write(list), name).entries, known)[0]!.strippedAc;
    const potash = (areaAc: number, product = "0-0-60") =>
      placed(2_000, areaAc, { product, p2o5Lb: 0, k2oLb: 1_200 });
    const instead = placed(3_000, 34, { product: "18-46-0" });
    // 44 ac with 11-52-0 and then 34 with 18-46-0 are 78, whatever of them the other bin has.
    expect([of([placed(5_000, 44), instead]), of([placed(5_000, 44), instead, potash(44)])]).toEqual([
      78, 78,
    ]);
    // Both bins changed: potash of another grade on the same 34 ac adds to the potash, not to the phosphate.
    expect(of([placed(5_000, 44), potash(44), instead, potash(34, "0-0-62")])).toBe(78);
    expect(of([instead, potash(34, "0-0-62")])).toBe(34);
  });
});

describe("the same pounds twice", () => {
  const file = (event: LedgerEvent) => ledgerAddition(new Uint8Array(), name, "2026-04-12", event);
  const then = (before: Uint8Array, date: string, event: LedgerEvent, again = false) =>
    ledgerAddition(before, name, date, event, again);
  test("a log's readings count once, whatever the day and the factor; other readings are others", () => {
    const log = file(placed(6_741.7, 65.6, { log: "aa" }));
    expect(() => then(log, "2026-04-14", placed(6_900, 65.6, { log: "aa", from: "tickets" }))).toThrow(
      /entry 1 of 2026-04-12; they would count twice/,
    );
    expect(() => then(log, "2026-04-12", placed(7_000, 65.6, { log: "bb" }))).not.toThrow();
    expect(() => then(log, "2026-04-14", placed(6_741.7, 65.6, { log: "aa", fieldId: "B" }))).not.toThrow();
    expect(() => then(log, "2026-04-14", placed(6_741.7, 65.6, { log: "aa" }), true)).not.toThrow();
    const back = join(log, then(log, "2026-04-13", { kind: "void", voids: 1, why: "other field" }));
    expect(() => then(back, "2026-04-14", placed(6_741.7, 65.6, { log: "aa" }))).not.toThrow();
  });
  // The rounding of rates to tenths and of 1.12085 kg/ha a lb/ac leaves far under 1 % (computed in applied-logs.test.ts).
  test("a log in another unit or form is the same work: by its hours, its places, or pounds and acres within 1 %", () => {
    const span: NonNullable<PlacedEntry["span"]> = {
      readings: 3_742,
      first: [-84.41826, 40.893377],
      last: [-84.414127, 40.89251],
      began: "2027-04-13T08:00:20",
      ended: "2027-04-13T10:13:44",
    };
    const log = file(placed(5_977.7, 65.7, { log: "aa", span }));
    const next = (lb: number, more: Partial<typeof span>) => () =>
      then(log, "2026-04-14", placed(lb, 65.7, { log: "bb", span: { ...span, ...more } }));
    expect(next(5_980.2, {})).toThrow(/stand in the ledger already, as 5,978 lb in entry 1 of 2026-04-12;/);
    // All the field's days, the first of which is entered.
    expect(next(13_026, { readings: 8_520, ended: "2027-04-15T11:05:00" })).toThrow(
      /13,026 lb .* hold work that stands in the ledger already, 5,978 lb in entry 1 of 2026-04-12; it would count twice/,
    );
    // The clock of another zone, and places to other digits.
    const utc: Partial<typeof span> = {
      began: "2027-04-13T13:00:20Z",
      ended: "2027-04-13T15:13:44Z",
      first: [-84.418261, 40.893378],
    };
    expect(next(5_980.2, utc)).toThrow(/would count twice/);
    const without = { ...span, began: "", ended: "" };
    expect(next(5_980.2, without)).toThrow(/would count twice/);
    // The same pounds on another day, and another place without times.
    const day = { began: "2027-04-15T08:00:20", ended: "2027-04-15T10:13:44" };
    expect(next(5_977.7, { ...day, readings: 3_740 })).not.toThrow();
    expect(next(5_977.7, { ...day, last: [-84.414127, 40.89253] })).not.toThrow();
    // The very same readings by a clock that was set anew.
    expect(next(5_977.7, day)).toThrow(/would count twice/);
    const elsewhere = { first: [-84.42, 40.893377], last: [-84.42, 40.89251] } as const;
    expect(next(5_977.7, { ...without, ...elsewhere })).not.toThrow();
    // All the field's days without times begin where the first did; the last day alone ends where they did. 1e-5° is 1.1 m.
    const days = { ...without, readings: 8_520, last: elsewhere.last };
    expect(next(13_026, days)).toThrow(
      /hold work that stands in the ledger already, 5,978 lb in entry 1 of 2026-04-12; it would count twice/,
    );
    expect(next(13_026, { ...days, first: [-84.41826, 40.893387] })).not.toThrow();
    expect(next(2_000, { ...without, readings: 900, first: elsewhere.first })).toThrow(/would count twice/);
    const noTimes: PlacedEntry["span"] = { readings: 900, first: span.first, last: elsewhere.last };
    const timed = placed(5_977.7, 65.7, { log: "bb", span });
    expect(() => then(file(placed(1_500, 20, { log: "aa", span: noTimes })), "2026-04-14", timed)).toThrow(
      /hold work that stands in the ledger already/,
    );
    // A line of an earlier version keeps no hours.
    const old = file(placed(5_977.7, 65.7, { log: "aa" }));
    const later = placed(5_980.2, 65.69, { log: "bb", span });
    expect(() => then(old, "2026-04-14", later)).toThrow(/would count twice/);
    expect(() => then(old, "2026-04-14", { ...later, lb: 7_049 })).not.toThrow();
  });
  // Three days, A, B and C, of 2,388, 2,431 and 1,875 lb: leaving the file of B and C out would lose C.
  test("a log that reaches beyond the entered one, with fewer pounds, is not to be left out whole", () => {
    const ab = { readings: 4_516, first: [-93.300379, 41.773618], last: [-93.296766, 41.771148] } as const;
    const bc = { readings: 4_172, first: [-93.301541, 41.772301], last: [-93.301551, 41.770078] } as const;
    const inBox = { box: [-93.301551, 41.770078, -93.296766, 41.773618] } as const;
    const entered = { began: "2027-04-15 09:00:00", ended: "2027-04-17 07:07:35" };
    const next = { began: "2027-04-16 08:30:00", ended: "2027-04-17 08:37:16" };
    const file1 = file(placed(4_819, 27.9, { log: "aa", span: { ...ab, ...inBox, ...entered } }));
    const enter = (lb: number, span: NonNullable<PlacedEntry["span"]>) => () =>
      then(file1, "2027-04-17", placed(lb, 25, { log: "bb", span }));
    expect(enter(4_236, { ...bc, ...inBox, ...next })).toThrow(
      expect.objectContaining({
        message: expect.stringMatching(
          /4,236 lb .* hold work that stands in the ledger already, 4,819 lb in/,
        ),
        remedy: expect.stringMatching(/^Give what is not in it alone, or take the entry back first/),
      }),
    );
    // Day B alone is all in it.
    expect(enter(2_431, { ...bc, ...inBox, began: next.began, ended: entered.ended })).toThrow(
      expect.objectContaining({ remedy: expect.stringMatching(/^Leave them out; .*second rig/) }),
    );
  });
  test("two rigs at once on ground apart are two; without boxes the words name them", () => {
    // 0.0000824 degrees of latitude, a pass of 30 ft, between the north and the south half.
    const north = { box: [-93.301551, 41.771889, -93.296766, 41.773618] } as const;
    const south = { box: [-93.301551, 41.770078, -93.296766, 41.771807] } as const;
    const one = {
      readings: 3_205,
      first: [-93.300379, 41.773618],
      last: [-93.301551, 41.771889],
      began: "2027-04-15T09:00:00",
      ended: "2027-04-15T10:02:09",
    } as const;
    const two = {
      readings: 3_278,
      first: [-93.296777, 41.770078],
      last: [-93.296766, 41.771807],
      began: "2027-04-15T09:05:25",
      ended: "2027-04-15T10:08:47",
    } as const;
    const enter = (a: object, b: object) => () =>
      then(
        file(placed(3_414, 19.2, { log: "aa", span: { ...one, ...a } })),
        "2027-04-15",
        placed(3_267, 19.4, { log: "bb", span: { ...two, ...b } }),
      );
    expect(enter(north, south)).not.toThrow();
    expect(enter(north, north)).toThrow(/hold work that stands/);
    expect(enter({}, south)).toThrow(
      expect.objectContaining({
        remedy: expect.stringContaining("a second rig was there in the same hours"),
      }),
    );
  });
  test("a log without times that begins where another does is part of it only with fewer readings on its ground", () => {
    const day = { readings: 3_324, first: [-93.300379, 41.773618], last: [-93.296766, 41.771807] } as const;
    const north = { box: [-93.301551, 41.771807, -93.296766, 41.773618] } as const;
    const enter = (span: NonNullable<PlacedEntry["span"]>) => () =>
      then(
        file(placed(3_576, 19.8, { log: "aa", span: { ...day, ...north } })),
        "2027-04-16",
        placed(320, 1.8, { log: "bb", span }),
      );
    const passes = { readings: 298, first: [-93.296777, 41.771889], last: day.last } as const;
    const within = { box: [-93.301551, 41.771807, -93.296766, 41.771889] } as const;
    expect(enter({ ...passes, ...within })).toThrow(
      expect.objectContaining({ remedy: expect.stringMatching(/^Leave them out; .*driven once more/) }),
    );
    // As many readings and another end: neither holds the other. Beyond its ground: no part of it.
    expect(enter({ ...passes, readings: 3_324 })).not.toThrow();
    expect(enter({ ...passes, box: [-93.301551, 41.770078, -93.296766, 41.771807] })).not.toThrow();
  });
  test("typed pounds count once a day; lines without readings of a log by pounds and acres", () => {
    const typed = placed(4_000, 30, { from: "typed" });
    expect(() => then(file(typed), "2026-04-12", { ...typed, areaAc: 31 })).toThrow(/they would count twice/);
    expect(() => then(file(typed), "2026-04-13", typed)).not.toThrow();
    expect(() => then(file(typed), "2026-04-12", { ...typed, lb: 4_001 })).not.toThrow();
    expect(() => then(file(typed), "2026-04-12", { ...typed, product: "0-0-60" })).not.toThrow();
    const old = placed(6_741.7, 65.6);
    expect(() => then(file(old), "2026-05-01", { ...old, log: "aa" })).toThrow(/stand in the ledger already/);
  });
});
