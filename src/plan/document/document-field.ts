import { z } from "zod";
import { removalFactors } from "../../agronomy/index.ts";
import { fieldDriveKeys } from "./document-drive.ts";
import {
  Day,
  Id,
  Name,
  NotNegative,
  OfOxides,
  Path,
  Place,
  Positive,
  SeasonYear,
  Words,
} from "./document-parts.ts";
import type { PlanAnisotropy, PlanField, PlanModels } from "./document-types.ts";

export const Anisotropy: z.ZodType<PlanAnisotropy> = z
  .strictObject({ angleDeg: z.number().min(-360).max(360), ratio: z.number().positive().max(1) })
  .describe("the longer axis clockwise from north, and range across it over range along it");

const Model = z.strictObject({
  nugget: NotNegative.describe("in the square of the test's unit"),
  structures: z
    .array(
      z.strictObject({
        type: z.enum(["spherical", "exponential", "gaussian", "matern"]),
        partialSill: NotNegative.describe("in the square of the test's unit"),
        rangeM: Positive,
        kappa: z.exactOptional(Positive).describe("smoothness, matern only"),
      }),
    )
    .max(8),
  anisotropy: z.exactOptional(Anisotropy),
});
export const Models: z.ZodType<PlanModels> = z.strictObject({
  P: z.exactOptional(Model),
  K: z.exactOptional(Model),
  CEC: z.exactOptional(Model),
});

const Shape = z
  .strictObject({ source: Path, record: z.int().min(1) })
  .describe("record from 1 in a shapefile, feature from 1 in GeoJSON");

const Test = z.enum(["P", "K", "CEC"]);
const SampleReason = z.strictObject({
  sample: z.string().min(1),
  test: Test,
  reason: z.string().min(1),
});

const OxideName = z.enum(["P2O5", "K2O"]);

const Nutrient = z
  .strictObject({
    guide: z.exactOptional(z.string().min(1)).describe("another guide for this nutrient alone"),
    guideOptions: z.exactOptional(z.record(z.string(), z.string())),
    crop: z.exactOptional(Words).describe("the guide's own word for the crop"),
    conversion: z
      .exactOptional(Words)
      .describe("a conversion of the test, by name; docs/agronomy.md lists them"),
    criticalLevelPpm: z.exactOptional(Positive).describe("typed for the test as it is, elemental ppm"),
    minLbPerAc: z.exactOptional(NotNegative).describe("lb oxide/ac, strip and broadcast together"),
    belowMinimum: z.exactOptional(z.enum(["raise", "leave-out"])),
    maxLbPerAc: z.exactOptional(NotNegative).describe("lb oxide/ac, strip and broadcast together"),
    additionCounts: z.exactOptional(z.enum(["per crop", "per application"])),
  })
  .refine(({ minLbPerAc: least = 0, maxLbPerAc: most = least }) => least <= most, {
    error: ({ input }) => {
      const { minLbPerAc, maxLbPerAc } = input as { minLbPerAc?: number; maxLbPerAc?: number };
      return `minLbPerAc ${minLbPerAc} is above maxLbPerAc ${maxLbPerAc}`;
    },
  });

const Credit = z.strictObject({
  name: Words,
  kind: z.enum(["manure", "starter", "other"]),
  date: Day,
  lbPerAc: z
    .strictObject({
      P2O5: z.exactOptional(NotNegative),
      K2O: z.exactOptional(NotNegative),
      N: z.exactOptional(NotNegative),
      S: z.exactOptional(NotNegative),
      Zn: z.exactOptional(NotNegative),
    })
    .describe("available in the crop year, lb/ac"),
});

const RateColumn = z.strictObject({
  column: z.exactOptional(z.string().min(1)),
  of: z.exactOptional(z.enum(["oxide", "11-52-0", "0-0-60"])),
  unit: z.exactOptional(z.enum(["lb/ac", "kg/ha"])),
});

const NeedFrom = z
  .discriminatedUnion("kind", [
    z.strictObject({ kind: z.literal("zones"), source: Path, idColumn: z.string().min(1) }),
    z.strictObject({
      kind: z.literal("rates"),
      source: Path,
      rates: z.strictObject({ P2O5: z.exactOptional(RateColumn), K2O: z.exactOptional(RateColumn) }),
    }),
    z.strictObject({
      kind: z.literal("flat"),
      lbPerAc: z.exactOptional(z.strictObject({ P2O5: NotNegative, K2O: NotNegative })),
    }),
  ])
  .describe("composites by zone, the adviser's own rates, or one flat rate; grid samples when absent");

/** One field of plan.json. */
export const Field: z.ZodType<PlanField> = z.strictObject({
  id: Id,
  name: Name,
  boundary: z.array(Shape).min(1),
  guidance: Shape.describe("the line that the rig follows: two points A and B, or more along a curve"),
  ...fieldDriveKeys,
  samples: z
    .exactOptional(Path)
    .describe("the source its soil samples come from; not needed under typed rates"),
  crop: z.string().min(1),
  yieldBuPerAc: Positive,
  guide: z.string().min(1).describe("id of a published guide or of one of ownGuides"),
  guideOptions: z.exactOptional(z.record(z.string(), z.string())),
  broadcast: z.enum(["later", "none"]).describe("whether a spreader brings what the strip does not"),
  frameCentre: z
    .exactOptional(Place)
    .describe("middle of the field's plane, within 5 km of the boundary's middle, which it is when absent"),
  models: z.exactOptional(Models).describe("variograms of this field alone"),
  moreSamples: z.exactOptional(z.array(Path)),
  samplings: z.exactOptional(
    z.strictObject({
      P: z.exactOptional(z.array(z.string().min(1)).min(1)),
      K: z.exactOptional(z.array(z.string().min(1)).min(1)),
      CEC: z.exactOptional(z.array(z.string().min(1)).min(1)),
      mix: z.exactOptional(z.array(Test)),
    }),
  ),
  yieldZones: z.exactOptional(
    z.strictObject({ source: Path, column: z.string().min(1).describe("yield goal, bu/ac") }),
  ),
  secondYieldBuPerAc: z.exactOptional(Positive).describe("of the second crop of a two-crop rate"),
  rotation: z
    .exactOptional(z.array(Words).min(1))
    .describe("crops in order; of a crop that stands twice, the season's is the first"),
  residueLbPerAc: z.exactOptional(OfOxides).describe("leaving with straw or stover, lb oxide/ac"),
  alsoFor: z
    .exactOptional(
      z.array(
        z.strictObject({
          crop: Words,
          yieldBuPerAc: Positive,
          residueLbPerAc: z.exactOptional(OfOxides),
          nutrients: z.exactOptional(z.array(OxideName).min(1)),
        }),
      ),
    )
    .describe("crops of later seasons that this application is made for too"),
  firstSeasonYear: z.exactOptional(SeasonYear).describe("first season the tests in use serve"),
  earlier: z
    .exactOptional(
      z.array(
        z.strictObject({
          nutrient: OxideName,
          seasonYear: SeasonYear,
          yearsCovered: z.int().min(1).max(10).describe("its own season counted"),
        }),
      ),
    )
    .describe("applications of earlier seasons made for more than their own"),
  credits: z.exactOptional(z.array(Credit)),
  nutrients: z.exactOptional(
    z.strictObject({ P2O5: z.exactOptional(Nutrient), K2O: z.exactOptional(Nutrient) }),
  ),
  needFrom: z.exactOptional(NeedFrom),
  alsoWantedLbPerAc: z
    .exactOptional(
      z.strictObject({
        N: z.exactOptional(NotNegative),
        S: z.exactOptional(NotNegative),
        Zn: z.exactOptional(NotNegative),
      }),
    )
    .describe("flat for the field, counted with what the products bring along"),
  removalFactors: z
    .exactOptional(z.enum([...new Set(removalFactors.map((factor) => factor.id))] as [string, ...string[]]))
    .describe("for the balance sheet, where the guide has no removal"),
  switchedOff: z.exactOptional(z.array(SampleReason)).describe("samples left out of the map of a test"),
  kept: z
    .exactOptional(z.array(SampleReason))
    .describe("values checked and kept though their neighbours deny them: not asked about again"),
});
