import { InputError, type Notice, type Question } from "../../errors/index.ts";
import {
  type FileAnswers,
  hasAppliedRates,
  type Layer,
  OWN_RATE_COLUMN,
  pointsOfTable,
  type RawLayer,
  rateCandidates,
  rawGeoJson,
  rawKml,
  rawShapefile,
  readCsv,
  readTaskData,
  readXml,
  readZip,
  settleLayer,
  settleNulls,
  shapefilesIn,
  type TaskData,
  taskDataRoot,
} from "../../formats/index.ts";
import type { Geometry } from "../../geo/index.ts";
import {
  type ChosenColumns,
  chosenColumns,
  hasSoilTests,
  isLabXml,
  readLabXml,
  type SampleFile,
  samplesOfLayer,
} from "../../soil/index.ts";
import { endingOf, isZip, nothingRead, refuseWorkbook } from "./kinds-read.ts";
import { ownFile } from "./own-file.ts";

/** What a file can be taken for. */
export type InputRole = "boundary" | "samples" | "zones" | "guidance" | "applied" | "prescription";
/** Every `InputRole`, in the order they are offered. */
export const INPUT_ROLES: readonly InputRole[] = [
  "boundary",
  "samples",
  "zones",
  "guidance",
  "applied",
  "prescription",
];

/** One thing a file holds that can be taken for something: shapes of one kind, a table, lab results, task data. */
export interface InputItem {
  readonly name: string;
  readonly kind: "polygons" | "lines" | "points" | "table" | "task";
  /** What it is plainly for: one role, several that fit, or none. */
  readonly roles: readonly InputRole[];
  /** Shapes; their places are good while `located` holds. */
  readonly layer: Layer | null;
  readonly located: boolean;
  readonly samples: SampleFile | null;
  readonly task: TaskData | null;
  /** What stands open about reading it at all. */
  readonly questions: readonly Question[];
  readonly notices: readonly Notice[];
}

interface Items {
  readonly items: readonly InputItem[];
  readonly notices: readonly Notice[];
}

const KINDS = { polygon: "polygons", line: "lines", point: "points" } as const;

/**
 * Everything that can be read in a file, a zip or a folder (path -> bytes), by content and ending. `name` is what the user
 * chose, for messages. What belongs to nothing is named in a notice.
 * Throws `not-read-yet`, `own-file`, `shapefile-part-alone`, `no-input`, and the errors of every reader.
 */
export function readItems(name: string, files: ReadonlyMap<string, Uint8Array>, answers: FileAnswers): Items {
  const [only] = files;
  if (files.size === 1 && only !== undefined) refuseWorkbook(only[0], name);
  if (files.size !== 1 || only === undefined || !isZip(only[1])) return itemsOf(name, files, answers);
  const zip = readZip(only[1], name);
  const found = itemsOf(name, zip.files, answers);
  return { items: found.items, notices: [...zip.notices, ...found.notices] };
}

function itemsOf(name: string, files: ReadonlyMap<string, Uint8Array>, answers: FileAnswers): Items {
  const task = taskDataRoot(files);
  if (task !== undefined) {
    const data = readTaskData(files, name);
    return { items: [taskItem(data)], notices: data.notices };
  }
  const isAlone = files.size === 1;
  const shown = (path: string) => (isAlone || name.endsWith(path) ? name : `${name}: ${path}`);
  const items: InputItem[] = [];
  const parts = shapefilesIn(files, name);
  const taken = new Set<string>();
  for (const one of parts) {
    const stem = one.path.slice(0, -3).toLowerCase();
    for (const path of files.keys()) if (path.toLowerCase().startsWith(stem)) taken.add(path);
    items.push(...shapeItems(rawShapefile(one, name), answers));
  }
  const ignored: string[] = [];
  for (const [path, bytes] of files) {
    if (taken.has(path)) continue;
    const read = readOne(path, bytes, shown(path), isAlone, answers);
    if (read === null) ignored.push(path);
    else items.push(...read);
  }
  if (items.length === 0) {
    throw nothingRead(name, [...files.keys()]);
  }
  const notices: Notice[] = [];
  if (ignored.length > 0) {
    const message = `${ignored.length === 1 ? "a file was" : `${ignored.length} files were`} ignored: ${ignored.slice(0, 5).join(", ")}`;
    notices.push({ code: "file-ignored", message, where: name });
  }
  return { items: named(items), notices };
}

/** Items of one name and kind are told apart by their paths. */
function named(items: readonly InputItem[]): InputItem[] {
  return items.map((item) => {
    const isTwice = items.some(
      (other) => other !== item && other.name === item.name && other.kind === item.kind,
    );
    return isTwice && item.layer !== null ? { ...item, name: item.layer.path } : item;
  });
}

/** What one file that is no part of a shapefile holds; null when it is of no kind that is read. */
function readOne(
  path: string,
  bytes: Uint8Array,
  name: string,
  isAlone: boolean,
  answers: FileAnswers,
): InputItem[] | null {
  const ending = endingOf(path, bytes, isAlone);
  if (["geojson", "json", "geojsonl", "ndjson"].includes(ending)) {
    const own = ownFile(bytes, name);
    if (own === null) return shapeItems(rawGeoJson(bytes, name), answers);
    if (isAlone) throw own;
    return null;
  }
  if (ending === "kml") return shapeItems(rawKml(bytes, name), answers);
  if (ending === "csv" || ending === "tsv" || (ending === "txt" && (isAlone || isLabText(bytes, name))))
    return tableItems(bytes, name, answers);
  if (ending !== "xml" || /\.shp\.xml$/i.test(path)) return null;
  const root = readXml(bytes, name);
  if (isLabXml(root)) return [labItem(bytes, name, answers)];
  if (/^kml$/i.test(root.name)) return shapeItems(rawKml(bytes, name), answers);
  return null;
}

/** Whether a .txt among other files is a table of soil tests or of work done, and not somebody's notes. */
function isLabText(bytes: Uint8Array, name: string): boolean {
  try {
    return pointRoles(readCsv(bytes, name).headings).length > 0;
  } catch (error) {
    if (error instanceof InputError) return false;
    throw error;
  }
}

function shapeItems(raw: RawLayer, answers: FileAnswers): InputItem[] {
  const settled = settleLayer(raw, answers);
  const { layer, questions } = settleNulls(settled.layer, answers);
  const kinds = [...new Set(layer.features.map(({ geometry }) => geometry!.kind))];
  return kinds.map((kind) => {
    const own = kinds.length === 1 ? layer : ofKind(layer, kind);
    const item = {
      name: layer.name,
      kind: KINDS[kind],
      layer: own,
      located: settled.located,
      samples: null,
      task: null,
    };
    return {
      ...item,
      roles: rolesOf(own, kind),
      questions: [...settled.questions, ...questions],
      notices: own.notices,
    };
  });
}

function ofKind(layer: Layer, kind: Geometry["kind"]): Layer {
  const features = layer.features.filter(({ geometry }) => geometry!.kind === kind);
  const columns = layer.columns.filter(({ name }) =>
    features.some(({ properties }) => (properties[name] ?? null) !== null),
  );
  return { ...layer, features, columns };
}

function rolesOf(layer: Layer, kind: Geometry["kind"]): InputRole[] {
  if (kind === "line") return ["guidance"];
  const names = layer.columns.map(({ name }) => name);
  if (kind === "point") return pointRoles(names);
  if (names.some((name) => name.toUpperCase() === OWN_RATE_COLUMN)) return ["prescription"];
  return rateCandidates(layer).length === 0 ? ["boundary"] : ["prescription", "zones"];
}

function pointRoles(names: readonly string[], chosen: ChosenColumns | null = null): InputRole[] {
  if (hasAppliedRates(names)) return ["applied"];
  return hasSoilTests({ headings: names, chosen }) ? ["samples"] : [];
}

function tableItems(bytes: Uint8Array, name: string, answers: FileAnswers): InputItem[] {
  const table = readCsv(bytes, name);
  const chosen = chosenColumns(name, table.headings, answers);
  const roles = pointRoles(table.headings, chosen);
  const common = { name, kind: "table" as const, roles, task: null };
  if (roles.includes("applied")) {
    const { layer, located, questions } = pointsOfTable(table, answers);
    return [{ ...common, layer, located, samples: null, questions, notices: layer.notices }];
  }
  const { headings, units, rows, encoding, notices } = table;
  const samples: SampleFile = { name, one: "line", headings, units, rows, encoding, chosen };
  return [{ ...common, layer: null, located: true, samples, questions: [], notices }];
}

function labItem(bytes: Uint8Array, name: string, answers: FileAnswers): InputItem {
  const { file, questions, notices } = readLabXml(bytes, name, answers);
  return {
    name,
    kind: "table",
    roles: ["samples"],
    layer: null,
    located: true,
    samples: file,
    task: null,
    questions,
    notices,
  };
}

function taskItem(task: TaskData): InputItem {
  const hasRates = task.tasks.some((one) => one.isPlanned && one.rates.length > 0);
  const hasLogs = task.tasks.some((one) => one.logs.length > 0);
  const hasFields = task.fields.some((field) => field.boundary.length > 0);
  const roles: InputRole[] = hasRates
    ? ["prescription"]
    : hasLogs
      ? ["applied"]
      : hasFields
        ? ["boundary"]
        : [];
  return {
    name: "TASKDATA",
    kind: "task",
    roles,
    layer: null,
    located: true,
    samples: null,
    task,
    questions: [],
    notices: [],
  };
}

/** The soil samples an item holds as text: its table, or its points with their attributes. */
export function samplesOf(item: InputItem): SampleFile | null {
  return item.samples ?? (item.kind === "points" && item.layer !== null ? samplesOfLayer(item.layer) : null);
}
