import { FT_PER_MILE, FT2_PER_AC } from "../units/index.ts";
import { requireNumber } from "./require-number.ts";

/** A hopper on the rig and what it is filled with. */
export interface BinSize {
  /** Struck volume, cubic feet. */
  readonly binFt3: number;
  /** Loose bulk density of the product, lb per cubic foot. */
  readonly lbPerFt3: number;
  /** Most the rig may carry, lb. Left out: volume alone limits. */
  readonly weightLimitLb?: number;
  /** lb that cannot be metered out and stay in the bin. */
  readonly residualLb: number;
  /** Share of the struck volume that is filled; 1 when left out. */
  readonly fillFactor?: number;
}

/** The strip rig at work and at a stop. */
export interface RigWork {
  readonly widthFt: number;
  readonly mph: number;
  /** Share of the theoretical rate left after turns and small stops; no filling in it. */
  readonly turnEfficiency: number;
  /** Drive to the tender, position and return, hours a stop, without the transfer. */
  readonly fixedHoursPerStop: number;
  /** lb per hour from tender to bin. */
  readonly transferLbPerHour: number;
  /** Working hours a day less daily service. */
  readonly hoursPerDay: number;
}

/** A strip rig: its work and its bin. */
export interface Rig extends RigWork, BinSize {}

/** Tenders that are alike. */
export interface Tenders {
  readonly count: number;
  /** lb a tender brings on one trip. Only whole bin loads of it count: see `timeLines`. */
  readonly lb: number;
  /** Hours a tender is away to reload. */
  readonly tripHours: number;
}

/** 43,560 ft2 an acre over 5,280 ft a mile: ft x mph / 8.25 = ac/h (Hancock, Swetnam and Benson 1991, AEN-73). */
export const FT_MPH_HOURS_PER_AC: number = FT2_PER_AC / FT_PER_MILE;
/** 43,560 ft2 an acre over 88 ft a minute a mph: lb/ac x ft x mph / 495 = lb/min (arithmetic). */
export const FT_MPH_MINUTES_PER_AC: number = FT2_PER_AC / (FT_PER_MILE / 60);

/** Acres an hour while working, turns taken off, filling not. */
export function workRate(rig: Pick<RigWork, "widthFt" | "mph" | "turnEfficiency">): number {
  requireNumber("widthFt", rig.widthFt, { above: 0 });
  requireNumber("mph", rig.mph, { above: 0 });
  requireNumber("turnEfficiency", rig.turnEfficiency, { above: 0, atMost: 1 });
  return (rig.widthFt * rig.mph * rig.turnEfficiency) / FT_MPH_HOURS_PER_AC;
}
