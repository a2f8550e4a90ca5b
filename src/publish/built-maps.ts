import { InputError } from "../errors/index.ts";
import { fileStem } from "../formats/index.ts";
import type { FileSource, Plan } from "../plan/index.ts";
import type { ExtraForm } from "../prescription/index.ts";
import { type LoadForm, usualForms } from "../report/index.ts";
import type { NamedMap } from "./stick-names.ts";

/** A map of a build, as its result.json lists it. */
export interface BuiltMap extends NamedMap {
  readonly product: string;
  readonly totalLb: number;
  readonly minLbPerAc: number;
  /** Paths in the build. */
  readonly files: readonly string[];
  readonly extras: Readonly<Partial<Record<ExtraForm, readonly string[]>>>;
  /** Forms in the order to try them. */
  readonly load: readonly LoadForm[];
  /** Pounds, least rate (lb/ac) and, of task data, the task's name, of each other form. */
  readonly extraFigures: Readonly<Partial<Record<ExtraForm, FormFigures>>>;
  /** The rate that its fallback has in place of 0, lb/ac; null where 0 stays 0, and without a fallback. */
  readonly smallRateLbPerAc: number | null;
  /** SHA-256 by path. */
  readonly hashes: Readonly<Record<string, string>>;
}

/** What a form of a map places, as result.json has it. */
export interface FormFigures {
  readonly totalLb: number;
  readonly minLbPerAc: number;
  readonly task?: string;
  /** Whether the task has a rate 0 anywhere; absent in what an earlier version built, and of other forms. */
  readonly sendsZero?: boolean;
  /** Acres of holes with rate 0; a fallback's alone. */
  readonly holesAc?: number;
  /** Acres kept clear with rate 0, where no other ground may have a 0; a fallback's alone. */
  readonly keptClearAc?: number;
}

interface ListedFile {
  readonly path: string;
  readonly sha256: string;
}

interface ListedMap {
  readonly field: string;
  readonly pass: "strip" | "broadcast";
  readonly bin: string;
  readonly product: string;
  readonly totalLb: number;
  readonly minLbPerAc: number;
  readonly files: readonly ListedFile[];
  /** Absent in what an earlier version built. */
  readonly load?: readonly LoadForm[];
  readonly extras?: readonly (ListedFile &
    FormFigures & {
      readonly form: ExtraForm;
      readonly smallRateLbPerAc?: number;
    })[];
}

/** The maps of a build whose files were held against its manifest, in the order of result.json. */
export async function builtMaps(build: FileSource): Promise<BuiltMap[]> {
  const text = new TextDecoder().decode(await build.read("result.json"));
  const { prescriptions } = JSON.parse(text) as { readonly prescriptions: readonly ListedMap[] };
  // A finished pass has rates and no files.
  const withFiles = prescriptions.filter((map) => map.files.length > 0);
  return withFiles.map((map) => {
    const extras: Partial<Record<ExtraForm, string[]>> = {};
    const extraFigures: Partial<Record<ExtraForm, FormFigures>> = {};
    for (const { form, path, totalLb, minLbPerAc, task, sendsZero, holesAc, keptClearAc } of map.extras ??
      []) {
      extraFigures[form] = {
        totalLb,
        minLbPerAc,
        ...(task === undefined ? {} : { task }),
        ...(sendsZero === undefined ? {} : { sendsZero }),
        ...(holesAc === undefined ? {} : { holesAc }),
        ...(keptClearAc === undefined ? {} : { keptClearAc }),
      };
      const paths = extras[form] ?? [];
      paths.push(path);
      extras[form] = paths;
    }
    const shp = map.files.find(({ path }) => path.endsWith(".shp"))!.path;
    return {
      stem: fileStem(shp),
      field: map.field,
      pass: map.pass,
      bin: map.bin,
      product: map.product,
      totalLb: map.totalLb,
      minLbPerAc: map.minLbPerAc,
      smallRateLbPerAc: map.extras?.find(({ form }) => form === "fallback")?.smallRateLbPerAc ?? null,
      files: map.files.map(({ path }) => path),
      extras,
      extraFigures,
      load: map.load ?? ["shapefile", "kg-ha", "fallback", "taskdata-4", "taskdata-3"],
      hashes: Object.fromEntries(
        [...map.files, ...(map.extras ?? [])].map(({ path, sha256 }) => [path, sha256]),
      ),
    };
  });
}

/** Stems of the planned maps whose place a set of catch-up maps takes; null where result.json does not say it, as of an earlier version. */
export async function placesTaken(build: FileSource): Promise<readonly string[] | null> {
  const text = new TextDecoder().decode(await build.read("result.json"));
  return (JSON.parse(text) as { readonly takesPlaceOf?: readonly string[] }).takesPlaceOf ?? null;
}

/**
 * The forms that go on a stick: as the plan's controller says, else the maps and, of what was built, the fallback and one
 * version of task data, 4 before 3. Throws `form-not-built` for one that the build does not hold.
 */
export function loadedForms(plan: Plan, maps: readonly BuiltMap[], taskData: boolean): LoadForm[] {
  const isBuilt = (form: LoadForm) =>
    form === "shapefile" || maps.some((map) => map.extras[form] !== undefined);
  const said = plan.controller?.loads;
  const missing = said?.find((form) => !isBuilt(form));
  if (missing !== undefined) {
    const message = `The controller loads ${missing}, which the build does not hold.`;
    throw new InputError("form-not-built", message, "Build the plan again.");
  }
  return (said ?? usualForms(isBuilt)).filter((form) => taskData || !form.startsWith("taskdata"));
}

/** Whether task data would go on the stick. */
export const loadsTaskData = (plan: Plan, maps: readonly BuiltMap[]): boolean =>
  loadedForms(plan, maps, true).some((form) => form.startsWith("taskdata"));
