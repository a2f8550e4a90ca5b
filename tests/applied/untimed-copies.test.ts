import { describe, expect, test } from "vitest";
import { cleanLog, type LogPoint } from "../../src/applied/index.ts";

/** Five passes of 20 readings 3 m apart, 9 m from pass to pass, with rates that change as a meter's do. */
const reading = (k: number, seconds: number | null = null): LogPoint => {
  const [pass, n] = [Math.floor(k / 20), k % 20];
  return {
    record: k + 1,
    at: [9 * pass, 3 * (pass % 2 === 0 ? n : 19 - n)],
    seconds,
    appliedLbPerAc: 100 + (k % 7),
    widthM: 9,
    pass,
  };
};
const days = Array.from({ length: 100 }, (_, k) => reading(k));
/** A file after another, as they are given together: its passes are counted on. */
const together = (log: readonly LogPoint[], more: readonly LogPoint[]): LogPoint[] => [
  ...log,
  ...more.map((one) => ({ ...one, pass: one.pass + log.at(-1)!.pass + 1 })),
];
const told = (log: readonly LogPoint[]) => {
  const { points, notices } = cleanLog(log);
  return [points.length, ...notices.map(({ message }) => message)];
};

describe("a log without times that holds readings of another once more", () => {
  test("a day's file and the display's of all days count once, whichever comes first, and three times over", () => {
    const first = days.slice(0, 50);
    expect(told(together(first, days))).toEqual([100, "50 of 150 readings left out: the log has them twice"]);
    expect(told(together(days, first))).toEqual([100, "50 of 150 readings left out: the log has them twice"]);
    expect(told(together(days, days.slice(50)))[0]).toBe(100);
    expect(told(together(together(first, days), days))[0]).toBe(100);
    // The ways too: 5 passes of 19; where the files meet in the middle of the third pass one way is open.
    expect(cleanLog(together(days, first)).pieces.length).toBe(95);
    expect(cleanLog(together(first, days)).pieces.length).toBe(94);
  });
  test("the one file with times and the other without", () => {
    const timed = days.map((one, k) => ({ ...one, seconds: 2 * k }));
    expect(told(together(timed, days))[0]).toBe(100);
    expect(told(together(days.slice(0, 50), timed))[0]).toBe(100);
  });
  test("the one in lb/ac and the other in whole kg/ha", () => {
    // 1 kg/ha = 0.892179 lb/ac, from the definitions of pound and acre.
    const inKgHa = days.map((one) => ({
      ...one,
      appliedLbPerAc: 0.892179 * Math.round(one.appliedLbPerAc / 0.892179),
    }));
    expect(inKgHa.some((one, k) => Math.abs(one.appliedLbPerAc - days[k]!.appliedLbPerAc) > 0.3)).toBe(true);
    expect(told(together(inKgHa.slice(0, 50), days))).toEqual([
      100,
      "50 of 150 readings left out: the log has them twice",
    ]);
  });
  test("a second pass and a rig that stands still are none of it", () => {
    // The same ground once more at rates that no rounding explains, and 1 m along the way.
    const rates = days.map((one) => ({ ...one, appliedLbPerAc: one.appliedLbPerAc + 0.6 }));
    expect(told(together(days, rates))).toEqual([200]);
    const along = days.map((one) => ({ ...one, at: [one.at[0], one.at[1] + 1] as const }));
    expect(told(together(days, along))).toEqual([200]);
    // By places of whole metres and a flat rate every third reading meets one of before, no two in a row.
    const flat = (at: number) =>
      Array.from({ length: 100 }, (_, k) => ({
        ...reading(k),
        at: [0, at + 3 * k] as const,
        appliedLbPerAc: 100,
      }));
    const uneven = flat(0).map((one, k) => ({ ...one, at: [0, 3 * k + (k % 3)] as const }));
    expect(told(together(flat(0), uneven))[0]).toBe(200);
    // 60 readings in one place amid a pass: the rig stood still.
    const still = [
      ...days.slice(0, 10),
      ...Array.from({ length: 60 }, () => reading(10)),
      ...days.slice(11, 20),
    ];
    expect(told(still)).toEqual([20, "59 of 79 readings left out: rig stood still"]);
  });
});
