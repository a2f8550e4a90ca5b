import { z } from "zod";
import { guideIds } from "../../agronomy/index.ts";
import type { PlanBudget, PlanExclusion, PlanGuideCheck, PlanSampling } from "./document-need-types.ts";
import { Day, NotNegative, Path, Place, Positive, Words } from "./document-parts.ts";

export const GuideChecks: z.ZodType<readonly PlanGuideCheck[]> = z
  .array(
    z.strictObject({
      id: z.enum(guideIds() as [string, ...string[]]),
      confirmed: z.exactOptional(z.strictObject({ by: Words, page: Words, date: Day })),
      constants: z.exactOptional(
        z.record(z.string(), z.number()).describe("own figures by the id in docs/agronomy.md, in its unit"),
      ),
    }),
  )
  .describe("who compared a guide with which page of the bulletin, and figures put in place of its own");

export const Sampling: z.ZodType<PlanSampling> = z
  .strictObject({
    date: z.exactOptional(Day),
    depthIn: z.exactOptional(Positive),
    lab: z.exactOptional(Words),
    coresToBands: z.exactOptional(Words).describe("how the cores lay to old fertilizer bands"),
  })
  .describe("of a source of samples, as far as the file does not say");

export const Exclusions: z.ZodType<readonly PlanExclusion[]> = z
  .array(
    z
      .strictObject({
        source: z.exactOptional(Path),
        record: z.exactOptional(z.int().min(1)),
        corners: z
          .exactOptional(z.array(Place).min(3).max(500))
          .describe("drawn, in place of a source: corners all round"),
        what: Words.describe("what is kept clear of: tile inlet, stream, well"),
        method: z.enum(["surface", "strip", "both"]).describe("what is kept off: broadcast, strip or both"),
        setbackFt: NotNegative.describe("distance kept from the shape, ft; from the user's own rules"),
      })
      .refine(
        ({ source, record, corners }) =>
          (source === undefined) !== (corners === undefined) &&
          (corners === undefined || record === undefined),
        "needs a source or corners, one of them",
      ),
  )
  .describe("ground that gets nothing by a method");

export const Budget: z.ZodType<PlanBudget> = z
  .union([z.strictObject({ usd: Positive }), z.strictObject({ lb: Positive })])
  .describe("most that all fields together may take: $ at the plan's prices, or lb of product");
