import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  acresText,
  feetText,
  lbText,
  lengthText,
  rateText,
  roundedParts,
  shownBalance,
  sumOfBalances,
  tonsText,
} from "../../src/report/index.ts";
import { numberText, signedText, UNKNOWN } from "../../src/units/index.ts";

test("numbers have commas, a true minus and no -0", () => {
  expect(numberText(22_320, 0)).toBe("22,320");
  expect(numberText(1_234_567.891, 2)).toBe("1,234,567.89");
  expect(numberText(-1_234.5, 1)).toBe("−1,234.5");
  expect(numberText(-0.04, 1)).toBe("0.0");
  expect(numberText(999.96, 1)).toBe("1,000.0");
  expect(numberText(Number.NaN, 1)).toBe(UNKNOWN);
});

test("how much more or less has its sign, nothing has none", () => {
  expect([1_200.25, -3.25, 0].map((value) => signedText(value, 1))).toEqual(["+1,200.3", "−3.3", "0.0"]);
  expect(signedText(Number.NaN, 1)).toBe(UNKNOWN);
});

test("an exact half goes away from zero on both sides", () => {
  expect([2.5, -2.5, 0.5, -0.5].map((value) => numberText(value, 0))).toEqual(["3", "−3", "1", "−1"]);
});

// 1 lb = 0.453 592 37 kg and 1 ft = 0.3048 m exactly (international yard and pound, 1959); 1 ac = 43,560 ft2.
test("metric texts follow the definitions", () => {
  expect(lbText(100_000, "metric")).toBe("45,359");
  expect(tonsText(4_000)).toBe("2.0");
  expect(tonsText(1_000_000, "metric", 2)).toBe("453.59");
  expect(acresText(1_000, "metric", 2)).toBe("404.69");
  expect(rateText(100, "metric", 1)).toBe("112.1");
  expect(lengthText(304.8)).toBe("1,000");
});

test("feet of a machine keep a half", () => {
  // 11 rows of 30 in. are 330 in., 12 to a foot.
  expect([(11 * 30) / 12, (16 * 30) / 12].map(feetText)).toEqual(["27.5", "40"]);
});

describe("roundedParts", () => {
  test("takes what is missing from the largest remainders", () => {
    expect(roundedParts([1 / 3, 1 / 3, 1 / 3], 1, 1)).toEqual([0.4, 0.3, 0.3]);
    expect(roundedParts([10.06, 20.04, 0], 1)).toEqual([10.1, 20, 0]);
  });

  test("parts add up to the rounded total, each within one step of itself", () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: 0, max: 1e5, noNaN: true }), { minLength: 1, maxLength: 40 }),
        fc.integer({ min: 0, max: 2 }),
        (parts, decimals) => {
          const shown = roundedParts(parts, decimals);
          const total = parts.reduce((all, part) => all + part, 0);
          const scale = 10 ** decimals;
          const units = shown.reduce((all, part) => all + Math.round(part * scale), 0);
          expect(Math.abs(units - total * scale)).toBeLessThanOrEqual(0.5 + 1e-6);
          shown.forEach((part, i) => {
            expect(Math.abs(part - parts[i]!) * scale).toBeLessThan(1 + 1e-6);
          });
        },
      ),
      { seed: 20_260_401, numRuns: 300 },
    );
  });
});

test("balances of one nutrient are added up, part by part, and no other's with them", () => {
  const of = (nutrient: "P2O5" | "K2O", lb: number) => ({
    nutrient,
    needLb: 10 * lb,
    stripLb: 6 * lb,
    broadcastLb: 3 * lb,
    creditsLb: 2 * lb,
    shortageLb: lb,
    excessLb: 2.5 * lb,
    roundingLb: -0.5 * lb,
  });
  expect(sumOfBalances("P2O5", [of("P2O5", 1), of("K2O", 100), of("P2O5", 3)])).toEqual(of("P2O5", 4));
});

test("a balance closes as shown, and every figure but the rounding is its own nearest pound", () => {
  const figure = fc.double({ min: 0, max: 1e6, noNaN: true });
  fc.assert(
    fc.property(figure, figure, figure, figure, fc.double({ min: -3, max: 3, noNaN: true }), (...drawn) => {
      const [stripLb, broadcastLb, shortageLb, excessLb, roundingLb] = drawn;
      const needLb = stripLb + broadcastLb + shortageLb - excessLb - roundingLb;
      const shown = shownBalance({
        nutrient: "K2O",
        needLb,
        stripLb,
        broadcastLb,
        creditsLb: 0,
        shortageLb,
        excessLb,
        roundingLb,
      });
      const { need, strip, broadcast, credits, shortage, excess, rounding } = shown;
      expect(strip + broadcast + credits + shortage - excess - rounding).toBe(need);
      expect(Math.abs(strip - stripLb)).toBeLessThanOrEqual(0.5);
      expect(Math.abs(need - needLb)).toBeLessThanOrEqual(0.5);
      expect(Math.abs(rounding - roundingLb)).toBeLessThanOrEqual(2.5 + 1e-6);
    }),
    { seed: 20_260_402, numRuns: 300 },
  );
});
