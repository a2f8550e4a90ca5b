import type { SmallRateField } from "../maps/small-rate.ts";
import type { FieldResult } from "../results/result-types.ts";

/** What the order needs of a field. */
export type OrderedField = Pick<FieldResult, "field" | "finished" | "prescriptions" | "need"> &
  SmallRateField;
