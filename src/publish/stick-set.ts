import { InputError } from "../errors/index.ts";
import { sha256Hex } from "../formats/index.ts";
import { type FileSource, type Plan, planHash, type ZeroRate } from "../plan/index.ts";
import { KG_HA_MARK } from "../prescription/index.ts";
import { type BuiltMap, builtMaps, loadedForms } from "./built-maps.ts";
import { formsWithoutZeros, namesWithZeros, requireNoZeros } from "./forms-without-zeros.ts";
import { ofMap } from "./loaded-earlier.ts";
import { writeManifest } from "./manifest.ts";
import type { FieldMark, PassRecord, StickPass, StickRecord } from "./no-sticks.ts";
import {
  hashOfForms,
  hashOfMap,
  isTaskData,
  loadFirst,
  mergedTasks,
  placesOfMap,
  sha256Of,
} from "./place-map.ts";
import { sheetFields } from "./sheet-fields.ts";
import { type Stick, type StickMap, stickPath } from "./stick-json.ts";
import { nameWithLetter, stickNames } from "./stick-names.ts";
import { revisionLetter } from "./stick-record.ts";
import { stickSheet } from "./stick-sheet.ts";

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

/** Where a build has the sheet of the spreader. */
const SPREADER_SHEET = "spreader.html";

/** Everything a stick is to hold. */
export interface StickSet {
  readonly stick: Stick;
  /** Path on the stick -> bytes; stick.json and, last, manifest.json. */
  readonly files: ReadonlyMap<string, Uint8Array>;
  /** Fields that are marked and so not written. */
  readonly heldBack: readonly { readonly field: string; readonly mark: FieldMark }[];
  readonly record: StickRecord;
}

/**
 * Everything that goes on a stick for one machine, named as the controller takes it, and the record that goes with it. A map
 * keeps name and letter as long as its files are the same; whatever changed gets the letter of the new revision,
 * and so does the sheet. Task data of all fields become one TASKDATA.
 * Throws `no-such-field`, `nothing-to-write`, `form-not-built`, `task-data-stays`, `zero-rate-not-built`, `names-too-short`.
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
      heldBack.length > 0
        ? "Add --reissue to write them all the same."
        : "Give the other machine's pass (--pass), or a build that has such maps.",
    );
  }

  const forms = loadedForms(plan, built, input.taskData);
  if (forms.length === 0) {
    throw new InputError(
      "task-data-stays",
      "The controller loads task data alone, and the stick's TASKDATA is to stay: there is nothing to write.",
      "Have the TASKDATA moved aside (existing-taskdata=move-aside), or use another stick.",
    );
  }
  const formsOf = formsWithoutZeros(input.zeroRate, all, forms);
  requireNoZeros(input.zeroRate, plan.controller, maps, formsOf);
  const hashes = new Map(maps.map((map) => [map.stem, hashOfMap(map, formsOf(map))]));
  const cab = await sheetOfPass(build, pass);
  const setSha256 = sha256Of([
    plan.controller ?? null,
    forms,
    input.zeroRate,
    maps.map((map) => [map.stem, hashOfForms(map, formsOf(map))]),
    sha256Hex(cab),
    heldBack,
    input.keptMaps.map((map) => [map.name, map.ofEarlierPlan === true]),
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
    const own = formsOf(map);
    const places = placesOfMap(plan, map, own, base, revisionOf(map));
    for (const [to, from] of places) files.set(to, await build.read(from));
    placed.push({
      field: map.field,
      stem: map.stem,
      bin: map.bin,
      product: map.product,
      name: nameWithLetter(base, forms.includes("kg-ha") ? KG_HA_MARK : "", revisionOf(map)),
      revision: revisionLetter(revisionOf(map)),
      totalLb: map.totalLb,
      load: loadFirst(map, own, places.keys()),
      files: [...places.keys()],
    });
  }
  const tasks = forms.find(isTaskData);
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
  const html = stickSheet(new TextDecoder().decode(cab), stick, forms, {
    fields: sheetFields(plan, all, stick.maps, formsOf, (id) => maps.some((map) => map.field === id)),
    beside: input.beside ?? [],
    said,
  });
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
          {
            revision: revisionOf(map),
            name: placed[k]!.name,
            sha256: hashes.get(map.stem)!,
            ...taskAlone(placed[k]!),
            ofMap: ofMap(map),
          },
        ]),
      ),
    },
    names: { ...before.names, ...Object.fromEntries(placed.map(({ name, field }) => [name, field])) },
    marks: before.marks,
  };
  return { stick, files, heldBack, record: { ...record, [pass]: now } };
}

/** The task of a map that has no files of its own on the stick. */
const taskAlone = ({ files, load }: StickMap): { readonly task?: string } =>
  files.length === 0 && load !== undefined ? { task: load.name } : {};

/** The build's sheet for the pass's machine; the cab sheet of both where an earlier version built none for the spreader. */
async function sheetOfPass(build: FileSource, pass: StickPass): Promise<Uint8Array> {
  const own = pass === "broadcast" && (await build.list()).includes(SPREADER_SHEET);
  return build.read(own ? SPREADER_SHEET : "cab.html");
}
