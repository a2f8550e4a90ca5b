import type { TimeLines } from "../../capacity/index.ts";
import { InputError, type Notice } from "../../errors/index.ts";
import type { FieldStand } from "../../ledger/index.ts";
import { sum } from "../../numeric/index.ts";
import {
  atLeast,
  chaseFields,
  dayNumber,
  type FieldChase,
  planterChase,
  type SeasonPlan,
  type WeatherInput,
  workableDayCounts,
} from "../../season/index.ts";
import type { Plan } from "../document/document-types.ts";
import type { PlanterRow, SeasonFieldRow } from "./season-plan-types.ts";

/**
 * Planters against the strips, field by field. Days before a planter starts are the workable days that half the years have;
 * without typed days every day counts. What the ledger has as stripped is ahead of them. Throws `planter-without-fields`.
 */
export function chasePlanters(
  plan: Plan,
  rows: readonly SeasonFieldRow[],
  season: SeasonPlan,
  weather: WeatherInput | null,
  hoursPerDay: number,
  lines: TimeLines,
  stands: readonly FieldStand[],
): {
  readonly fields: readonly FieldChase[];
  readonly planters: readonly PlanterRow[];
  readonly notices: readonly Notice[];
} {
  const { planters = [], leadDays = 1, start } = plan.season ?? {};
  if (planters.length === 0 || start === undefined) return { fields: [], planters: [], notices: [] };
  const from = weather?.start ?? start;
  const known = new Set(rows.map((row) => row.fieldId));
  const fieldsOf = (planter: (typeof planters)[number]): readonly string[] => {
    if (planter.fields !== undefined) return planter.fields.filter((id) => known.has(id));
    if (planters.length === 1) return rows.map((row) => row.fieldId);
    throw new InputError(
      "planter-without-fields",
      `there are ${planters.length} planters and ${planter.id} names no fields`,
      "Type season.planters[].fields of each.",
    );
  };
  const daysBefore = (date: string): number => {
    const days = Math.max(0, dayNumber(date) - dayNumber(from));
    if (weather === null || days === 0) return days;
    const counts = workableDayCounts(weather, days)[days]!;
    let median = days;
    while (median > 0 && atLeast(counts, median) < 0.5) median--;
    return median;
  };
  // One that is done lies ready by its day in the ledger; without a day of its own as if the lead were over.
  const strippedOn = (id: string): number => {
    const date = stands.find(({ fieldId }) => fieldId === id)?.lastStripDate ?? null;
    return date === null ? -leadDays : Math.min(0, dayNumber(date) - dayNumber(from));
  };
  const chased = chaseFields({
    fields: rows.map((row, i) => ({
      id: row.fieldId,
      areaAc: row.areaAc,
      stripHours: season.fields[i]!.hours,
      ...(row.isDone ? { strippedOnDay: strippedOn(row.fieldId) } : {}),
    })),
    planters: planters.map((planter) => ({
      id: planter.id,
      acPerDay: planter.acPerDay,
      startsOnDay: daysBefore(planter.startsOn),
      fields: fieldsOf(planter),
    })),
    hoursPerDay,
    leadDays,
  });
  const notices: Notice[] = [];
  const acresOf = (own: readonly string[], of: "areaAc" | "leftAc" = "areaAc"): number =>
    sum(rows.filter((row) => own.includes(row.fieldId)).map((row) => row[of]));
  const allLeftAc = sum(rows.map((row) => row.leftAc));
  // Where some fields only are worked out a planter may have none of them.
  const working = planters.filter((planter) => acresOf(fieldsOf(planter)) > 0);
  const list = working.map((planter): PlanterRow => {
    const own = fieldsOf(planter);
    const acres = acresOf(own);
    const workableDaysBefore = daysBefore(planter.startsOn);
    const leftAc = acresOf(own, "leftAc");
    // Of a rig that works for several planters each gets the acres a day of its share of what is left.
    const share = allLeftAc > 0 ? leftAc / allLeftAc : 0;
    const chase = planterChase({
      acres,
      strippedAc: acres - leftAc,
      planterAcPerDay: planter.acPerDay,
      workableDaysBefore,
      leadDays,
      acPerDay: Math.max(1e-6, season.acPerDay * share),
      ...(working.length === 1 ? { lines, hoursPerDay } : {}),
    });
    const days = Math.max(0, dayNumber(planter.startsOn) - dayNumber(from));
    const leadChance =
      weather === null || days === 0
        ? null
        : atLeast(workableDayCounts(weather, days)[days]!, chase.wholeDaysNeeded);
    const waits = chased.filter((one) => one.planterId === planter.id && one.waitDays > 0.01);
    if (planter.startsOn < from && leftAc > 0) {
      const message = `${planter.id} began on ${planter.startsOn}, before the day reckoned from, ${from}: what it has planted is not known here, and it counts as beginning that day with all its fields to plant`;
      notices.push({ code: "planter-began", message, where: "season.planters" });
    }
    if (waits.length > 0) {
      const first = waits[0]!;
      const message = `field by field ${planter.id} waits ${first.waitDays.toFixed(1)} workable days at ${first.fieldId}${waits.length > 1 ? ` and at ${waits.length - 1} more fields` : ""}`;
      notices.push({ code: "planter-waits", message, where: first.fieldId });
    }
    return { id: planter.id, acres, startsOn: planter.startsOn, workableDaysBefore, chase, leadChance };
  });
  return { fields: chased, planters: list, notices };
}
