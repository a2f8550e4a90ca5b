import { z } from "zod";
import { rigDriveKeys } from "./document-drive.ts";
import { Anisotropy, Field, Models } from "./document-field.ts";
import { Budget, Exclusions, GuideChecks, Sampling } from "./document-need.ts";
import {
  Day,
  Id,
  isSpanInOrder,
  Name,
  NotNegative,
  Path,
  Positive,
  SeasonYear,
  SPAN_TURNED,
} from "./document-parts.ts";
import { binSizeKeys, isMeterInOrder, METER_TURNED, rigHoldKeys, Tender } from "./document-rig.ts";
import { seasonKeys } from "./document-season.ts";
import { Blends, binUseKeys, OwnProducts, ProductName, Seed, splitWayKeys } from "./document-split.ts";
import type { Plan } from "./document-types.ts";
import { LEAST_ROW_SPACING_IN, LEAST_SPREADER_CELL_FT, MOST_ROWS } from "./machine-limits.ts";

const Source = z.strictObject({
  path: Path,
  as: z.enum(["boundary", "guidance", "samples", "zones", "rates", "exclusions", "places"]),
  sha256: z.string().regex(/^[0-9a-f]{64}$/, "64 hexadecimal digits"),
  answers: z.record(z.string(), z.string()),
  sampling: z.exactOptional(Sampling),
});

const OwnTable = z
  .strictObject({
    test: z.enum(["P", "K"]),
    crop: z.string().min(1),
    method: z.string().min(1).describe("extractant the table is meant for, such as mehlich-3"),
    belowPpm: z.array(Positive).describe("rising class limits; a test on a limit is in the class above it"),
    lbPerAc: z.array(NotNegative).describe("lb/ac of oxide, one more than there are limits"),
  })
  .refine((table) => table.lbPerAc.length === table.belowPpm.length + 1, {
    message: "lbPerAc needs one value more than belowPpm has limits",
    path: ["lbPerAc"],
  })
  .refine((table) => table.belowPpm.every((limit, i) => i === 0 || limit > (table.belowPpm[i - 1] ?? 0)), {
    message: "limits must rise",
    path: ["belowPpm"],
  });

const OwnLineTable = z
  .strictObject({
    test: z.enum(["P", "K"]),
    crop: z.string().min(1),
    method: z.string().min(1),
    points: z.array(z.strictObject({ ppm: NotNegative, lbPerAc: NotNegative })).min(1),
  })
  .refine((table) => table.points.every((point, i) => i === 0 || point.ppm > table.points[i - 1]!.ppm), {
    message: "tests must rise",
    path: ["points"],
  })
  .describe("straight lines between points, level outside them");

const OwnGuide = z
  .strictObject({
    id: Id,
    name: Name,
    tables: z.array(OwnTable),
    lineTables: z.exactOptional(z.array(OwnLineTable)),
  })
  .refine((guide) => guide.tables.length + (guide.lineTables?.length ?? 0) > 0, "needs a table");

const Controller = z
  .strictObject({
    nameLength: z.exactOptional(z.int().min(8).max(60)).describe("letters of a file name without its ending"),
    folder: z
      .exactOptional(z.string().regex(/^[A-Za-z0-9_]{0,20}$/, "letters, digits and underscore, 20 at most"))
      .refine((folder) => !/^(TASKDATA|FALLBACK)$/i.test(folder ?? ""), "TASKDATA and FALLBACK are taken")
      .describe("folder of the stick the maps go to; empty for the top"),
    oneMapAFolder: z.exactOptional(z.boolean()),
    mostPolygons: z.exactOptional(z.int().min(10)).describe("in one map"),
    mostVertices: z.exactOptional(z.int().min(20)).describe("of one polygon"),
    holesAllowed: z.exactOptional(z.boolean()),
    mostBytes: z.exactOptional(z.int().min(10_000)).describe("of one .shp"),
    zeroRate: z
      .exactOptional(z.enum(["off", "no-data", "small"]))
      .describe(
        "what a rate 0 does: stops the meter; means no data, so the default rate; or must not be written",
      ),
    smallRateLbPerAc: z
      .exactOptional(Positive)
      .describe("written in the plain fallback where the map has 0; zeroRate small only"),
    taskRates: z.exactOptional(z.enum(["grid", "zones"])),
    startLbPerAc: z.exactOptional(NotNegative).describe("sent when a task starts, lb product/ac; else 0"),
    positionLostLbPerAc: z.exactOptional(NotNegative).describe("sent when the position fails; else 0"),
    outOfFieldLbPerAc: z.exactOptional(NotNegative).describe("sent outside the field; else 0"),
    loads: z
      .exactOptional(z.array(z.enum(["shapefile", "kg-ha", "fallback", "taskdata-4", "taskdata-3"])).min(1))
      .describe("forms that go on the stick"),
  })
  .refine((controller) => (controller.zeroRate === "small") === (controller.smallRateLbPerAc !== undefined), {
    message: "zeroRate small and smallRateLbPerAc go together",
    path: ["smallRateLbPerAc"],
  })
  .refine(({ loads = [] }) => !loads.includes("kg-ha") || loads.length === 1, {
    message: "maps in kg/ha go on a stick alone: two units on one stick get mixed up",
    path: ["loads"],
  })
  .refine(({ loads = [] }) => !(loads.includes("taskdata-4") && loads.includes("taskdata-3")), {
    message: "a stick holds task data of one version",
    path: ["loads"],
  })
  .describe("what the rate controller takes");

/** The strict schema of plan.json: an unknown key is an error. */
export const PlanDocument: z.ZodType<Plan> = z
  .strictObject({
    format: z.literal("plan/1"),
    name: Name,
    seasonYear: SeasonYear,
    date: Day.describe("written into dbf headers and archives: two builds give equal bytes"),
    sources: z.array(Source).min(1),
    rig: z.strictObject({
      rows: z.int().min(1).max(MOST_ROWS),
      rowSpacingIn: z.number().min(LEAST_ROW_SPACING_IN),
      bins: z
        .array(
          z
            .strictObject({
              id: z.string().regex(/^[A-Za-z0-9]{1,4}$/, "one to four letters or digits"),
              product: ProductName,
              ...binSizeKeys,
              ...binUseKeys,
            })
            .refine(isMeterInOrder, METER_TURNED),
        )
        .min(1)
        .max(6),
      segmentM: z.number().min(1).max(500).describe("length of a rate segment along the pass, m"),
      rateStepLbPerAc: Positive.describe("strip rates are whole multiples of this, lb product/ac"),
      ...rigHoldKeys,
      ...rigDriveKeys,
    }),
    tender: z.exactOptional(Tender),
    ...seasonKeys,
    spreader: z.strictObject({
      widthFt: z.number().min(LEAST_SPREADER_CELL_FT).describe("across the passes, ft"),
      lengthFt: z.number().min(LEAST_SPREADER_CELL_FT).describe("along the passes, ft"),
      rateStepLbPerAc: Positive,
      products: z
        .exactOptional(z.array(ProductName).min(1).max(6))
        .describe("what it spreads; the products of the bins, blends by their parts, when absent"),
      leastLbPerAc: z.exactOptional(Positive).describe("lowest rate it can spread, all products together"),
    }),
    split: z.strictObject({
      capLbPerAc: NotNegative.describe(
        "lb of all products together per acre of the ground the strip may go over",
      ),
      capBasis: z
        .enum(["field-mean", "most-in-a-cell"])
        .describe("what the cap is the limit of; of the mean always with share and optimum"),
      within: z
        .enum(["first-11-52-0", "alike"])
        .describe("under the ceiling a cell fills 11-52-0 first, or cuts every product by one factor"),
      ...splitWayKeys,
    }),
    products: z.exactOptional(OwnProducts),
    blends: z.exactOptional(Blends),
    seed: z.exactOptional(Seed),
    maps: z.strictObject({
      cellM: z.literal(10),
      method: z.enum(["kriging", "inverse-distance"]),
      power: z.exactOptional(z.number().min(0.5).max(6)).describe("of the distance; inverse-distance only"),
      models: z.exactOptional(Models).describe("variograms for every field that has none of its own"),
      pooled: z
        .exactOptional(z.boolean())
        .describe("add up the likelihoods of the plan's fields, test by test"),
      anisotropy: z.exactOptional(Anisotropy),
      support: z.exactOptional(z.enum(["cell", "point"])),
    }),
    need: z.exactOptional(
      z
        .strictObject({
          drivenBy: z.enum(["mapped-test", "expected", "weighted"]),
          usdPerLbMissing: z.exactOptional(Positive),
          usdPerLbExcess: z.exactOptional(Positive),
        })
        .refine(
          (need) =>
            need.drivenBy !== "weighted" ||
            (need.usdPerLbMissing !== undefined && need.usdPerLbExcess !== undefined),
          "weighted needs usdPerLbMissing and usdPerLbExcess",
        ),
    ),
    guides: z.exactOptional(GuideChecks),
    samplingLimitYears: z.exactOptional(Positive).describe("older samplings are pointed out; 4 when absent"),
    cropYear: z
      .exactOptional(z.strictObject({ from: Day, to: Day }).refine(isSpanInOrder, SPAN_TURNED))
      .describe("credits dated outside it do not count; 1 September before to 31 August when absent"),
    exclusions: z.exactOptional(Exclusions),
    budget: z.exactOptional(Budget),
    ownGuides: z.exactOptional(z.array(OwnGuide)),
    pricesUsdPerTon: z
      .exactOptional(z.record(ProductName, NotNegative))
      .describe("$ per short ton, by product"),
    controller: z.exactOptional(Controller),
    extras: z
      .exactOptional(z.array(z.enum(["taskdata-4", "taskdata-3", "kg-ha", "kml", "csv", "fallback"])).min(1))
      .describe("other forms of every map to write besides"),
    fields: z.array(Field).min(1),
  })
  .describe("bermplan plan, format 1");
