import { requireNumber } from "../capacity/index.ts";
import { chanceNeverDry } from "./wet-hours.ts";

interface SwitchInput {
  /** Critical humidity of the premium blend, percent, and the points its coating takes off. */
  readonly criticalPercent: number;
  readonly coatingPoints: number;
  /** Day-to-day SD of the afternoon humidity, points. */
  readonly sdPoints: number;
  readonly periods: readonly { readonly name: string; readonly afternoonPercent: number }[];
  /** Hours lost on a day that never dries, and $ an hour. */
  readonly hoursLost: number;
  readonly valuePerHour: number;
  /** $/ac the premium blend is worth more than the plain one. */
  readonly benefitPerAc: number;
  readonly acPerDay: number;
}

export interface SwitchDate {
  readonly limitPercent: number;
  readonly periods: readonly {
    readonly name: string;
    readonly troubleChance: number;
    readonly costPerDay: number;
  }[];
  /** Chance of trouble above which the plain blend is better. */
  readonly thresholdChance: number;
  /** First period for the plain blend; null when the premium blend stays. */
  readonly switchAt: string | null;
}

/** The first half-month in which trouble costs more a day than the premium blend is worth. Throws `number-not-usable`. */
export function switchDate(input: SwitchInput): SwitchDate {
  const { criticalPercent, coatingPoints, sdPoints, hoursLost, valuePerHour, benefitPerAc, acPerDay } = input;
  const limitPercent = requireNumber("criticalPercent - coatingPoints", criticalPercent - coatingPoints);
  requireNumber("sdPoints", sdPoints, { above: 0 });
  const costOfTrouble = requireNumber("hoursLost x valuePerHour", hoursLost * valuePerHour, { above: 0 });
  const worthPerDay = requireNumber("benefitPerAc", benefitPerAc) * requireNumber("acPerDay", acPerDay);
  const periods = input.periods.map(({ name, afternoonPercent }) => {
    const troubleChance = chanceNeverDry(afternoonPercent, limitPercent, sdPoints);
    return { name, troubleChance, costPerDay: troubleChance * costOfTrouble };
  });
  return {
    limitPercent,
    periods,
    thresholdChance: worthPerDay / costOfTrouble,
    switchAt: periods.find(({ costPerDay }) => costPerDay > worthPerDay)?.name ?? null,
  };
}
