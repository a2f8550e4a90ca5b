import { guidesInUse, type RunResult } from "#core";
import { fieldLine } from "./field-view.ts";
import type { FarmView } from "./protocol.ts";

/** Copies of what the farm's sheets and the balance need of every field. */
export const farmView = (result: RunResult): FarmView => ({
  planSha256: result.planSha256,
  acres: result.acres,
  fields: result.fields.map((field) => fieldLine(result.plan, field)),
  refused: result.refused,
  notices: result.notices,
  incomplete: result.incomplete,
  guides: guidesInUse(result.fields),
});
