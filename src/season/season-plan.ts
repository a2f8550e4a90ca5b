import { type HoursAtRate, hoursAtRate, requireNumber, type TimeLines } from "../capacity/index.ts";
import { sum } from "../numeric/index.ts";
import { type FinishDistribution, finishOfDays } from "./finish-distribution.ts";
import type { WeatherInput } from "./workable-days.ts";

interface SeasonField {
  readonly id: string;
  readonly areaAc: number;
  readonly meanStripLbPerAc: number;
  /** Acres the ledger says are stripped already; 0 when left out. */
  readonly doneAc?: number;
  /** Hours to get here: fold, road, load the map. Counted only while the field is not begun. */
  readonly moveHours?: number;
  /** Lines of this field, when its tender trip or work rate is its own. */
  readonly lines?: TimeLines;
}

interface SeasonInput extends WeatherInput {
  /** In working order. */
  readonly fields: readonly SeasonField[];
  readonly lines: TimeLines;
  readonly hoursPerDay: number;
  readonly horizonDays?: number;
}

interface SeasonFieldDates {
  readonly id: string;
  readonly leftAc: number;
  readonly hours: number;
  readonly bound: HoursAtRate["bound"];
  /** Workable days from today until it is done, whole days. */
  readonly workableDays: number;
  readonly date80: string | null;
  readonly date50: string | null;
}

export interface SeasonPlan {
  readonly hours: number;
  readonly acres: number;
  /** Acres left over the working days they take. */
  readonly acPerDay: number;
  readonly finish: FinishDistribution;
  readonly fields: readonly SeasonFieldDates[];
}

/**
 * The season from `start` on, field after field: hours from the time lines, dates from the chance of workable days. Restart
 * it any day with that day as start and the ledger's acres in `doneAc`. Throws the errors of `finishDistribution`.
 */
export function seasonPlan(input: SeasonInput): SeasonPlan {
  const hoursPerDay = requireNumber("hoursPerDay", input.hoursPerDay, { above: 0, atMost: 24 });
  let hours = 0;
  const distributions = new Map<number, FinishDistribution>();
  const finish = (days: number): FinishDistribution => {
    const known = distributions.get(days) ?? finishOfDays(input, days, input.horizonDays);
    distributions.set(days, known);
    return known;
  };
  const fields = input.fields.map((field): SeasonFieldDates => {
    const done = requireNumber(`doneAc of ${field.id}`, field.doneAc ?? 0);
    const leftAc = Math.max(0, requireNumber(`areaAc of ${field.id}`, field.areaAc) - done);
    const { hoursPerAc, bound } = hoursAtRate(field.lines ?? input.lines, field.meanStripLbPerAc);
    const own = leftAc === 0 ? 0 : leftAc * hoursPerAc + (done > 0 ? 0 : (field.moveHours ?? 0));
    hours += own;
    const workableDays = leftAc === 0 ? 0 : Math.ceil((hours / hoursPerDay) * (1 - 1e-12));
    const { date80, date50 } = finish(workableDays);
    return { id: field.id, leftAc, hours: own, bound, workableDays, date80, date50 };
  });
  const acres = sum(fields.map((field) => field.leftAc));
  return {
    hours,
    acres,
    acPerDay: hours === 0 ? 0 : (acres / hours) * hoursPerDay,
    finish: finish(Math.ceil((hours / hoursPerDay) * (1 - 1e-12))),
    fields,
  };
}
