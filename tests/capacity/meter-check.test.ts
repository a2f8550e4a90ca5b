import { expect, test } from "vitest";
import {
  catchDistanceFt,
  lbPerAcOfOunces,
  meterCheck,
  operationsDefault,
  operationsDefaults,
  ticketShouldReadLb,
  weighedDensity,
} from "../../src/capacity/index.ts";
import { checkRow, near } from "../support/operations.ts";

test("Sumner, Univ. Georgia: distance for 1/128 ac, ounces to lb/ac, 5 % of the mean", () => {
  expect(Math.round(catchDistanceFt(1) * 10) / 10).toBe(Number(checkRow("calibration distance").expected));
  expect(lbPerAcOfOunces(20)).toBe(Number(checkRow("calibration: lb/ac from ounces").expected));
  expect(operationsDefault("catchTestTolerance").value * 100).toBe(
    Number(checkRow("outlet uniformity limit").expected),
  );
});

test("a catch by time, by hand: 300 lb/ac x 40 ft x 6 mph / 495 = 145.45 lb/min", () => {
  const have = meterCheck({ caughtLb: [70, 72, 68, 78], minutes: 2, rateLbPerAc: 300, widthFt: 40, mph: 6 });
  near(have.wantedLb, (2 * 300 * 40 * 6) / 495);
  near(have.meterFactor, 288 / have.wantedLb);
  near(have.appliedLbPerAc, 300 * have.meterFactor);
  // Mean 72: 8.3 % and -5.6 % are off.
  expect(have.rowsOff).toEqual([3, 4]);
});

test("a catch by turns of the wheel, by hand", () => {
  const have = meterCheck({ caughtLb: [10, 10], turns: 10, turnFt: 14.52, rateLbPerAc: 150, widthFt: 40 });
  near(have.wantedLb, 150 * ((10 * 14.52 * 40) / 43_560));
  expect(have.rowsOff).toEqual([]);
  expect(() => meterCheck({ caughtLb: [1], rateLbPerAc: 150, widthFt: 40 })).toThrow("turns");
});

test("density by weighing, and what the ticket must read", () => {
  near(weighedDensity(72.5, 10, 1), 62.5);
  expect(ticketShouldReadLb(100, 60)).toBe(6_000);
});

test("defaults that were read are the published figures", () => {
  // Progressive Forage, efficiency versus capacity; Iowa State Univ. overlap study 2011.
  expect(operationsDefault("turnEfficiency").value).toBe(Number(checkRow("turn-only efficiency").expected));
  expect(operationsDefault("overlapShare").value).toBe(
    Number(checkRow("planter overlap").expected.split(";")[0]) / 100,
  );
});

test("every default without a published source is unconfirmed, every one with it names it", () => {
  for (const { status, source, key } of operationsDefaults) {
    expect(source, key).not.toBe("");
    if (status === "read") expect(source, key).toMatch(/Univ\.|Progressive Forage/);
  }
  const read = operationsDefaults.filter(({ status }) => status === "read").map(({ key }) => key);
  expect(read).toEqual(["turnEfficiency", "overlapShare", "catchTestTolerance"]);
});
