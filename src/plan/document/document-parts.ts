import { z } from "zod";
import type { PlanPlace } from "./document-drive-types.ts";
import type { Oxide } from "./document-need-types.ts";

// Before any schema is made: a page under a content security policy may not compile functions.
z.config({ jitless: true });

export const Id: z.ZodType<string> = z
  .string()
  .regex(/^[a-z0-9][a-z0-9-]{0,39}$/, "lower-case letters, digits and hyphens, 40 at most")
  .describe("stays when the name changes");
export const Path: z.ZodType<string> = z
  .string()
  .min(1)
  .refine((path) => !/^([/\\]|[A-Za-z]:)/.test(path), "must be relative to the plan's folder")
  .refine((path) => !path.split(/[/\\]/).includes(".."), "must not leave the plan's folder with ..")
  .refine((path) => !path.includes("\\"), "use forward slashes");
/** A place, WGS 84. */
export const placeKeys: { readonly lonDeg: z.ZodType<number>; readonly latDeg: z.ZodType<number> } = {
  lonDeg: z.number().min(-180).max(180),
  latDeg: z.number().min(-80).max(80),
};
export const Place: z.ZodType<PlanPlace> = z.strictObject(placeKeys);
export const Name: z.ZodType<string> = z.string().min(1).max(60);
export const Positive: z.ZodType<number> = z.number().positive();
export const NotNegative: z.ZodType<number> = z.number().min(0);
export const Percent: z.ZodType<number> = z.number().min(0).max(100);
/** Something of each oxide; what is left out is nothing. */
export const OfOxides: z.ZodType<Readonly<Partial<Record<Oxide, number>>>> = z.strictObject({
  P2O5: z.exactOptional(NotNegative),
  K2O: z.exactOptional(NotNegative),
});
export const Day: z.ZodType<string> = z.iso.date();
/** Days from one to another; both count. */
export interface DaySpan {
  readonly from: string;
  readonly to: string;
}
/** What a schema of such days is refined with. */
export const isSpanInOrder = ({ from, to }: DaySpan): boolean => from <= to;
export const SPAN_TURNED: { readonly path: string[]; readonly message: string } = {
  path: ["to"],
  message: "this day is before from",
};
/** What a list of such days is refined with: no two share a day. The later of two that do is named. */
export function refuseSharedDays(spans: readonly DaySpan[], context: z.RefinementCtx): void {
  spans.forEach(({ from, to }, i) => {
    const other = spans.slice(0, i).find((one) => one.from <= to && from <= one.to);
    if (other === undefined) return;
    const message = `days to ${to} that are in ${other.from} to ${other.to} too; the first and the last day count`;
    context.addIssue({ code: "custom", path: [i, "from"], message });
  });
}
export const SeasonYear: z.ZodType<number> = z.int().min(2000).max(2100);
export const Words: z.ZodType<string> = z.string().min(1).max(120);
