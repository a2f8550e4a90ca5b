import { z } from "zod";
import { InputError } from "../errors/index.ts";
import type { Seed, SeedWork } from "./seed-types.ts";

const Positive = z.number().positive();
const NotNegative = z.number().min(0);
const Name = z.string().min(1).max(40);

const Surface = z
  .strictObject({
    median: Positive,
    sd: NotNegative,
    scaleM: Positive,
    farmSd: NotNegative,
    farmScaleM: Positive,
    onKnolls: z.number(),
    inBottoms: z.number(),
    least: Positive,
    most: Positive,
    sampleNoise: NotNegative,
  })
  .refine(
    ({ least, median, most }) => least < median && median < most,
    "median must lie between least and most",
  );

const Single = z.strictObject({
  kind: z.literal("single"),
  field: Name,
  crop: z.enum(["corn", "soybean"]),
  yieldBuPerAc: Positive,
  widthM: z.number().min(400).max(1_500),
  heightM: z.number().min(400).max(1_500),
});

const Sections = z.strictObject({
  kind: z.literal("sections"),
  columns: z.int().min(1).max(8),
  rows: z.int().min(1).max(8),
  fields: z.int().min(1).max(200),
  areaAc: Positive,
  turnDeg: z.number().min(-45).max(45),
});

/** What stands in here is judged as part of the plan it goes into. */
const PlanKeys = z.record(z.string(), z.unknown());

const Work = z.strictObject({
  bins: z.array(PlanKeys).length(2),
  rig: PlanKeys,
  tender: PlanKeys,
  nearSeed: PlanKeys,
  pricesUsdPerTon: z.record(z.string(), Positive),
  season: PlanKeys.and(z.looseObject({ planters: z.array(z.looseObject({ crop: z.string() })) })),
  order: PlanKeys,
}) as unknown as z.ZodType<SeedWork>;

const SeedSchema: z.ZodType<Seed> = z.strictObject({
  format: z.literal("seed/1"),
  name: z.string().regex(/^[a-z0-9][a-z0-9-]{0,39}$/, "lower-case letters, digits and hyphens, 40 at most"),
  seed: z.int().min(0).max(0xffffffff),
  farm: Name,
  place: z.strictObject({
    lonDeg: z.number().min(-180).max(180),
    latDeg: z.number().min(-60).max(60),
  }),
  seasonYear: z.int().min(2000).max(2100),
  date: z.iso.date(),
  guide: z.string().min(1),
  guideOptions: z.record(z.string(), z.string()),
  capLbPerAc: NotNegative,
  work: Work,
  soil: z.strictObject({ reliefScaleM: Positive, P: Surface, K: Surface, CEC: Surface }),
  layout: z.discriminatedUnion("kind", [Single, Sections]),
});

/** Reads the text of a seed file; `where` names it in the message of what is wrong. */
export function readSeed(text: string, where: string): Seed {
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch (error) {
    throw new InputError("seed-not-json", `${where}: ${(error as Error).message}`, "Write it as JSON.");
  }
  const result = SeedSchema.safeParse(value);
  if (result.success) return result.data;
  throw new InputError(
    "seed-invalid",
    `${where}: ${z.prettifyError(result.error)}`,
    "Correct the seed file.",
  );
}
