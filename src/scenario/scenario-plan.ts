import { sha256Hex } from "../formats/index.ts";
import type { Plan, PlanField, PlanSeason, PlanSource, SourceRole } from "../plan/index.ts";
import type { WrittenField } from "./field-files.ts";
import type { LandField } from "./land.ts";
import type { Seed, SeedWork } from "./seed-types.ts";

export const PLAN_PATH = "plan.json";
export const BOUNDARY_PATH = "boundary.zip";
export const GUIDANCE_PATH = "guidance.geojson";

export interface SampleFile {
  readonly path: string;
  readonly bytes: Uint8Array;
  readonly answers: Readonly<Record<string, string>>;
}

interface PlannedField {
  readonly land: LandField;
  readonly written: WrittenField;
  readonly samples: string;
}

/** A plan with every choice made and every question answered, so that a build asks nothing. */
export function scenarioPlan(
  seed: Seed,
  boundary: Uint8Array,
  guidance: Uint8Array,
  samples: readonly SampleFile[],
  fields: readonly PlannedField[],
): Plan {
  const { work } = seed;
  const source = (
    path: string,
    as: SourceRole,
    bytes: Uint8Array,
    answers: PlanSource["answers"],
  ): PlanSource => ({ path, as, sha256: sha256Hex(bytes), answers });
  return {
    format: "plan/1",
    name: seed.farm,
    seasonYear: seed.seasonYear,
    date: seed.date,
    sources: [
      source(BOUNDARY_PATH, "boundary", boundary, {}),
      source(GUIDANCE_PATH, "guidance", guidance, {}),
      ...samples.map(({ path, bytes, answers }) => source(path, "samples", bytes, answers)),
    ],
    rig: {
      rows: 16,
      rowSpacingIn: 30,
      bins: [
        { id: "L", product: "11-52-0", ...work.bins[0] },
        { id: "R", product: "0-0-60", ...work.bins[1] },
      ],
      segmentM: 30,
      rateStepLbPerAc: 5,
      ...work.rig,
    },
    spreader: { widthFt: 60, lengthFt: 60, rateStepLbPerAc: 5 },
    split: { capLbPerAc: seed.capLbPerAc, capBasis: "field-mean", within: "first-11-52-0" },
    maps: { cellM: 10, method: "kriging" },
    fields: fields.map((field, i) => planField(seed, field, i)),
    tender: work.tender,
    seed: work.nearSeed,
    pricesUsdPerTon: work.pricesUsdPerTon,
    season: seasonOf(work, fields),
    order: work.order,
  };
}

const idOf = ({ name }: LandField): string => name.toLowerCase().replaceAll(" ", "-");

/** Each planter with the fields of its crop, and the strips in the same order. */
function seasonOf({ season }: SeedWork, fields: readonly PlannedField[]): PlanSeason {
  const planters = season.planters.map(({ crop, ...planter }) => ({
    ...planter,
    fields: fields.filter(({ land }) => land.crop === crop).map(({ land }) => idOf(land)),
  }));
  return { ...season, order: planters.flatMap((planter) => planter.fields), planters };
}

function planField(seed: Seed, { land, written, samples }: PlannedField, index: number): PlanField {
  return {
    id: idOf(land),
    name: land.name,
    boundary: written.records.map((record) => ({ source: BOUNDARY_PATH, record })),
    guidance: { source: GUIDANCE_PATH, record: index + 1 },
    samples,
    crop: land.crop,
    yieldBuPerAc: land.yieldBuPerAc,
    guide: seed.guide,
    guideOptions: seed.guideOptions,
    broadcast: "later",
  };
}
