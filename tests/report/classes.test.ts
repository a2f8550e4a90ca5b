import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { areaByClass, classesFrom, classLimits, classOf, ramps } from "../../src/report/index.ts";

const even = (count: number) => new Float64Array(count).fill(1);

describe("classLimits", () => {
  test("equal sensible steps", () => {
    expect(classLimits(Float64Array.of(0, 12, 25, 34), even(4))).toEqual([5, 10, 15, 20, 25, 30]);
    expect(classLimits(Float64Array.of(0.1, 0.35), even(2))).toEqual([0.12, 0.16, 0.2, 0.24, 0.28, 0.32]);
    expect(classLimits(Float64Array.of(7, 7, Number.NaN), even(3))).toEqual([]);
  });

  test("values without weight count nothing", () => {
    expect(classLimits(Float64Array.of(10, 20, 9_000), Float64Array.of(1, 1, 0))).toEqual([
      12, 14, 16, 18, 20,
    ]);
  });

  test("goes through a critical level", () => {
    const values = Float64Array.from({ length: 138 }, (_, i) => 70 + i);
    expect(classLimits(values, even(138), { through: 120 })).toContain(120);
  });

  test("rates that come in steps get no finer classes", () => {
    expect(classLimits(Float64Array.of(140, 145, 150, 155), even(4))).toEqual([
      142.5, 145, 147.5, 150, 152.5, 155,
    ]);
    expect(classLimits(Float64Array.of(140, 145, 150, 155), even(4), { shortest: 5 })).toEqual([
      145, 150, 155,
    ]);
  });

  test("small classes at the ends are joined rather than the steps made longer", () => {
    const values = Float64Array.from({ length: 202 }, (_, i) =>
      i === 0 ? 9.9 : i === 201 ? 46 : 15 + i / 10,
    );
    const limits = classLimits(values, even(202));
    expect(limits).toEqual([15, 20, 25, 30, 35, 40]);
  });

  test("7 classes at most, limits rising and inside the values, areas kept", () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: -1e4, max: 1e4, noNaN: true }), { minLength: 1, maxLength: 60 }),
        fc.option(fc.double({ min: 1, max: 300, noNaN: true }), { nil: undefined }),
        (list, through) => {
          const values = Float64Array.from(list);
          const areas = Float64Array.from(list, (_, i) => 1 + (i % 3));
          const limits = classLimits(values, areas, { through });
          expect(limits.length).toBeLessThanOrEqual(6);
          expect(limits).toEqual(limits.toSorted((a, b) => a - b));
          for (const limit of limits) {
            expect(limit).toBeGreaterThan(Math.min(...list));
            expect(limit).toBeLessThanOrEqual(Math.max(...list) + 1e-6);
          }
          const total = areas.reduce((all, area) => all + area, 0);
          expect(areaByClass(limits, values, areas).reduce((all, area) => all + area, 0)).toBeCloseTo(
            total,
            6,
          );
        },
      ),
      { seed: 20_260_403, numRuns: 300 },
    );
  });
});

test("a value on a limit is in the class above", () => {
  expect([9.999, 10, 19, 20].map((value) => classOf([10, 20], value))).toEqual([0, 1, 1, 2]);
});

test("labels name whole limits, decimals where the limits have them, and nothing as none", () => {
  expect(classesFrom("soil", [10, 15, 20]).labels).toEqual(["under 10", "10–14", "15–19", "20 and over"]);
  expect(classesFrom("soil", [7.5, 10]).labels).toEqual(["under 7.5", "7.5–9.9", "10.0 and over"]);
  // 195, 200 and 205 lb/ac in kg/ha: what tells them apart, not four decimals of the conversion.
  const perAc = [195, 200, 205].map((lb) => (lb * 0.45359237) / 0.40468564224);
  expect(classesFrom("soil", perAc).labels).toEqual([
    "under 218.6",
    "218.6–224.1",
    "224.2–229.7",
    "229.8 and over",
  ]);
  expect(classesFrom("soil", [0.25, 40]).labels[0]).toBe("under 0.25");
  const withNone = classesFrom("rate", [1e-9, 50]);
  expect(withNone.labels).toEqual(["none", "under 50", "50 and over"]);
  expect(withNone.steps).toEqual([-1, 0, 6]);
});

test("more is darker: the lightness of the ramps falls step by step, on both arms of the difference", () => {
  for (const ramp of [ramps.soil, ramps.rate]) expectFalling(ramp.map(lightness));
  const diff = ramps.diff.map(lightness);
  expectFalling(diff.slice(0, 4).toReversed());
  expectFalling(diff.slice(3));
});

function expectFalling(values: readonly number[]): void {
  values.slice(1).forEach((value, i) => {
    expect(values[i]! - value).toBeGreaterThan(9);
  });
}

/** L* of CIE 1976 from sRGB (IEC 61966-2-1; formulae from memory). */
function lightness(hex: string): number {
  const [red, green, blue] = [1, 3, 5].map((at) => {
    const value = Number.parseInt(hex.slice(at, at + 2), 16) / 255;
    return value <= 0.040_45 ? value / 12.92 : ((value + 0.055) / 1.055) ** 2.4;
  }) as [number, number, number];
  const y = 0.2126 * red + 0.7152 * green + 0.0722 * blue;
  return y > 216 / 24_389 ? 116 * Math.cbrt(y) - 16 : (y * 24_389) / 27;
}
