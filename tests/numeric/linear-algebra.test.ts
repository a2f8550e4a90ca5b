import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  besselKScaled,
  factorInPlace,
  GAUSS_LEGENDRE_4,
  gamma,
  inverseFromLower,
  invertLower,
  logDeterminant,
  solveLowerInPlace,
  solveUpperInPlace,
} from "../../src/numeric/index.ts";

/** B B' + I for random B: symmetric and positive definite. */
const positiveDefinite = fc.integer({ min: 1, max: 14 }).chain((n) =>
  fc.array(fc.double({ min: -2, max: 2, noNaN: true }), { minLength: n * n, maxLength: n * n }).map((b) => {
    const a = new Float64Array(n * n);
    for (let i = 0; i < n; i++) {
      for (let j = 0; j < n; j++) {
        let s = i === j ? 1 : 0;
        for (let k = 0; k < n; k++) s += b[i * n + k]! * b[j * n + k]!;
        a[i * n + j] = s;
      }
    }
    return { a, n };
  }),
);

describe("cholesky", () => {
  it("factor, solve, invert and determinant agree with the matrix they came from", () => {
    fc.assert(
      fc.property(positiveDefinite, ({ a, n }) => {
        const factor = a.slice();
        expect(factorInPlace(factor, n)).toBe(true);
        const inverse = inverseFromLower(invertLower(factor, n), n);
        for (let i = 0; i < n; i++) {
          for (let j = 0; j < n; j++) {
            let product = 0;
            for (let k = 0; k < n; k++) product += a[i * n + k]! * inverse[k * n + j]!;
            expect(product).toBeCloseTo(i === j ? 1 : 0, 9);
          }
        }
        const solved = Float64Array.from({ length: n }, (_, i) => i - 2);
        solveLowerInPlace(factor, n, solved);
        solveUpperInPlace(factor, n, solved);
        for (let i = 0; i < n; i++) {
          let found = 0;
          for (let k = 0; k < n; k++) found += a[i * n + k]! * solved[k]!;
          expect(found).toBeCloseTo(i - 2, 9);
        }
      }),
      { seed: 7, numRuns: 80 },
    );
  });

  it("ln det of a matrix worked by hand, and a refusal", () => {
    const matrix = Float64Array.of(4, 0, 2, 5); // det 4 * 5 - 2 * 2 = 16
    expect(factorInPlace(matrix, 2)).toBe(true);
    expect(logDeterminant(matrix, 2)).toBeCloseTo(Math.log(16), 14);
    expect(factorInPlace(Float64Array.of(1, 2, 2, 1), 2)).toBe(false);
    expect(factorInPlace(Float64Array.of(1, 1, 1, 1), 2)).toBe(false);
    expect(factorInPlace(Float64Array.of(Number.NaN), 1)).toBe(false);
  });
});

const BESSEL: [order: number, x: number, value: number][] = [
  [0, 1, 1.1444630798068949],
  [1, 1, 1.6361534862632581],
  [1.3, 0.01, 444.26050262317415],
  [2.7, 5, 1.0576290903743482],
  [0.3, 60, 0.16158833238417877],
  [4, 700, 0.047906366592880466],
  [0.8, 1e-6, 63948.905264994508],
];
const GAMMA: [x: number, value: number][] = [
  [0.1, 9.5135076986687306],
  [1.3, 0.89747069630627718],
  [3.7, 4.170651783796604],
  [20, 1.21645100408832e17],
];

describe("special functions", () => {
  // R 4.2.2, besselK(x, nu, expon.scaled = TRUE) and gamma(x).
  it.each(BESSEL)("besselKScaled of order %d at %d", (order, x, expected) => {
    expect(besselKScaled(order, x) / expected - 1).toBeCloseTo(0, 13);
  });

  it.each(GAMMA)("gamma of %d", (x, expected) => {
    expect(gamma(x) / expected - 1).toBeCloseTo(0, 13);
  });

  it("gamma of a half is the root of pi; neither function takes 0", () => {
    expect(gamma(0.5)).toBeCloseTo(Math.sqrt(Math.PI), 13);
    expect(() => gamma(0)).toThrow();
    expect(() => besselKScaled(1, 0)).toThrow();
  });

  it("four Gauss-Legendre points are exact for powers up to 7 and not for 8", () => {
    const mean = (power: number): number =>
      GAUSS_LEGENDRE_4.at.reduce((sum, at, i) => sum + GAUSS_LEGENDRE_4.weight[i]! * at ** power, 0);
    for (let power = 0; power < 8; power++)
      expect(mean(power)).toBeCloseTo(power % 2 ? 0 : 1 / (power + 1), 14);
    expect(Math.abs(mean(8) - 1 / 9)).toBeGreaterThan(1e-3);
  });
});
