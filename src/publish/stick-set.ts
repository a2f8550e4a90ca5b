import { InputError } from "../errors/index.ts";
import { mergeTaskData, sha256Hex } from "../formats/index.ts";
import { type FileSource, type Plan, planHash, type ZeroRate } from "../plan/index.ts";
import { FALLBACK_MARK, KG_HA_MARK } from "../prescription/index.ts";
import type { LoadForm } from "../report/index.ts";
import { type BuiltMap, builtMaps, loadedForms, requireNoZeros } from "./built-maps.ts";
import { formFolder, isFallbackPath } from "./form-folder.ts";
import { formsWithoutZeros, namesWithZeros } from "./forms-without-zeros.ts";
import { writeManifest } from "./manifest.ts";
import type { FieldMark, PassRecord, StickPass, StickRecord } from "./no-sticks.ts";
import { nameWithLetter, stickNames } from "./stick-names.ts";
import { revisionLetter } from "./stick-record.ts";
import { stickSheet } from "./stick-sheet.ts";

/** Where a stick says what it is; it is in the manifest like any other file. */
export const stickPath: string = "stick.json";

/** What `stickSet` takes. */
export interface StickInput {
  /** A build, held against its manifest already. */
  readonly build: FileSource;
  readonly plan: Plan;
  readonly planSha256: string;
  readonly toolVersion: string;
  readonly pass: StickPass;
  /** Only these fields; all when empty. */
  readonly only: readonly string[];
  /** Write marked fields too. */
  readonly reissue: boolean;
  /** False where an existing TASKDATA is to stay. */
  readonly taskData: boolean;
  readonly zeroRate: ZeroRate;
  readonly record: StickRecord;
  /** Highest revision seen on the stick itself; 0 without. */
  readonly revisionThere: number;
  /** What the stick holds of fields that are not written again: path -> bytes, as its own manifest lists them. */
  readonly kept: ReadonlyMap<string, Uint8Array>;
  readonly keptMaps: readonly StickMap[];
  /** What else stands on the stick, by the topmost folder or file; the sheet names it. */
  readonly beside?: readonly string[];
  /** What the sheet says above all else, such as fields that lie part stripped. */
  readonly said?: readonly string[];
}

/** A map on a stick. */
export interface StickMap {
  readonly field: string;
  readonly stem: string;
  readonly bin: string;
  readonly product: string;
  readonly name: string;
  readonly revision: string;
  readonly totalLb: number;
  /** What to load first; absent in what an earlier version wrote. */
  readonly load?: LoadFirst;
  readonly files: readonly string[];
}

/** The form of a map to load first: path on the stick without its ending, or the name of the task in TASKDATA. */
export interface LoadFirst {
  readonly form: LoadForm;
  readonly name: string;
  readonly totalLb: number;
  /** On the field's ground. */
  readonly minLbPerAc: number;
  /** Acres of holes with rate 0 in it; left out where there are none. */
  readonly holesAc?: number;
}

/** stick.json. */
export interface Stick {
  readonly format: "stick/1";
  readonly plan: string;
  /** `planHash` of the plan it was made from. */
  readonly planHash: string;
  readonly pass: StickPass;
  readonly revision: string;
  readonly revisionNumber: number;
  readonly zeroRate: ZeroRate;
  readonly maps: readonly StickMap[];
  /** What was left out because it has ground with 0, which this controller must not get: names as they would be on the stick. */
  readonly neverLoad?: readonly string[];
}

/** Everything a stick is to hold. */
export interface StickSet {
  readonly stick: Stick;
  /** Path on the stick -> bytes; stick.json and, last, manifest.json. */
  readonly files: ReadonlyMap<string, Uint8Array>;
  /** Fields that are marked and so not written. */
  readonly heldBack: readonly { readonly field: string; readonly mark: FieldMark }[];
  readonly record: StickRecord;
}

const SHAPEFILE = /\.(shp|shx|dbf|prj|cpg)$/;

/**
 * Everything that goes on a stick for one machine, named as the controller takes it, and the record that goes with it. A map
 * keeps name and letter as long as its files are the same; whatever changed gets the letter of the new revision,
 * and so does the sheet. Task data of all fields become one TASKDATA.
 * Throws `no-such-field`, `nothing-to-write`, `form-not-built`, `zero-rate-not-built`, `names-too-short`.
 */
export async function stickSet(input: StickInput): Promise<StickSet> {
  const { build, plan, pass, record, only, said = [] } = input;
  const before = record[pass];
  const built = await builtMaps(build);
  const all = built.filter((map) => map.pass === pass);
  for (const id of only) {
    if (!all.some((map) => map.field === id)) {
      const known = [...new Set(all.map((map) => map.field))].slice(0, 12).join(", ");
      throw new InputError(
        "no-such-field",
        `The build has no ${pass} map of a field “${id}”.`,
        `Name one of: ${known}.`,
      );
    }
  }
  const chosen = all.filter((map) => only.length === 0 || only.includes(map.field));
  const isHeld = (field: string) => !input.reissue && before.marks[field] !== undefined;
  const maps = chosen.filter((map) => !isHeld(map.field));
  const heldBack = [...new Set(chosen.map((map) => map.field))]
    .filter(isHeld)
    .map((field) => ({ field, mark: before.marks[field]! }));
  if (maps.length === 0) {
    const message =
      heldBack.length > 0 ? "every field is marked as loaded or done" : `the build has no ${pass} maps`;
    throw new InputError(
      "nothing-to-write",
      `Nothing to write: ${message}.`,
      "Add --reissue to write them all the same.",
    );
  }

  const forms = loadedForms(plan, built, input.taskData);
  requireNoZeros(input.zeroRate, maps, forms);
  const formsOf = formsWithoutZeros(input.zeroRate, maps, forms);
  const hashes = new Map(maps.map((map) => [map.stem, hashOfMap(map, formsOf(map))]));
  const cab = await build.read("cab.html");
  const setSha256 = sha256Of([
    plan.controller ?? null,
    forms,
    input.zeroRate,
    [...hashes],
    sha256Hex(cab),
    heldBack,
    input.keptMaps.map((map) => map.name),
    ...(said.length === 0 ? [] : [said]),
  ]);
  const isSame = before.sha256 === setSha256 && before.revision >= input.revisionThere;
  const revision = isSame ? before.revision : Math.max(before.revision, input.revisionThere) + 1;
  const names = stickNames(built, plan.controller?.nameLength);
  const revisionOf = (map: BuiltMap): number => {
    const known = before.maps[map.stem];
    return known !== undefined && known.sha256 === hashes.get(map.stem) ? known.revision : revision;
  };

  const files = new Map<string, Uint8Array>(input.kept);
  const placed: StickMap[] = [];
  for (const map of maps) {
    const base = names.get(map.stem)!;
    const paths: string[] = [];
    const own = formsOf(map);
    for (const form of own) {
      if (form === "taskdata-4" || form === "taskdata-3") continue;
      const source = form === "shapefile" ? map.files : map.extras[form];
      const mark = form === "fallback" ? FALLBACK_MARK : form === "kg-ha" ? KG_HA_MARK : "";
      const name = nameWithLetter(base, mark, revisionOf(map));
      for (const path of (source ?? []).filter((one) => SHAPEFILE.test(one))) {
        const to = placeOf(plan, form, own, name, path.slice(path.lastIndexOf(".")));
        files.set(to, await build.read(path));
        paths.push(to);
      }
    }
    placed.push({
      field: map.field,
      stem: map.stem,
      bin: map.bin,
      product: map.product,
      name: nameWithLetter(base, forms.includes("kg-ha") ? KG_HA_MARK : "", revisionOf(map)),
      revision: revisionLetter(revisionOf(map)),
      totalLb: map.totalLb,
      load: loadFirst(map, own, paths),
      files: paths,
    });
  }
  const tasks = forms.find((form) => form === "taskdata-4" || form === "taskdata-3");
  const withTask = maps.filter((map) => tasks !== undefined && formsOf(map).includes(tasks));
  if (tasks && withTask.length > 0)
    for (const [path, bytes] of await mergedTasks(build, withTask, tasks)) files.set(path, bytes);
  const neverLoad = namesWithZeros(maps, forms, formsOf, (map, mark) =>
    nameWithLetter(names.get(map.stem)!, mark, revisionOf(map)),
  );

  const stick: Stick = {
    format: "stick/1",
    plan: plan.name,
    planHash: planHash(plan),
    pass,
    revision: revisionLetter(revision),
    revisionNumber: revision,
    zeroRate: input.zeroRate,
    maps: [...input.keptMaps, ...placed],
    ...(neverLoad.length === 0 ? {} : { neverLoad }),
  };
  const html = stickSheet(new TextDecoder().decode(cab), stick, forms, input.beside ?? [], said);
  files.set(`CAB_${stick.revision}.html`, new TextEncoder().encode(html));
  files.set(stickPath, new TextEncoder().encode(`${JSON.stringify(stick, null, 1)}\n`));
  const { planSha256, toolVersion } = input;
  files.set("manifest.json", writeManifest({ files, planSha256, toolVersion }));
  const now: PassRecord = {
    revision,
    sha256: setSha256,
    maps: {
      ...before.maps,
      ...Object.fromEntries(
        maps.map((map, k) => [
          map.stem,
          { revision: revisionOf(map), name: placed[k]!.name, sha256: hashes.get(map.stem)! },
        ]),
      ),
    },
    names: { ...before.names, ...Object.fromEntries(placed.map(({ name, field }) => [name, field])) },
    marks: before.marks,
  };
  return { stick, files, heldBack, record: { ...record, [pass]: now } };
}

/** The first form of a map's order that is on the stick, with its own figures. */
function loadFirst(map: BuiltMap, forms: readonly LoadForm[], paths: readonly string[]): LoadFirst {
  const form = map.load.find((one) => forms.includes(one)) ?? forms[0]!;
  if (form === "taskdata-4" || form === "taskdata-3") {
    const { task = map.stem, totalLb, minLbPerAc } = map.extraFigures[form]!;
    return { form, name: task, totalLb, minLbPerAc };
  }
  const isWanted = (path: string): boolean => isFallbackPath(path, forms) === (form === "fallback");
  const name = paths.find((one) => one.endsWith(".shp") && isWanted(one))!.slice(0, -".shp".length);
  if (form !== "fallback") return { form, name, totalLb: map.totalLb, minLbPerAc: map.minLbPerAc };
  const { totalLb, minLbPerAc, holesAc } = map.extraFigures.fallback!;
  return { form, name, totalLb, minLbPerAc, ...(holesAc === undefined ? {} : { holesAc }) };
}

const sha256Of = (value: unknown): string => sha256Hex(new TextEncoder().encode(JSON.stringify(value)));

/** Hash of all files of a map in the forms that go on the stick, by their own hashes. */
const hashOfMap = (map: BuiltMap, forms: readonly LoadForm[]): string =>
  sha256Of(
    forms.map((form) => {
      const paths = (form === "shapefile" ? map.files : map.extras[form]) ?? [];
      return [form, paths.map((path) => [path, map.hashes[path]])];
    }),
  );

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

async function mergedTasks(
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
