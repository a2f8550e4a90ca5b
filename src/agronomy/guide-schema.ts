import { z } from "zod";
import { InputError } from "../errors/index.ts";
import { kMethods, pMethods } from "./test-method.ts";
import type { Guide } from "./types.ts";

z.config({ jitless: true }); // a page under a content security policy may not compile functions

const StatusWord = z.enum([
  "read",
  "second-hand",
  "arithmetic",
  "from memory",
  "common practice",
  "typed",
  "ours",
]);
const NutrientWord = z.enum(["P2O5", "K2O"]);
const Method = z.enum([...new Set([...pMethods, ...kMethods])]);

const ConstantSchema = z.strictObject({
  value: z.number(),
  unit: z.string().min(1),
  what: z.string().min(1),
  source: z.string().min(1),
  status: StatusWord,
  published: z.exactOptional(z.number()),
});

const AmountSchema: z.ZodType = z.lazy(() =>
  z.union([
    z.string().min(1),
    z.strictObject({ sum: z.array(AmountSchema).min(2) }),
    z.strictObject({ cecLine: z.strictObject({ intercept: z.string(), slope: z.string() }) }),
    z.strictObject({
      byCec: z.strictObject({
        limit: z.string(),
        at: z.enum(["low", "high"]),
        low: AmountSchema,
        high: AmountSchema,
      }),
    }),
    z.strictObject({
      byOption: z.strictObject({ key: z.string(), values: z.record(z.string(), AmountSchema) }),
    }),
  ]),
);
const Removal = z.array(z.strictObject({ perBu: AmountSchema, crop: z.enum(["first", "second"]) })).min(1);

const FormSchema = z.discriminatedUnion("kind", [
  z.strictObject({
    kind: z.literal("build-up"),
    criticalLevel: AmountSchema,
    perUnit: AmountSchema,
    spreadOver: z.exactOptional(AmountSchema),
    removal: Removal,
    addition: z.exactOptional(
      z.strictObject({
        lbPerAc: AmountSchema,
        counts: z.enum(["per crop", "per application", "not stated"]),
      }),
    ),
    limit: AmountSchema,
    limitAt: z.enum(["within", "beyond"]),
    zeroAt: z.exactOptional(AmountSchema),
  }),
  z.strictObject({
    kind: z.literal("equation"),
    intercept: z.exactOptional(AmountSchema),
    perBu: z.exactOptional(AmountSchema),
    perPpm: z.exactOptional(AmountSchema),
    perBuPpm: z.exactOptional(AmountSchema),
    cutOff: z.exactOptional(AmountSchema),
    minimum: z.exactOptional(AmountSchema),
  }),
  z.strictObject({
    kind: z.literal("raise-to"),
    level: AmountSchema,
    perUnit: AmountSchema,
    applyBelow: AmountSchema,
  }),
  z.strictObject({
    kind: z.literal("classes"),
    edgeIn: z.enum(["lower class", "upper class"]),
    classes: z
      .array(
        z.strictObject({
          name: z.string().min(1),
          upTo: z.exactOptional(AmountSchema),
          lbPerAc: z.exactOptional(AmountSchema),
          removal: z.exactOptional(Removal),
        }),
      )
      .min(1),
  }),
  z.strictObject({
    kind: z.literal("pieces"),
    points: z.array(z.strictObject({ test: z.string(), lbPerAc: z.string() })).min(1),
  }),
]);

const GuideSchema = z.strictObject({
  format: z.literal("guide/1"),
  id: z.string().regex(/^[a-z0-9][a-z0-9-]*$/),
  title: z.string().min(1),
  publication: z.string().min(1),
  region: z.string().min(1),
  edition: z.string().min(1),
  supersededBy: z.string().nullable(),
  testUnit: z.enum(["ppm", "lb/ac"]),
  depthIn: z.number().positive().nullable(),
  depthStatus: StatusWord,
  buildUpYears: AmountSchema.nullable(),
  rounding: z.strictObject({
    testTo: z.number().positive().nullable(),
    rateToLbPerAc: z.number().positive(),
    status: StatusWord,
    note: z.string(),
  }),
  sources: z.record(z.string(), z.string().min(1)),
  constants: z.record(z.string(), ConstantSchema),
  options: z.array(
    z.strictObject({
      key: z.string(),
      means: z.exactOptional(z.literal("crop before")),
      question: z.string(),
      choices: z.array(z.string()).min(2),
      nutrients: z.array(NutrientWord).min(1),
      crops: z.exactOptional(z.array(z.string())),
    }),
  ),
  rules: z
    .array(
      z.strictObject({
        crop: z.string(),
        nutrient: NutrientWord,
        methods: z.array(Method).min(1),
        yearsCovered: z.int().min(1),
        neverRisesWithTest: z.boolean(),
        form: FormSchema,
      }),
    )
    .min(1),
  criticalLevels: z.array(
    z.strictObject({ crop: z.string(), nutrient: NutrientWord, method: Method, level: AmountSchema }),
  ),
  bandFactor: z.strictObject({ P2O5: z.string().nullable() }),
  traps: z.array(z.string().min(1)).min(1),
});

/**
 * A guide read from JSON, checked: shape, that every constant named exists and every constant has a source,
 * and that no constant is left unused. Throws `guide-not-usable` with path and reason.
 */
export function readGuide(value: unknown, where: string): Guide {
  const result = GuideSchema.safeParse(value);
  if (!result.success) throw unusable(where, z.prettifyError(result.error));
  const guide = result.data as unknown as Guide;
  const used = new Set(constantIdsIn(guide));
  for (const [id, constant] of Object.entries(guide.constants)) {
    if (!used.has(id)) throw unusable(where, `the figure ${id} is used by no rule`);
    if (guide.sources[constant.source] === undefined) {
      throw unusable(where, `the figure ${id} names the source ${constant.source}, which is not listed`);
    }
  }
  for (const id of used) {
    if (guide.constants[id] === undefined) throw unusable(where, `the figure ${id} is used and not given`);
  }
  return guide;
}

/** Ids in the places where an `Amount` stands. */
function constantIdsIn(guide: Guide): string[] {
  const words = new Set(["kind", "limitAt", "edgeIn", "name", "counts", "crop", "at", "key"]);
  const walk = (value: unknown): string[] => {
    if (typeof value === "string") return [value];
    if (value === null || typeof value !== "object") return [];
    if (Array.isArray(value)) return value.flatMap(walk);
    return Object.entries(value).flatMap(([key, part]) => (words.has(key) ? [] : walk(part)));
  };
  return [
    ...walk(guide.rules.map((rule) => rule.form)),
    ...walk(guide.criticalLevels.map((entry) => entry.level)),
    ...walk([guide.buildUpYears, guide.bandFactor.P2O5]),
  ];
}

const unusable = (where: string, why: string): InputError =>
  new InputError("guide-not-usable", `${where}: ${why}`, "Correct the guide file.");
