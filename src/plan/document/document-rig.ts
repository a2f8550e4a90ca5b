import { z } from "zod";
import { NotNegative, Positive } from "./document-parts.ts";
import type { PlanBinSize, PlanRigHold, PlanTender } from "./document-rig-types.ts";

/** Optional keys that are spread into a schema. */
export type OptionalKeys<T> = {
  readonly [K in keyof T]-?: z.ZodExactOptional<z.ZodType<Exclude<T[K], undefined>>>;
};

/** Keys of a bin beside id and product. */
export const binSizeKeys: OptionalKeys<PlanBinSize> = {
  volumeFt3: z.exactOptional(Positive).describe("struck volume, ft3"),
  mostLb: z.exactOptional(Positive).describe("most lb this hopper may hold"),
  lbPerFt3: z.exactOptional(Positive).describe("weighed loose density of what is in it, lb/ft3"),
  filledShare: z
    .exactOptional(z.number().positive().max(1.5))
    .describe("of the struck volume; 1 when absent"),
  residualLb: z.exactOptional(NotNegative).describe("lb that cannot be metered out"),
  meterMinLbPerMin: z.exactOptional(Positive),
  meterMaxLbPerMin: z.exactOptional(Positive),
};

/** What a bin is refined with: a meter's least is not above its most. */
export const isMeterInOrder = ({
  meterMinLbPerMin: least = 0,
  meterMaxLbPerMin: most = Number.POSITIVE_INFINITY,
}: PlanBinSize): boolean => least <= most;
export const METER_TURNED: { readonly path: string[]; readonly message: string } = {
  path: ["meterMinLbPerMin"],
  message: "the least that the meter lays is above meterMaxLbPerMin, the most",
};

/** Keys of `rig` that tell how much it holds and how fast it works. */
export const rigHoldKeys: OptionalKeys<PlanRigHold> = {
  work: z
    .exactOptional(
      z.strictObject({
        mph: z.number().positive().max(25),
        turnEfficiency: z
          .exactOptional(z.number().positive().max(1))
          .describe("share of width x speed left after turns, without filling"),
        hoursPerDay: z.exactOptional(z.number().positive().max(24)),
        minutesPerStop: z.exactOptional(NotNegative).describe("drive, position and return, without transfer"),
        fillLbPerMin: z.exactOptional(Positive).describe("from tender to bin"),
        reserveShare: z.exactOptional(z.number().min(0).max(0.5)).describe("of a load, kept back"),
      }),
    )
    .describe("the rig at work and at a stop"),
  carriesLb: z.exactOptional(Positive).describe("most lb all hoppers may hold together"),
  movableWall: z.exactOptional(z.boolean()).describe("the hoppers are one box with a movable wall"),
};

/** Tenders that are alike. */
export const Tender: z.ZodType<PlanTender> = z
  .strictObject({
    count: z.int().min(1).max(20),
    lb: Positive.describe("lb one brings on a trip"),
    tripMin: z.exactOptional(NotNegative).describe("minutes one is away to reload"),
    reachedAt: z
      .exactOptional(z.enum(["both-ends", "one-end"]))
      .describe("ends of the passes where it can be reached; anywhere when absent"),
  })
  .describe("what brings product to the field; product is always at hand when absent");
