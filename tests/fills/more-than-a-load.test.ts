import fc from "fast-check";
import { expect, test } from "vitest";
import { planRefills, type RefillInput, replanRefills } from "../../src/fills/index.ts";

const passes = (count: number, lb: readonly number[]): readonly number[][] =>
  Array.from({ length: count }, () => [...lb]);
const anywhere = (count: number) => [{ id: "gate", stopMinutes: Array<number>(count - 1).fill(10) }];

/** Six passes of 1,000 and 200 lb; loads of 3,000 and 600 lb, 3,600 lb together; either bin has room for 4,000 lb. */
const six: RefillInput = {
  passLb: passes(6, [1000, 200]),
  usableLoadLb: [3000, 600],
  holdsLb: [4000, 4000],
  togetherLb: 3600,
  places: anywhere(6),
  reserveShare: 0,
  load: "last-to-need",
};

test("a bin that holds more than a load keeps it, and the other gets what the rig still carries, by hand", () => {
  const plan = planRefills({ ...six, firstLoadLb: [1800, 1800] });
  if (!plan.feasible) throw new Error(plan.message);
  // After pass 1 the second holds 1,600 and the first may have 2,000: two passes. After pass 3 1,200 and 2,400, after pass 5 1,000 are wanted.
  expect(plan.stops.map(({ afterPass, expectedLb, loadLb }) => ({ afterPass, expectedLb, loadLb }))).toEqual([
    { afterPass: 1, expectedLb: [800, 1600], loadLb: [1200, 0] },
    { afterPass: 3, expectedLb: [0, 1200], loadLb: [2400, 0] },
    { afterPass: 5, expectedLb: [400, 800], loadLb: [600, 0] },
  ]);
  expect(plan.startLb).toEqual([1800, 1800]);
  // The first: 1,800 and 4,200 loaded, 6,000 laid; the second: 1,800 less 1,200.
  expect(plan.endLb).toEqual([0, 600]);
  // Told with nothing of what the bins have room for, the second counts as 600 lb.
  const { holdsLb: _, ...without } = six;
  const counted = planRefills({ ...without, firstLoadLb: [1800, 1800] });
  expect(counted.feasible && counted.startLb).toEqual([1800, 600]);
});

test("more than a bin has room for counts as that", () => {
  const plan = planRefills({ ...six, togetherLb: 8000, firstLoadLb: [1000, 5000] });
  expect(plan.feasible && plan.startLb).toEqual([1000, 4000]);
});

test("filling first where the rig stands keeps what the bins hold", () => {
  const stand = { stoppedAfterPass: 1, binLb: [1000, 1600] };
  const here = replanRefills({ ...six, fillsFirst: true }, stand);
  if (!here.feasible) throw new Error(here.message);
  expect(here.stops[0]).toMatchObject({ afterPass: 1, expectedLb: [1000, 1600], loadLb: [1000, 0] });
});

/** What bins may have after a stop: the share of a load that brings all together to `most`, found by halving; what is in a bin stays. */
function fullest(heldLb: readonly number[], loads: readonly number[], most: number): number[] {
  const at = (share: number): number[] => loads.map((lb, b) => Math.max(heldLb[b]!, lb * share));
  const total = (lb: readonly number[]): number => lb.reduce((all, one) => all + one, 0);
  if (total(at(1)) <= most) return at(1);
  let [low, high] = [0, 1];
  for (let i = 0; i < 60; i++) {
    const middle = (low + high) / 2;
    if (total(at(middle)) <= most) low = middle;
    else high = middle;
  }
  return at(low);
}

/** Fewest stops of every set of them, driven through; null where none does. */
function fewest(input: RefillInput): number | null {
  const count = input.passLb.length;
  let best: number | null = null;
  for (let set = 0; set < 2 ** (count - 1); set++) {
    let held = [...input.firstLoadLb!];
    let stops = 0;
    let lasts = true;
    for (let k = 0; k < count && lasts; k++) {
      if (k > 0 && (set >> (k - 1)) & 1) {
        held = fullest(held, input.usableLoadLb, input.togetherLb!);
        stops++;
      }
      held = held.map((lb, b) => lb - input.passLb[k]![b]!);
      lasts = held.every((lb) => lb >= -1e-6);
    }
    if (lasts && (best === null || stops < best)) best = stops;
  }
  return best;
}

test("300 random cases: as few stops as any set of them, no load below 0, never more than the rig carries", () => {
  const cases = fc
    .record({
      bins: fc.integer({ min: 2, max: 3 }),
      count: fc.integer({ min: 2, max: 8 }),
      figures: fc.array(fc.integer({ min: 0, max: 100 }), { minLength: 40, maxLength: 40 }),
    })
    .map(({ bins, count, figures }): RefillInput => {
      const figure = (i: number): number => figures[i % 40]!;
      const loads = Array.from({ length: bins }, (_, b) => 120 + figure(b));
      const togetherLb = loads.reduce((all, one) => all + one, 0);
      const first = loads.map((lb, b) => (lb * figure(3 + b)) / 40);
      const over = Math.max(1, first.reduce((all, one) => all + one, 0) / togetherLb);
      return {
        passLb: Array.from({ length: count }, (_, k) => loads.map((_lb, b) => figure(6 + 3 * k + b))),
        usableLoadLb: loads,
        holdsLb: loads.map((lb) => 3 * lb),
        togetherLb,
        firstLoadLb: first.map((lb) => lb / over),
        places: anywhere(count),
        reserveShare: 0,
      };
    });
  fc.assert(
    fc.property(cases, fc.constantFrom("full", "to-need", "last-to-need"), (input, load) => {
      const plan = planRefills({ ...input, load });
      const expected = fewest(input);
      expect(plan.feasible).toBe(expected !== null);
      if (!plan.feasible) return;
      expect(plan.stops.length + plan.looks.length).toBe(expected);
      for (const { expectedLb, loadLb } of plan.stops) {
        expect(Math.min(...expectedLb)).toBeGreaterThan(-1e-6);
        expect(Math.min(...loadLb)).toBeGreaterThanOrEqual(0);
        const total = expectedLb.reduce((all, lb, b) => all + lb + loadLb[b]!, 0);
        expect(total).toBeLessThanOrEqual(input.togetherLb! + 1e-6);
      }
      expect(Math.min(...plan.endLb)).toBeGreaterThan(-1e-6);
    }),
    { numRuns: 300, seed: 12 },
  );
});
