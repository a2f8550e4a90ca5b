import { requireNumber } from "../capacity/index.ts";
import { normalCdf } from "./normal.ts";

interface WetHoursInput {
  /** Air humidity, percent: the morning maximum and the afternoon minimum, means of a half-month. */
  readonly morningPercent: number;
  readonly afternoonPercent: number;
  /** Critical humidity of the blend, percent. */
  readonly limitPercent: number;
  /** Working window, hours of the day; the end may lie past 24. */
  readonly workFromHour: number;
  readonly workToHour: number;
  /** Hour of the maximum; 5 when left out. */
  readonly maximumAtHour?: number;
}

export interface WetHours {
  /** Hours of the window with air above the limit, and their share of it. */
  readonly wetHours: number;
  readonly wetShare: number;
  /** The dry span of the day; null when it is always wet, and from 0 to 24 when it never is. */
  readonly dryFromHour: number | null;
  readonly dryToHour: number | null;
}

/**
 * Hours above the limit, from a daily cosine between the two readings. Open air: a closed bin is drier, an open tender or a
 * night in the field is not. An index, not a forecast. Throws `number-not-usable`.
 */
export function wetHours(input: WetHoursInput): WetHours {
  const {
    morningPercent,
    afternoonPercent,
    limitPercent,
    workFromHour,
    workToHour,
    maximumAtHour = 5,
  } = input;
  requireNumber("morningPercent", morningPercent, { atLeast: 0, atMost: 100 });
  requireNumber("afternoonPercent", afternoonPercent, { atLeast: 0, atMost: morningPercent });
  requireNumber("limitPercent", limitPercent, { atLeast: 0, atMost: 100 });
  const window = requireNumber("workToHour - workFromHour", workToHour - workFromHour, {
    above: 0,
    atMost: 24,
  });
  const mean = (morningPercent + afternoonPercent) / 2;
  const swing = (morningPercent - afternoonPercent) / 2;
  if (limitPercent >= mean + swing) return { wetHours: 0, wetShare: 0, dryFromHour: 0, dryToHour: 24 };
  if (limitPercent <= mean - swing)
    return { wetHours: window, wetShare: 1, dryFromHour: null, dryToHour: null };
  const half = (12 / Math.PI) * Math.acos((limitPercent - mean) / swing);
  const dryFrom = maximumAtHour + half;
  const dryTo = maximumAtHour + 24 - half;
  let dry = 0;
  for (const shift of [-24, 0, 24]) {
    dry += Math.max(0, Math.min(workToHour, dryTo + shift) - Math.max(workFromHour, dryFrom + shift));
  }
  return { wetHours: window - dry, wetShare: 1 - dry / window, dryFromHour: dryFrom, dryToHour: dryTo };
}

/** Chance that an afternoon never dries below the limit, with day-to-day SD of the afternoon reading, percent points. */
export const chanceNeverDry = (afternoonPercent: number, limitPercent: number, sdPoints: number): number =>
  1 - normalCdf((limitPercent - afternoonPercent) / sdPoints);
