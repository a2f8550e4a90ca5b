import { InputError } from "../../errors/index.ts";
import type { Plan } from "./document-types.ts";

/** How many of the plan's fields are named. */
const NAMED = 12;

/** Throws `no-such-field` with fields that the plan has where it has none of this id. */
export function requireField({ fields }: Plan, id: string): void {
  if (fields.some((field) => field.id === id)) return;
  const known = fields.slice(0, NAMED).map((field) => field.id);
  throw new InputError(
    "no-such-field",
    `The plan has no field “${id}”.`,
    `Name one of: ${known.join(", ")}.`,
  );
}
