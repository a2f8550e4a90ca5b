import { InputError, type Notice, type Question, QuestionError } from "../../errors/index.ts";
import { refusalOf } from "../../formats/index.ts";
import type { Polygon } from "../../geo/index.ts";
import {
  assignSamples,
  type FieldPlace,
  type LabTable,
  type LabWants,
  readLabTable,
  type SampleRecord,
  type SoilSample,
  sampleRecords,
} from "../../soil/index.ts";
import { type Answers, faultKeys } from "../document/answers.ts";
import { answersOfFile } from "../document/answers-of-file.ts";
import type { Plan, PlanField, PlanSource } from "../document/document-types.ts";
import { samplesPaths, sourcesOf } from "../document/samples-paths.ts";
import { hashOf } from "../document/stage.ts";
import type { FileSource } from "./file-source.ts";
import { type InputFile, readInputFile } from "./input-file.ts";
import { isNearFields, joinedPoints } from "./lab-places.ts";
import { type FileQuestion, questionsOfFiles } from "./questions-of-files.ts";
import { withZonePlaces } from "./zone-places.ts";

/** The plan's files after reading. A file that cannot be read fails only the fields that use it. */
export interface Inputs {
  /** The file, or its error thrown. */
  file(path: string): InputFile;
  lab(path: string): LabTable;
  /** Samples of a table that lie in the field. */
  samplesOf(field: PlanField, path: string): readonly SoilSample[];
  /** What a table says besides P, K and CEC, by line. */
  recordsOf(path: string): ReadonlyMap<number, SampleRecord>;
  /** Hash of everything a field takes from files. */
  keyOf(field: PlanField): string;
  /** Those of the plan's sources, and over them those given with the run. */
  readonly answers: Answers;
  readonly notices: readonly Notice[];
}

/**
 * Read every source of the plan. Throws a `QuestionError` with `changed-file` when a file is not the one its
 * answers were given for (answer `same-answers` to keep them), and with the file's own open questions.
 */
export async function readSources(plan: Plan, files: FileSource, answers: Answers): Promise<Inputs> {
  const read = new Map<string, InputFile | InputError>();
  for (const path of new Set(plan.sources.map((source) => source.path)))
    read.set(path, await tryRead(path, files, answersAt(plan, path, answers)));
  const questions = changedFiles(plan, read, answers);
  const boundaryOf = (field: PlanField) => placeOf(field, read)[0]?.boundary ?? [];
  const labs = new Map<string, LabTable | InputError>();
  const notices: Notice[] = [...read.values()].flatMap((file) =>
    file instanceof InputError ? [] : [...file.layers.flatMap((layer) => layer.notices), ...file.notices],
  );
  const places = plan.fields.flatMap((field) => placeOf(field, read));
  const isNearField = isNearFields(places);
  const asked: FileQuestion[] = [];
  const tables = plan.sources.filter((one) => one.as === "samples");
  for (const source of tables) {
    const own = { ...source.answers, ...answersOfFile(source.path, answers) };
    const points = await pointsFor(plan, own, files, answers);
    const lab = tryLab(source, withZonePlaces(plan, source.path, read, boundaryOf, own), own, {
      isNearField,
      isDated: source.sampling?.date !== undefined,
      ...points,
    });
    labs.set(source.path, lab);
    if (lab instanceof InputError) continue;
    asked.push(...lab.questions.map((question) => ({ path: source.path, question })));
    notices.push(...lab.notices);
  }
  questions.push(
    ...questionsOfFiles(
      asked,
      tables.map(({ path }) => path),
    ),
  );
  if (questions.length > 0) throw new QuestionError(questions);

  const assigned = new Map<string, ReadonlyMap<string, readonly SoilSample[]>>();
  for (const [path, lab] of labs) {
    if (lab instanceof InputError) continue;
    const placed = assignSamples(path, lab.samples, places);
    assigned.set(path, placed.byField);
    notices.push(...placed.notices);
  }
  const settled = <T>(map: ReadonlyMap<string, T | InputError>, path: string): T => {
    const value = map.get(path);
    if (value === undefined) throw new Error(`source ${path} was not read`);
    if (value instanceof InputError) throw value;
    return value;
  };
  const records = new Map<string, ReadonlyMap<number, SampleRecord>>();
  const keyOfSource = (path: string): string | undefined => {
    const file = read.get(path);
    return file instanceof InputError ? file.message : file?.sha256;
  };
  // Which field a sample goes to depends on where all of them lie and how they are called.
  const placesKey = hashOf(
    plan.fields.map(({ id, name, boundary }) => [
      [id, name],
      boundary.map(({ source, record }) => [keyOfSource(source), record]),
    ]),
  );
  return {
    file: (path) => settled(read, path),
    lab: (path) => settled(labs, path),
    samplesOf: (field, path) => assigned.get(path)?.get(field.id) ?? [],
    recordsOf: (path) => {
      const known = records.get(path);
      if (known) return known;
      const { table } = settled(read, path);
      const made =
        table === null
          ? new Map<number, SampleRecord>()
          : sampleRecords(table, answersAt(plan, path, answers));
      records.set(path, made);
      return made;
    },
    answers: { ...Object.assign({}, ...plan.sources.map((source) => source.answers)), ...answers },
    keyOf: (field) => {
      const paths = sourcesOf(plan, field);
      for (const path of samplesPaths(field)) {
        const joined = plan.sources.find((source) => source.path === path)?.answers["join-points"];
        if (joined !== undefined) paths.push(joined);
      }
      return hashOf([
        paths.map(keyOfSource),
        plan.sources.map((source) => source.answers),
        answers,
        placesKey,
      ]);
    },
    notices,
  };
}

/** What was answered about a file, whatever it was taken for. */
function answersOf(plan: Plan, path: string): Answers {
  return Object.assign({}, ...plan.sources.filter((one) => one.path === path).map((one) => one.answers));
}

/** What holds for a file in this run: what was answered with it counts over what the plan has. */
const answersAt = (plan: Plan, path: string, answers: Answers): Answers => ({
  ...answersOf(plan, path),
  ...answersOfFile(path, answers),
});

/** The points that `join-points` of a table's own answers names. */
async function pointsFor(
  plan: Plan,
  own: Answers,
  files: FileSource,
  answers: Answers,
): Promise<Pick<LabWants, "points">> {
  const path = own["join-points"];
  if (path === undefined) return {};
  const ofPoints = { ...own, ...answersAt(plan, path, answers) };
  return joinedPoints(path, new Map([[path, await files.read(path)]]), ofPoints);
}

async function tryRead(path: string, files: FileSource, answers: Answers): Promise<InputFile | InputError> {
  try {
    const file = readInputFile(path, await files.read(path), answers);
    return file.questions[0] === undefined ? file : refusalOf(file.questions[0]);
  } catch (error) {
    if (error instanceof InputError) return error;
    throw error;
  }
}

function tryLab(
  source: PlanSource,
  file: InputFile | InputError,
  answers: Answers,
  wants: LabWants,
): LabTable | InputError {
  if (file instanceof InputError) return file;
  if (!file.table) {
    return new InputError(
      "not-a-table",
      `${source.path}: not a table of samples.`,
      "Give the lab's CSV file.",
    );
  }
  try {
    const lab = readLabTable(file.table, answers, wants);
    const fault = lab.questions.find((question) => faultKeys.includes(question.key));
    return fault === undefined ? lab : refusalOf(fault);
  } catch (error) {
    if (error instanceof InputError) return error;
    throw error;
  }
}

function changedFiles(
  plan: Plan,
  read: ReadonlyMap<string, InputFile | InputError>,
  answers: Answers,
): Question[] {
  if (answers["changed-file"] === "same-answers") return [];
  const changed = plan.sources.filter((source) => {
    const file = read.get(source.path);
    return file !== undefined && !(file instanceof InputError) && file.sha256 !== source.sha256;
  });
  if (changed.length === 0) return [];
  const paths = [...new Set(changed.map((source) => source.path))].join(", ");
  return [
    {
      key: "changed-file",
      text: `Changed since the plan was made: ${paths}. Do the plan's answers still hold for it?`,
      choices: ["same-answers"],
      seen: changed.map((source) => seenOf(source)).join("; "),
    },
  ];
}

/** A changed file with what was answered about it. */
const seenOf = ({ path, answers }: PlanSource): string =>
  Object.keys(answers).length === 0
    ? `${path} (nothing was answered)`
    : `${path} (${JSON.stringify(answers)})`;

function placeOf(field: PlanField, read: ReadonlyMap<string, InputFile | InputError>): FieldPlace[] {
  const boundary: Polygon[] = [];
  for (const shape of field.boundary) {
    const file = read.get(shape.source);
    if (file === undefined || file instanceof InputError) return [];
    for (const { record, geometry } of file.layers.flatMap((layer) => layer.features)) {
      if (record === shape.record && geometry?.kind === "polygon") boundary.push(...geometry.polygons);
    }
  }
  return boundary.length === 0 ? [] : [{ id: field.id, name: field.name, boundary }];
}
