import { InputError } from "../../errors/index.ts";
import { type MultiPolygon, orient, type Point } from "../../geo/index.ts";
import type { Plan, PlanField } from "../document/document-types.ts";
import { createStageCache } from "../document/stage.ts";
import type { RunOptions } from "../results/run-options.ts";
import type { FileSource } from "../sources/file-source.ts";
import { readOnce } from "../sources/read-once.ts";
import type { Inputs } from "../sources/read-sources.ts";
import { boundaryOf } from "./check-field.ts";
import { guidanceLonLat } from "./guidance-of-field.ts";

/** Where a field lies, in degrees: outer rings counter-clockwise, rings open. */
export interface FieldOutline {
  readonly boundaryLonLat: MultiPolygon;
  /** The two ends of the guidance line. */
  readonly lineLonLat: readonly [Point, Point];
}

/**
 * Boundaries and lines by field id, before anything is worked out; a field whose files cannot be read is missing.
 * With the cache of `run` the sources are read once for both. Throws a `QuestionError` as `run` does.
 */
export async function outlinesOf(
  plan: Plan,
  files: FileSource,
  { answers = {}, cache = createStageCache() }: Pick<RunOptions, "answers" | "cache"> = {},
): Promise<ReadonlyMap<string, FieldOutline>> {
  const inputs = await readOnce(plan, files, answers, cache);
  return new Map(
    plan.fields.flatMap((field) => {
      const outline = outlineOf(field, inputs);
      return outline ? [[field.id, outline] as const] : [];
    }),
  );
}

function outlineOf(field: PlanField, inputs: Inputs): FieldOutline | null {
  try {
    const boundaryLonLat = orient(boundaryOf(field, inputs));
    const line = guidanceLonLat(field, boundaryLonLat, inputs);
    return { boundaryLonLat, lineLonLat: [line[0]!, line.at(-1)!] };
  } catch (error) {
    if (error instanceof InputError) return null;
    throw error;
  }
}
