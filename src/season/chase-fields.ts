import { requireNumber } from "../capacity/index.ts";
import { InputError } from "../errors/index.ts";

export interface ChaseField {
  readonly id: string;
  readonly areaAc: number;
  /** Hours of stripping, moves in them. */
  readonly stripHours: number;
  /** Of one that is stripped already: days from the first day of stripping to the day it was, 0 or below. */
  readonly strippedOnDay?: number;
}

export interface ChasePlanter {
  readonly id: string;
  readonly acPerDay: number;
  /** Workable day, counted from the first day of stripping as 0, on which it starts. */
  readonly startsOnDay: number;
  /** Its fields in its order. */
  readonly fields: readonly string[];
}

export interface FieldChase {
  readonly fieldId: string;
  /** Workable days since stripping began when the strips are done, and when they may be planted. */
  readonly strippedAtDay: number;
  readonly readyAtDay: number;
  /** Null for a field no planter has. */
  readonly planterId: string | null;
  readonly plantingStartsAtDay: number | null;
  /** Workable days the planter waits for this field. */
  readonly waitDays: number;
  /** Days between ready and planting; 0 where the planter waits. */
  readonly slackDays: number | null;
}

/**
 * Strips field by field in stripping order, planters each in their own order from their own day: who waits where. A field is
 * planted `leadDays` workable days after it was stripped. Throws `field-not-in-order`.
 */
export function chaseFields(input: {
  readonly fields: readonly ChaseField[];
  readonly planters: readonly ChasePlanter[];
  readonly hoursPerDay: number;
  readonly leadDays: number;
}): FieldChase[] {
  const hoursPerDay = requireNumber("hoursPerDay", input.hoursPerDay, { above: 0 });
  let hours = 0;
  const strippedAt = new Map<string, number>();
  for (const field of input.fields) {
    hours += requireNumber(`stripHours of ${field.id}`, field.stripHours);
    strippedAt.set(field.id, field.strippedOnDay ?? hours / hoursPerDay);
  }
  const planted = new Map<
    string,
    { readonly planterId: string; readonly at: number; readonly wait: number }
  >();
  for (const planter of input.planters) {
    const pace = requireNumber(`acPerDay of ${planter.id}`, planter.acPerDay, { above: 0 });
    let now = planter.startsOnDay;
    for (const id of planter.fields) {
      const field = input.fields.find((one) => one.id === id);
      if (field === undefined) {
        throw new InputError(
          "field-not-in-order",
          `${planter.id} plants ${id}, which is not stripped`,
          "Add it to the fields or take it from the planter.",
        );
      }
      const ready = strippedAt.get(id)! + input.leadDays;
      const at = Math.max(now, ready);
      planted.set(id, { planterId: planter.id, at, wait: at - now });
      now = at + field.areaAc / pace;
    }
  }
  return input.fields.map(({ id }) => {
    const plant = planted.get(id);
    const readyAtDay = strippedAt.get(id)! + input.leadDays;
    return {
      fieldId: id,
      strippedAtDay: strippedAt.get(id)!,
      readyAtDay,
      planterId: plant?.planterId ?? null,
      plantingStartsAtDay: plant?.at ?? null,
      waitDays: plant?.wait ?? 0,
      slackDays: plant === undefined ? null : plant.at - readyAtDay,
    };
  });
}
