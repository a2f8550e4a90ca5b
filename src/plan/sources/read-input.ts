import { InputError, type Notice, type Question } from "../../errors/index.ts";
import {
  type AppliedLog,
  type FileAnswers,
  type Layer,
  type Rates,
  readAppliedPoints,
  readRates,
  type Task,
  type TaskRates,
} from "../../formats/index.ts";
import { type LabTable, type LabWants, type PointFile, readLabTable } from "../../soil/index.ts";
import { fileKeys } from "../document/answers.ts";
import { answersOfFile } from "../document/answers-of-file.ts";
import {
  layerQuestion,
  layersNotTaken,
  layersSeen,
  layersTogether,
  logOfLayers,
  noLog,
} from "./log-layers.ts";
import { pointFileOf } from "./point-file.ts";
import { INPUT_ROLES, type InputItem, type InputRole, readItems, samplesOf } from "./read-items.ts";
import { refuseBadRateShapes, settleBoundary } from "./settle-shapes.ts";
import { layerOfTasks, logOfTasks, plannedRates } from "./task-input.ts";

/** What `readInput` takes besides the file. */
export interface ReadOptions {
  readonly as?: InputRole;
  readonly answers?: FileAnswers;
  /** The file that `join-points` names, path -> bytes. */
  readonly points?: { readonly name: string; readonly files: ReadonlyMap<string, Uint8Array> };
}

/** What an item was read as. */
export type TakenInput =
  | { readonly role: "boundary" | "guidance"; readonly layer: Layer }
  | { readonly role: "zones" | "prescription"; readonly layer: Layer; readonly rates: Rates | null }
  | { readonly role: "samples"; readonly lab: LabTable; readonly headings: readonly string[] }
  | { readonly role: "applied"; readonly layer: Layer | null; readonly log: AppliedLog | null }
  | {
      readonly role: "prescription";
      readonly task: Task;
      readonly rates: TaskRates;
      readonly version: number;
    }
  | { readonly role: "unclear"; readonly layer: Layer | null };

/** What a file holds, what it was taken for, and what it leaves open. */
export interface InputReading {
  readonly name: string;
  readonly items: readonly InputItem[];
  /** The item read by its role; null when several are listed. */
  readonly item: InputItem | null;
  readonly taken: TakenInput | null;
  /** Every open question, each key once. */
  readonly questions: readonly Question[];
  readonly notices: readonly Notice[];
}

/**
 * A file, zip or folder (path -> bytes) read for what it is: recognised, settled by answers, open questions collected.
 * Without a role it is inferred; several layers or kinds are then listed. Pure: same bytes, same reading.
 * Throws an InputError when no answer could mend the file.
 */
export function readInput(
  name: string,
  files: ReadonlyMap<string, Uint8Array>,
  options: ReadOptions = {},
): InputReading {
  const answers = answersOfFile(name, options.answers ?? {});
  const { items, notices: found } = readItems(name, files, answers);
  const as = options.as ?? INPUT_ROLES.find((role) => role === answers.role);
  const chosen = chooseItem(name, items, as, answers);
  if (chosen.item === null) {
    const open = as === undefined ? items.flatMap((item) => item.questions) : [];
    const notices = uniqueNotices([...found, ...items.flatMap((item) => item.notices)]);
    return {
      name,
      items,
      item: null,
      taken: null,
      questions: uniqueQuestions([...open, ...chosen.questions]),
      notices,
    };
  }
  const { item } = chosen;
  const role = as ?? (item.roles.length === 1 ? item.roles[0]! : "unclear");
  const all = chosen.together ?? [item];
  const read = all.length > 1 ? readTogether(all, answers) : readAs(item, role, answers, options);
  const open = all.flatMap((one) => one.questions);
  const questions = uniqueQuestions([...open, ...chosen.questions, ...read.questions]);
  const told = all.flatMap((one) => one.notices);
  const notices = uniqueNotices([...found, ...told, ...chosen.notices, ...read.notices]);
  return { name, items, item, taken: read.taken, questions, notices };
}

const KIND_OF_ROLE: Readonly<Record<InputRole, readonly InputItem["kind"][]>> = {
  boundary: ["polygons", "task"],
  zones: ["polygons"],
  prescription: ["polygons", "task"],
  guidance: ["lines", "task"],
  samples: ["points", "table"],
  applied: ["points", "table", "task"],
};

/** The item to read, and of a log's layers that are read with it all, `together`; null with the question `layer` when several fit a role, or without one when all are to be listed. */
function chooseItem(
  name: string,
  items: readonly InputItem[],
  as: InputRole | undefined,
  answers: FileAnswers,
): {
  item: InputItem | null;
  together?: readonly InputItem[];
  questions: Question[];
  notices: Notice[];
} {
  const answered = items.filter((item) => item.name === answers.layer);
  const fitting = as === undefined ? items : items.filter((item) => KIND_OF_ROLE[as].includes(item.kind));
  if (as !== undefined && fitting.length === 0) {
    const kinds = [...new Set(items.map(({ kind }) => kind))].join(" and ");
    throw new InputError(
      "wrong-kind",
      `${name} holds ${kinds}; ${as} needs ${KIND_OF_ROLE[as].join(" or ")}`,
      "Choose another file, or another role.",
    );
  }
  const together = as === "applied" ? layersTogether(fitting, answers.layer) : null;
  if (together !== null) {
    const notices = layersNotTaken(name, together, items, as);
    return { item: together[0]!, together, questions: [], notices };
  }
  const wanted = answered.length > 0 ? fitting.filter((item) => answered.includes(item)) : fitting;
  if (wanted.length === 1) {
    return { item: wanted[0]!, questions: [], notices: layersNotTaken(name, wanted, items, as) };
  }
  if (as === undefined) return { item: null, questions: roleQuestion(name, items, answers), notices: [] };
  const refused = as === "applied" ? noLog(fitting) : null;
  if (refused !== null) throw refused;
  return { item: null, questions: [layerQuestion(name, fitting, as, layersSeen(fitting, as))], notices: [] };
}

/** Answers about rates, tests or layers were given, but for which role they hold is not plain: question `role`. */
function roleQuestion(name: string, items: readonly InputItem[], answers: FileAnswers): Question[] {
  const forRole = Object.keys(answers).filter((key) => ROLE_KEYS.test(key) && fileKeys.includes(key));
  if (forRole.length === 0) return [];
  const choices = [...new Set(items.flatMap((item) => item.roles))].sort();
  const own = (item: InputItem): string =>
    item.name.startsWith(`${name}: `) ? item.name.slice(name.length + 2) : item.name;
  const seen = `${name}: ${items.map((item) => `${own(item)} fits ${item.roles.join(" or ") || "nothing"}`).join("; ")}; answered ${forRole.join(", ")}`;
  return [{ key: "role", text: `What is ${name} to be read as?`, choices, seen }];
}

const ROLE_KEYS =
  /^(unit\.|method\.|limit\.|depth$|oxide$|missing-rate$|rate-column$|same-place$|repair-boundary$)/;

interface ReadAs {
  readonly taken: TakenInput;
  readonly questions: readonly Question[];
  readonly notices: readonly Notice[];
}

function readAs(
  item: InputItem,
  role: InputRole | "unclear",
  answers: FileAnswers,
  options: ReadOptions,
): ReadAs {
  if (role === "unclear") {
    const questions = item.roles.length > 1 ? roleQuestion(item.name, [item], answers) : [];
    return { taken: { role, layer: item.layer }, questions, notices: nothingFits(item) };
  }
  if (item.task !== null) return readTaskAs(item, role, answers);
  if (role === "samples") return readSamples(item, answers, options);
  const layer = item.layer;
  if (layer === null) throw noLog([item]) ?? new Error(`${item.name}: nothing to read as ${role}`);
  if (role === "guidance") return { taken: { role, layer }, questions: [], notices: [] };
  if (role === "boundary") {
    if (!item.located) return { taken: { role, layer }, questions: [], notices: [] };
    const settled = settleBoundary(layer, answers);
    return {
      taken: { role, layer: settled.layer },
      questions: settled.questions,
      notices: settled.layer.notices,
    };
  }
  if (role === "applied") {
    const read = readAppliedPoints(layer, answers);
    return {
      taken: { role, layer: read.layer, log: read.log },
      questions: read.questions,
      notices: read.layer.notices,
    };
  }
  const isNeeded = role === "prescription" || layer.columns.length === 0;
  const read = readRates(layer, answers, isNeeded);
  if (item.located) refuseBadRateShapes(layer);
  return {
    taken: { role, layer: read.layer, rates: read.rates },
    questions: read.questions,
    notices: read.layer.notices,
  };
}

/** Several layers as one log. */
function readTogether(items: readonly InputItem[], answers: FileAnswers): ReadAs {
  const read = items.map((item) => readAppliedPoints(item.layer!, answers));
  return {
    taken: { role: "applied", ...logOfLayers(read) },
    questions: read.flatMap(({ questions }) => questions),
    notices: read.flatMap(({ layer }) => layer.notices),
  };
}

function nothingFits(item: InputItem): Notice[] {
  if (item.roles.length > 0) return [];
  const columns = item.layer?.columns.map(({ name }) => name) ?? item.samples?.headings ?? [];
  const message = `nothing says what ${item.name} is for (${columns.join(", ") || "no attributes"})`;
  return [{ code: "no-role-fits", message, where: item.name }];
}

function readSamples(item: InputItem, answers: FileAnswers, options: ReadOptions): ReadAs {
  const file = samplesOf(item);
  if (file === null) {
    throw new InputError(
      "wrong-kind",
      `${item.name} holds a log of work done, not soil samples`,
      "Choose another role.",
    );
  }
  const points = options.points && pointsOf(options.points, options.answers ?? {});
  const wants: LabWants = { tests: "any", depth: "always", ...(points === undefined ? {} : { points }) };
  const lab = readLabTable(file, answers, wants);
  const notices = [...lab.notices, ...missingTest(lab, item.name), ...unsaidFinish(lab, item.name)];
  return { taken: { role: "samples", lab, headings: file.headings }, questions: lab.questions, notices };
}

const pointsOf = ({ name, files }: NonNullable<ReadOptions["points"]>, answers: FileAnswers): PointFile =>
  pointFileOf(name, files, answersOfFile(name, answers));

/** A table read for one test alone says which is not there, and what else it holds. */
function missingTest(lab: LabTable, name: string): Notice[] {
  const missing = (["P", "K"] as const).filter((test) => lab.tests[test] === undefined);
  if (missing.length === 0) return [];
  const left = lab.unused.length === 0 ? "" : ` Not used: “${lab.unused.join("”, “")}”.`;
  const message = `${name}: no column for ${missing.join(", ")}; a plan wants P and K in each of its tables of samples.${left}`;
  return [{ code: "test-without-column", message, where: name }];
}

function unsaidFinish(lab: LabTable, name: string): Notice[] {
  if (lab.tests.P?.method !== "mehlich-3") return [];
  const message = `${name}: P by Mehlich 3, ICP or colorimetric not said; a guide that needs the difference asks for it.`;
  return [{ code: "mehlich-3-finish", message, where: name }];
}

function readTaskAs(item: InputItem, role: InputRole, answers: FileAnswers): ReadAs {
  const data = item.task!;
  if (role === "applied") {
    const log = logOfTasks(data);
    return { taken: { role, layer: null, log }, questions: [], notices: [] };
  }
  if (role === "boundary" || role === "guidance") {
    const layer = layerOfTasks(data, role === "boundary" ? "polygons" : "lines");
    if (layer === null) {
      const what = role === "boundary" ? "no boundary of a field" : "no guidance line";
      throw new InputError(
        "wrong-kind",
        `${data.path} holds ${what}`,
        "Choose another file, or another role.",
      );
    }
    const settled = role === "boundary" ? settleBoundary(layer, answers) : { layer, questions: [] };
    return {
      taken: { role, layer: settled.layer },
      questions: settled.questions,
      notices: settled.layer.notices,
    };
  }
  const { task, rates, questions } = plannedRates(data, answers);
  return { taken: { role: "prescription", task, rates, version: data.version }, questions, notices: [] };
}

function uniqueQuestions(questions: readonly Question[]): Question[] {
  return questions.filter((one, index) => questions.findIndex((other) => other.key === one.key) === index);
}

function uniqueNotices(notices: readonly Notice[]): Notice[] {
  const seen = new Set<string>();
  return notices.filter(({ code, message, where }) => {
    const key = JSON.stringify([code, message, where]);
    return seen.size < seen.add(key).size;
  });
}
