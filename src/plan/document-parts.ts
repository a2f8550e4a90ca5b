import { z } from "zod";

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
export const Name: z.ZodType<string> = z.string().min(1).max(60);
export const Positive: z.ZodType<number> = z.number().positive();
export const NotNegative: z.ZodType<number> = z.number().min(0);
export const Day: z.ZodType<string> = z.iso.date();
export const SeasonYear: z.ZodType<number> = z.int().min(2000).max(2100);
export const Words: z.ZodType<string> = z.string().min(1).max(120);
