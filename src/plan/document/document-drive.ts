import { z } from "zod";
import type { PlanFieldDrive, PlanRigDrive } from "./document-drive-types.ts";
import { NotNegative, Place, Positive } from "./document-parts.ts";
import type { OptionalKeys } from "./document-rig.ts";
import { MOST_ROWS } from "./machine-limits.ts";

const HeadlandPasses = z.int().min(0).max(4);

/** Keys of `rig` that tell how it drives a field and what its meters can follow. */
export const rigDriveKeys: OptionalKeys<PlanRigDrive> = {
  headlandPasses: z
    .exactOptional(HeadlandPasses)
    .describe("passes round the inside of the boundary and of its holes; none when absent"),
  headlands: z.exactOptional(z.enum(["last", "first"])).describe("when they are worked; last when absent"),
  pattern: z
    .exactOptional(z.enum(["back-and-forth", "every-second", "skip"]))
    .describe("order of the passes; back-and-forth when absent"),
  turnRadiusFt: z.exactOptional(Positive).describe("smallest radius the rig turns by, ft"),
  rates: z
    .exactOptional(z.enum(["segments", "stretches"]))
    .describe("a rate for every segment (when absent), or for stretches that a meter can follow"),
  responseS: z
    .exactOptional(z.number().min(0).max(60))
    .describe("seconds a meter takes to reach a new rate; 4 assumed when absent"),
  shortestStretchFt: z
    .exactOptional(Positive)
    .describe("shortest stretch with a rate of its own, ft; 3 x speed x response when absent"),
  leadS: z
    .exactOptional(z.number().positive().max(30))
    .describe("rates are moved ahead by so many seconds of driving; the controller's delays must be 0 then"),
  sections: z
    .exactOptional(
      z.strictObject({
        count: z.int().min(1).max(MOST_ROWS),
        onDelayS: z.exactOptional(NotNegative),
        offDelayS: z.exactOptional(NotNegative),
      }),
    )
    .describe("parts of the rig that start and stop by themselves; the whole rig when absent"),
  overlapPercent: z
    .exactOptional(z.number().min(0).max(100))
    .describe("of the interior; replaces the overlap that geometry gives"),
  oddYears: z
    .exactOptional(z.enum(["right", "left"]))
    .describe("side of the line to which strips are shifted by half a row in odd years"),
  planter: z
    .exactOptional(
      z.strictObject({
        rows: z.int().min(1).max(MOST_ROWS),
        rowSpacingIn: Positive,
        drilled: z.exactOptional(z.boolean()),
        sameLine: z.exactOptional(z.boolean()),
      }),
    )
    .describe("the planter that follows on the strips"),
};

/** Keys of a field that tell how the rig drives there. */
export const fieldDriveKeys: OptionalKeys<PlanFieldDrive> = {
  driveAlong: z
    .exactOptional(
      z.union([
        z.strictObject({ headingDeg: z.number().min(0).max(360) }),
        z.strictObject({ places: z.array(Place).min(2).max(2_000) }),
      ]),
    )
    .describe("in place of the guidance file's line: degrees clockwise from north, or places from A on"),
  headlandPasses: z.exactOptional(HeadlandPasses).describe("in place of the rig's own number"),
};
