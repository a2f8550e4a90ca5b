import { type FieldResult, fieldCapacity, InputError, missingRigKeys, type Plan, rigFigures } from "#core";
import type { RateOfWork } from "./protocol.ts";

/** What the rig does in the field, for the balance; null where the plan does not tell the rig, or tells one that cannot work. */
export function rateOfWork(plan: Plan, result: FieldResult): RateOfWork | null {
  if (missingRigKeys(plan).length > 0) return null;
  try {
    const { acPerFill, acPerDay, bound } = fieldCapacity(plan, result, rigFigures(plan, result.laid));
    return { acPerFill, fromFullAcPerDay: acPerDay.full, steadyAcPerDay: acPerDay.steady, bound };
  } catch (error) {
    // Split and fills say what is wrong with it.
    if (error instanceof InputError) return null;
    throw error;
  }
}
