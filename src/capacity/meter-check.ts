import { InputError } from "../errors/index.ts";
import { sum } from "../numeric/index.ts";
import { FT2_PER_AC } from "../units/index.ts";
import { operationsDefault } from "./defaults.ts";
import { meterFlow } from "./meter.ts";
import { requireNumber } from "./require-number.ts";

/** A catch test: what each outlet gave, and the speed and width it stands for. */
export interface MeterCheckInput {
  /** lb caught at each row outlet. */
  readonly caughtLb: readonly number[];
  /** Minutes of the catch at speed, or turns of the drive wheel with its circumference. */
  readonly minutes?: number;
  readonly turns?: number;
  readonly turnFt?: number;
  readonly rateLbPerAc: number;
  readonly widthFt: number;
  /** Needed with minutes. */
  readonly mph?: number;
  /** Largest share a row may lie off the mean; 0.05 (Sumner, Univ. Georgia) when left out. */
  readonly toleranceShare?: number;
}

/** What a catch test says. */
export interface MeterCheck {
  /** lb of all rows that the rate asks for in that time or way, and lb caught. */
  readonly wantedLb: number;
  readonly caughtLb: number;
  /** lb/ac that came out. */
  readonly appliedLbPerAc: number;
  /** Caught / wanted: what a log of the wanted rate must be multiplied by. */
  readonly meterFactor: number;
  /** Each row less the mean, share of the mean; and the rows (from 1) outside the tolerance. */
  readonly rowOffShare: readonly number[];
  readonly rowsOff: readonly number[];
}

/**
 * A catch test against rate x speed x width, row by row. With turns: lb/ac = lb / (turns x circumference x width / 43,560).
 * Throws `number-not-usable`, `no-catch-length` when neither minutes nor turns are given.
 */
export function meterCheck(test: MeterCheckInput): MeterCheck {
  const { rateLbPerAc, widthFt, minutes, turns, turnFt, mph } = test;
  const tolerance = requireNumber(
    "toleranceShare",
    test.toleranceShare ?? operationsDefault("catchTestTolerance").value,
  );
  requireNumber("rateLbPerAc", rateLbPerAc, { above: 0 });
  requireNumber("widthFt", widthFt, { above: 0 });
  const rows = requireNumber("the number of rows", test.caughtLb.length, { atLeast: 1 });
  const caughtLb = requireNumber(
    "caughtLb",
    sum(test.caughtLb.map((lb, r) => requireNumber(`caughtLb[${r}]`, lb))),
    {
      above: 0,
    },
  );
  const byTime = minutes !== undefined && mph !== undefined;
  if (!byTime && (turns === undefined || turnFt === undefined)) {
    throw new InputError(
      "no-catch-length",
      "neither minutes at a speed nor turns of a known circumference are given",
      "Give minutes and mph, or turns and turnFt.",
    );
  }
  const wantedLb = byTime
    ? meterFlow(rateLbPerAc, widthFt, requireNumber("mph", mph, { above: 0 })) *
      requireNumber("minutes", minutes, { above: 0 })
    : (rateLbPerAc *
        requireNumber("turns", turns!, { above: 0 }) *
        requireNumber("turnFt", turnFt!, { above: 0 }) *
        widthFt) /
      FT2_PER_AC;
  const mean = caughtLb / rows;
  const rowOffShare = test.caughtLb.map((lb) => lb / mean - 1);
  const meterFactor = caughtLb / wantedLb;
  return {
    wantedLb,
    caughtLb,
    appliedLbPerAc: rateLbPerAc * meterFactor,
    meterFactor,
    rowOffShare,
    rowsOff: rowOffShare.flatMap((off, r) => (Math.abs(off) > tolerance + 1e-12 ? [r + 1] : [])),
  };
}

/** Way for 1/128 acre under an outlet, ft: ounces caught then x 8 = lb/ac (Sumner). Spacing of outlets in feet. */
export const catchDistanceFt = (spacingFt: number): number => FT2_PER_AC / 128 / spacingFt;

/** lb/ac from ounces caught over 1/128 acre. */
export const lbPerAcOfOunces = (ounces: number): number => (ounces / 16) * 128;

/** lb per cubic foot from a known volume: struck, not shaken. */
export const weighedDensity = (grossLb: number, emptyLb: number, volumeFt3: number): number =>
  requireNumber("grossLb - emptyLb", grossLb - emptyLb, { above: 0 }) /
  requireNumber("volumeFt3", volumeFt3, { above: 0 });

/** Net lb the ticket must read for a fill of the bin's empty volume at a density. Throws `number-not-usable`. */
export const ticketShouldReadLb = (filledFt3: number, lbPerFt3: number): number =>
  requireNumber("filledFt3", filledFt3) * requireNumber("lbPerFt3", lbPerFt3, { above: 0 });
