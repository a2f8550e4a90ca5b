import { z } from "zod";
import { saltThresholds } from "../../split/index.ts";
import { Day, Name, NotNegative, OfOxides, Percent, Positive, Words } from "./document-parts.ts";
import type { OptionalKeys } from "./document-rig.ts";
import type {
  PlanBinUse,
  PlanBlend,
  PlanGrade,
  PlanProduct,
  PlanSeed,
  PlanSplitWay,
} from "./document-split-types.ts";
import { SPLIT_LAYERS } from "./split-layers.ts";

export const ProductName: z.ZodType<string> = z
  .string()
  .regex(/^[A-Za-z0-9][A-Za-z0-9.-]{0,19}$/, "letters, digits, hyphens and dots, 20 at most")
  .describe("a product of the list in docs/split.md, one of the plan's products, or a blend");

const Grade: z.ZodType<PlanGrade> = z.strictObject({
  N: z.exactOptional(Percent),
  P2O5: z.exactOptional(Percent),
  K2O: z.exactOptional(Percent),
  S: z.exactOptional(Percent),
  Mg: z.exactOptional(Percent),
  Zn: z.exactOptional(Percent),
  B: z.exactOptional(Percent),
  Mn: z.exactOptional(Percent),
  Cu: z.exactOptional(Percent),
});
const Range = z
  .strictObject({ low: Positive, high: Positive })
  .refine(({ low, high }) => low <= high, "low must not be above high");

export const OwnProducts: z.ZodType<readonly PlanProduct[]> = z
  .array(
    z.strictObject({
      id: ProductName,
      name: Name,
      grade: Grade.describe("percent by weight, from the label"),
      lbPerFt3: z.exactOptional(Range).describe("loose bulk density, lb/ft3"),
      saltIndex: z.exactOptional(NotNegative).describe("by weight, sodium nitrate = 100"),
      criticalHumidityPercent: z.exactOptional(z.number().positive().max(100)),
      sizeGuideNumber: z.exactOptional(Range).describe("mean size, mm x 100"),
    }),
  )
  .describe("products of one's own; prices go into pricesUsdPerTon");

/** Keys of a bin that tell what goes with its product. */
export const binUseKeys: OptionalKeys<PlanBinUse> = {
  flatLbPerAc: z
    .exactOptional(Positive)
    .describe("laid everywhere, lb product/ac; for products that bring neither P2O5 nor K2O"),
  coated: z
    .exactOptional(
      z
        .array(
          z.strictObject({
            element: z.enum(["Zn", "B", "Mn", "Cu"]),
            lbPerTon: z.number().positive().max(1_000).describe("lb of the element on a short ton"),
            wantedLbPerAc: z.exactOptional(Positive),
          }),
        )
        .min(1),
    )
    .describe("micronutrients coated on what the bin holds"),
};

export const Blends: z.ZodType<readonly PlanBlend[]> = z
  .array(
    z
      .strictObject({
        id: z
          .string()
          .regex(/^[a-z][a-z0-9]{0,7}$/, "small letters and digits, 8 at most")
          .describe("named as the product of a bin"),
        of: z.array(ProductName).min(2).max(6),
        fit: z.enum(["cover-both", "least-misfit", "typed"]),
        shares: z.exactOptional(z.array(z.number().min(0).max(1)).min(2)),
        rate: z.exactOptional(z.enum(["cover-both", "least-misfit", "no-excess"])),
        ratios: z.exactOptional(z.int().min(1).max(6)).describe("over the plan's fields, one a field"),
        usdPerLbShort: z.exactOptional(OfOxides),
        batchLb: z.exactOptional(Positive),
        stepLb: z.exactOptional(Positive),
        bagLb: z.exactOptional(z.record(z.string(), Positive)),
      })
      .refine((blend) => (blend.fit === "typed") === (blend.shares !== undefined), {
        message: "typed shares and fit typed go together",
        path: ["shares"],
      })
      .refine((blend) => blend.shares === undefined || blend.shares.length === blend.of.length, {
        message: "needs one share a product",
        path: ["shares"],
      })
      .refine(
        (blend) => blend.shares === undefined || Math.abs(blend.shares.reduce((a, b) => a + b, 0) - 1) < 1e-6,
        { message: "shares must add up to 1", path: ["shares"] },
      )
      .refine((blend) => blend.fit === "typed" || blend.of.length === 2, {
        message: "a ratio is found for two products; more need typed shares",
        path: ["of"],
      }),
  )
  .describe("several products in one bin at one ratio");

const BandFactor = z.number().min(0.5).max(1);

/** Keys of `split` beside the cap. */
export const splitWayKeys: OptionalKeys<PlanSplitWay> = {
  method: z
    .exactOptional(z.enum(["ceiling", "share", "priority", "optimum"]))
    .describe("common ceiling (when absent), common share, by priority, least cost"),
  starterLbPerAc: z
    .exactOptional(OfOxides)
    .describe("lb oxide/ac of the need that stays in the strip before anything else"),
  order: z.exactOptional(
    z
      .array(z.enum(SPLIT_LAYERS))
      .length(SPLIT_LAYERS.length)
      .refine((order) => new Set(order).size === SPLIT_LAYERS.length, "each part once"),
  ),
  across: z.exactOptional(z.enum(["cell", "field"])),
  acresPerDay: z
    .exactOptional(Positive)
    .describe("the cap is the mean rate at which the rig still does so many; needs rig.work"),
  broadcastWhen: z.exactOptional(z.enum(["after-harvest", "before-crop", "in-crop"])),
  bandFactorP2O5: z
    .exactOptional(z.union([BandFactor, z.record(Words, BandFactor)]))
    .describe(
      "of the P2O5 in the strip below critical (docs/split.md), for every guide or by guide id; 1 when absent",
    ),
  optimum: z.exactOptional(
    z.strictObject({
      capHolds: z.exactOptional(z.boolean()),
      usdPerRigHour: z.exactOptional(NotNegative),
      usdPerAcPass: z.exactOptional(NotNegative),
      usdPerLbPlaced: z.exactOptional(OfOxides),
      mostLbPerAc: z.exactOptional(
        z.strictObject({ N: z.exactOptional(NotNegative), S: z.exactOptional(NotNegative) }),
      ),
    }),
  ),
};

const thresholdKeys = Object.keys(saltThresholds) as [keyof typeof saltThresholds];
const Thresholds = z.partialRecord(z.enum(thresholdKeys), NotNegative);

export const Seed: z.ZodType<PlanSeed> = z
  .strictObject({
    distanceIn: z.exactOptional(NotNegative).describe("nearest distance of the band to the seed, in."),
    bandDepthIn: z.exactOptional(NotNegative),
    texture: z.exactOptional(z.enum(["sandy", "other"])),
    sandyBelowCecMeq: z.exactOptional(Positive).describe("cells below count as sandy, meq/100 g"),
    calcareous: z.exactOptional(z.boolean()),
    starterLbPerAc: z.exactOptional(
      z.strictObject({
        N: z.exactOptional(NotNegative),
        K2O: z.exactOptional(NotNegative),
        S: z.exactOptional(NotNegative),
      }),
    ),
    starterSharesPlace: z.exactOptional(z.boolean()),
    boronLbPerAc: z.exactOptional(NotNegative),
    cutToLimit: z.exactOptional(z.boolean()).describe("false: flagged, not cut to the limit"),
    thresholds: z.exactOptional(Thresholds).describe("limits in place of those in docs/split.md"),
    acknowledged: z
      .exactOptional(z.strictObject({ by: Words, date: Day }))
      .describe("who took note of salt above the 2 x 2 limit beyond 3 in."),
  })
  .describe("what lies near the seed; unanswered distance counts as with the seed");
