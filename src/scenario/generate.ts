import { boundsOf } from "../geo/index.ts";
import { readPlan } from "../plan/index.ts";
import { boundaryZip, guidanceGeoJson, writtenFields } from "./field-files.ts";
import { BRIEF_LAYOUT, FULL_LAYOUT, type LabLayout, type LabResult, labResult, labTable } from "./lab.ts";
import type { Land, LandField } from "./land.ts";
import { sectionsLayout } from "./layout-sections.ts";
import { singleLayout } from "./layout-single.ts";
import { randomStream } from "./random.ts";
import { samplePlaces } from "./sampling.ts";
import { BOUNDARY_PATH, GUIDANCE_PATH, PLAN_PATH, type SampleFile, scenarioPlan } from "./scenario-plan.ts";
import type { Seed } from "./seed-types.ts";
import { type Truth, trueSoil } from "./truth.ts";

export interface Scenario {
  /** Path in the scenario's folder -> bytes, in a fixed order. */
  readonly files: ReadonlyMap<string, Uint8Array>;
  /** The soil behind the samples, for tests; no file holds it. */
  readonly truth: Truth;
  readonly land: Land;
}

/** The whole scenario of a seed: the same seed gives the same bytes. */
export function generate(seed: Seed): Scenario {
  const { layout } = seed;
  const land = layout.kind === "single" ? singleLayout(seed, layout) : sectionsLayout(seed, layout);
  const truth = trueSoil(seed, land);
  const written = writtenFields(land, truth.frame);
  const boundary = boundaryZip("fields", seed.farm, written, seed.date);
  const guidance = guidanceGeoJson(land, truth.frame);
  const labs = labsOf(land);
  const samples = labs.map((lab) => sampleFile(seed, land, truth, lab));
  const fields = land.fields.map((field, i) => ({
    land: field,
    written: written[i]!,
    samples: labs.find((lab) => lab.fields.includes(field))!.path,
  }));
  const plan = scenarioPlan(seed, boundary, guidance, samples, fields);
  const planText = new TextEncoder().encode(`${JSON.stringify(plan, null, 2)}\n`);
  readPlan(planText, `plan of ${seed.name}`); // refuses keys that no plan has
  const files = new Map<string, Uint8Array>([
    [PLAN_PATH, planText],
    [BOUNDARY_PATH, boundary],
    [GUIDANCE_PATH, guidance],
    ...samples.map(({ path, bytes }): [string, Uint8Array] => [path, bytes]),
  ]);
  return { files, truth, land };
}

interface LabOrder {
  readonly path: string;
  readonly layout: LabLayout;
  readonly fields: readonly LandField[];
}

/** One laboratory for a single field; on a farm one for the fields whose middle lies west, one for the others. */
function labsOf({ fields }: Land): LabOrder[] {
  if (fields.length === 1) return [{ path: `${FULL_LAYOUT.stem}.csv`, layout: FULL_LAYOUT, fields }];
  const isWest = ({ polygons }: LandField): boolean => {
    const { minX, maxX } = boundsOf(polygons);
    return minX + maxX < 0;
  };
  return [
    { path: `${FULL_LAYOUT.stem}-west.csv`, layout: FULL_LAYOUT, fields: fields.filter(isWest) },
    {
      path: `${BRIEF_LAYOUT.stem}-east.csv`,
      layout: BRIEF_LAYOUT,
      fields: fields.filter((field) => !isWest(field)),
    },
  ];
}

function sampleFile(
  seed: Seed,
  { fields: all }: Land,
  truth: Truth,
  { path, layout, fields }: LabOrder,
): SampleFile {
  let labNumber = layout.firstLabNumber;
  const results = fields.flatMap((field): LabResult[] => {
    const random = randomStream(seed.seed, `samples/${all.indexOf(field)}`);
    labNumber += random.below(40);
    return samplePlaces(random, field.polygons).map(([x, y], i) =>
      labResult(random, seed.soil, truth.atPlane(x, y), {
        field: field.name,
        sample: i + 1,
        labNumber: labNumber++,
        date: layout.date,
        lonLat: truth.frame.toLonLat([x, y]),
      }),
    );
  });
  return { path, bytes: labTable(layout, results), answers: layout.answers };
}
