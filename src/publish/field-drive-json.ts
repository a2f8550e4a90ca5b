import type { FieldResult } from "../plan/index.ts";

/** How a field is driven, for result.json: what was laid, in which order, and what goes down twice. */
export function fieldDriveJson({ driving, passes }: FieldResult): Record<string, unknown> {
  const { notices: _, ...figures } = driving;
  return {
    driving: {
      ...figures,
      shiftM: passes.shiftM,
      guidancePoints: passes.along.length,
      order: passes.runs.map(({ kind, pass, forward, block, areaM2, segments }) => ({
        kind,
        pass,
        forward,
        block,
        areaM2: Number(areaM2.toFixed(1)),
        segments: segments.length,
      })),
    },
  };
}
