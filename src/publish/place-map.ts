import { mergeTaskData, sha256Hex } from "../formats/index.ts";
import type { FileSource, Plan } from "../plan/index.ts";
import { FALLBACK_MARK, KG_HA_MARK } from "../prescription/index.ts";
import type { LoadForm } from "../report/index.ts";
import type { BuiltMap } from "./built-maps.ts";
import { formFolder, isFallbackPath } from "./form-folder.ts";
import type { LoadFirst } from "./stick-json.ts";
import { nameWithLetter } from "./stick-names.ts";

/** Whether a form is task data: one set for all fields, without the letter of a revision. */
export const isTaskData = (form: LoadForm): form is "taskdata-4" | "taskdata-3" =>
  form === "taskdata-4" || form === "taskdata-3";

const SHAPEFILE = /\.(shp|shx|dbf|prj|cpg)$/;

/** Path on the stick -> path in the build, of the shapefiles of a map in the forms that go on the stick. `base` is its name without marks and letter. */
export function placesOfMap(
  plan: Plan,
  map: BuiltMap,
  forms: readonly LoadForm[],
  base: string,
  revision: number,
): Map<string, string> {
  const places = new Map<string, string>();
  for (const form of forms) {
    if (isTaskData(form)) continue;
    const source = form === "shapefile" ? map.files : map.extras[form];
    const mark = form === "fallback" ? FALLBACK_MARK : form === "kg-ha" ? KG_HA_MARK : "";
    const name = nameWithLetter(base, mark, revision);
    for (const path of (source ?? []).filter((one) => SHAPEFILE.test(one)))
      places.set(placeOf(plan, form, forms, name, path.slice(path.lastIndexOf("."))), path);
  }
  return places;
}

function placeOf(
  plan: Plan,
  form: LoadForm,
  forms: readonly LoadForm[],
  name: string,
  ending: string,
): string {
  const parts = [
    formFolder(plan, form, forms),
    ...(plan.controller?.oneMapAFolder ? [name] : []),
    `${name}${ending}`,
  ];
  return parts.filter((part) => part !== "").join("/");
}

/** The first form of a map's order that is on the stick, with its own figures. */
export function loadFirst(map: BuiltMap, forms: readonly LoadForm[], paths: Iterable<string>): LoadFirst {
  const form = map.load.find((one) => forms.includes(one)) ?? forms[0]!;
  if (isTaskData(form)) {
    const { task = map.stem, totalLb, minLbPerAc } = map.extraFigures[form]!;
    return { form, name: task, totalLb, minLbPerAc };
  }
  const isWanted = (path: string): boolean => isFallbackPath(path, forms) === (form === "fallback");
  const name = [...paths].find((one) => one.endsWith(".shp") && isWanted(one))!.slice(0, -".shp".length);
  if (form !== "fallback") return { form, name, totalLb: map.totalLb, minLbPerAc: map.minLbPerAc };
  const { totalLb, minLbPerAc, holesAc, keptClearAc } = map.extraFigures.fallback!;
  return {
    ...{ form, name, totalLb, minLbPerAc },
    ...(holesAc === undefined ? {} : { holesAc }),
    ...(keptClearAc === undefined ? {} : { keptClearAc }),
  };
}

/** SHA-256 of a value as JSON. */
export const sha256Of = (value: unknown): string =>
  sha256Hex(new TextEncoder().encode(JSON.stringify(value)));

/** Hash of all files of a map in some forms, by their own hashes. */
export const hashOfForms = (map: BuiltMap, forms: readonly LoadForm[]): string =>
  sha256Of(
    forms.map((form) => {
      const paths = (form === "shapefile" ? map.files : map.extras[form]) ?? [];
      return [form, paths.map((path) => [path, map.hashes[path]])];
    }),
  );

/** Hash of what carries the letter of a map: its shapefiles; of its task where that alone goes on the stick. */
export function hashOfMap(map: BuiltMap, forms: readonly LoadForm[]): string {
  const lettered = forms.filter((form) => !isTaskData(form));
  return hashOfForms(map, lettered.length > 0 ? lettered : forms);
}

/** The tasks of some maps as one TASKDATA: path on the stick -> bytes. */
export async function mergedTasks(
  build: FileSource,
  maps: readonly BuiltMap[],
  form: "taskdata-4" | "taskdata-3",
): Promise<ReadonlyMap<string, Uint8Array>> {
  const sets = new Map<string, Map<string, Uint8Array>>();
  for (const path of new Set(maps.flatMap((map) => map.extras[form] ?? []))) {
    const at = path.indexOf("TASKDATA/");
    const set = sets.get(path.slice(0, at)) ?? new Map<string, Uint8Array>();
    set.set(path.slice(at), await build.read(path));
    sets.set(path.slice(0, at), set);
  }
  return mergeTaskData([...sets.values()]);
}
