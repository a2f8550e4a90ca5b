import { InputError, type Notice, type Question, QuestionError } from "../../errors/index.ts";
import { hasSoilTests, isZoneHeading, type LabTable, readLabTable } from "../../soil/index.ts";
import { ASSUMED_RESPONSE_S, ASSUMED_SPEED_M_PER_S } from "../../strips/index.ts";
import { counted, M_PER_S_PER_MPH, numberText } from "../../units/index.ts";
import { optionAnswers } from "../document/answered-options.ts";
import { AnswerReader, type Answers } from "../document/answers.ts";
import { answersOfFile } from "../document/answers-of-file.ts";
import type { PlanNeedFrom } from "../document/document-need-types.ts";
import type { Plan, PlanField } from "../document/document-types.ts";
import { guideOptions } from "../document/guide-options.ts";
import { isNumberOfRows, LEAST_ROW_SPACING_IN } from "../document/machine-limits.ts";
import { seasonOf } from "../document/season-of-date.ts";
import { zoneMeansOfFields } from "../need/zone-means.ts";
import { fieldsIn, linesIn, type NamedField, type NamedLine } from "../sources/field-shapes.ts";
import { type InputFile, readInputFile } from "../sources/input-file.ts";
import { isNearFields, joinedPoints } from "../sources/lab-places.ts";
import { placeSamples } from "../sources/place-samples.ts";
import { askPointRoles, pointRoles } from "../sources/point-roles.ts";
import { polygonRoles } from "../sources/polygon-roles.ts";
import { type FileQuestion, questionsOfFiles } from "../sources/questions-of-files.ts";
import { sampledFields } from "../sources/sampled-fields.ts";
import { type WaysThrough, waysThrough } from "../sources/ways-through.ts";
import { withZonePlaces } from "../sources/zone-places.ts";
import { sampledInFuture } from "./date-doubts.ts";
import { fittingGuides, guideQuestions, NEW_PLAN_CROPS } from "./guide-and-tests.ts";
import { lineOf } from "./line-of-field.ts";
import { type FileRole, needFiles } from "./need-files.ts";
import {
  filesNotUsed,
  linesFromElsewhere,
  linesLeft,
  partsOfOneName,
  sameContent,
} from "./new-plan-doubts.ts";
import { sourcesOfNewPlan } from "./new-plan-sources.ts";

/** A plan made from files. */
export interface NewPlan {
  readonly plan: Plan;
  /** One line a file: what it was taken for and what was found. */
  readonly recognised: readonly string[];
  readonly notices: readonly Notice[];
}

/**
 * A plan from a few files: boundaries, guidance lines, lab tables. `date` is the day of planning (YYYY-MM-DD).
 * What the files do not say comes from `answers`; what these do not say is thrown as a `QuestionError` with
 * every open question; with `guideMustFit` that is also where a guide does not read a field's test or has no rule for its
 * crop. Samples in no field are notices.
 */
export function newPlan(
  name: string,
  date: string,
  files: readonly { readonly path: string; readonly bytes: Uint8Array }[],
  answers: Answers,
  guideMustFit = false,
): NewPlan {
  const inputs = labTablesOnly(files.map((file) => readInputFile(file.path, file.bytes, answers)));
  const reader = new AnswerReader(answers);
  const roles = new Map<string, FileRole>([...polygonRoles(inputs, reader), ...pointRoles(inputs, reader)]);
  const fields = fieldsIn(inputs.filter((input) => (roles.get(input.path) ?? "boundary") === "boundary"));
  const lines = linesIn(inputs);
  const tables = inputs.filter((input) => input.table !== null);
  const { needFrom, exclusions } = needFiles(inputs, roles, fields, reader);
  // What a file is, and which column names a zone, comes before anything can be read with it.
  if (reader.open.some(({ key }) => /^(role|zone-id-column)\b/.test(key)))
    throw new QuestionError([...reader.open]);
  const needsTests = fields.some((field) => needFrom.get(field.id)?.kind !== "rates");
  requireKinds(inputs, fields, lines, tables, needsTests);

  const questions: Question[] = [];
  const ask = (question: Question): void => {
    if (!questions.some((one) => one.key === question.key)) questions.push(question);
  };
  const asked = inputs.flatMap(({ path, questions, doubts }) =>
    [...questions, ...doubts].map((question): FileQuestion => ({ path, question })),
  );
  const bytes = new Map(files.map((file) => [file.path, file.bytes]));
  // While a file is asked about, nobody knows where its fields lie.
  const open = new Set(inputs.filter(({ questions }) => questions.length > 0).map(({ path }) => path));
  const known = fields.filter(({ shapes }) => shapes.every(({ source }) => !open.has(source)));
  const near = known.length === 0 ? {} : { isNearField: isNearFields(known) };
  const labs = new Map<string, LabTable>();
  for (const input of tables) {
    const own = answersOfFile(input.path, answers);
    const points = joinedPoints(own["join-points"], bytes, answers);
    const table = compositesPlaced(input, inputs, fields, needFrom, own).table!;
    const lab = readLabTable(table, own, { ...near, ...points });
    // The column that names the zones gave the places of composites.
    const unused =
      table === input.table ? lab.unused : lab.unused.filter((heading) => !isZoneHeading(heading));
    labs.set(input.path, { ...lab, unused });
    asked.push(...lab.questions.map((question) => ({ path: input.path, question })));
  }
  const tablePaths = tables.map(({ path }) => path);
  questionsOfFiles(asked, tablePaths).forEach(ask);
  const joined = tablePaths.flatMap((path) => answersOfFile(path, answers)["join-points"] ?? []);
  // Where samples lack their places, a file of points may have them: that is asked first.
  if (!asked.some(({ question }) => question.key === "join-points"))
    askPointRoles(inputs, [...roles.keys(), ...joined], reader);
  const rowsOfLines = agreed(lines.map((line) => line.rows));
  const rows = rowsOfLines !== null && isNumberOfRows(rowsOfLines) ? rowsOfLines : reader.rows();
  const spacing = `How many inches are the rows apart? ${LEAST_ROW_SPACING_IN} at least.`;
  const spacingOfLines = agreed(lines.map((line) => line.rowSpacingIn));
  const rowSpacingIn =
    spacingOfLines !== null && spacingOfLines >= LEAST_ROW_SPACING_IN
      ? spacingOfLines
      : reader.number("row-spacing-in", null, spacing, LEAST_ROW_SPACING_IN);
  const cap = reader.cap();
  const goals = fields.map((field) => ({
    crop: reader.text("crop", field, "Which crop follows?", NEW_PLAN_CROPS),
    yieldBuPerAc: reader.number("yield", field, "Which yield goal, bushels per acre?"),
  }));
  const sampled = sampledFields(fields, inputs, labs, needFrom, answers, date, questions);
  const cropOf = new Map(fields.map(({ id }, i) => [id, goals[i]!.crop]));
  const fitting = fittingGuides(sampled.map((one) => ({ ...one, crop: cropOf.get(one.field.id)! })));
  const choices = fields.map((field, i) => {
    const { crop, yieldBuPerAc } = goals[i]!;
    const guide = reader.guide(field, crop, fitting, needFrom.get(field.id)?.kind === "rates");
    const wanted = guideOptions(guide, crop, optionAnswers(answers, field.id));
    for (const question of wanted.questions) reader.addOpen(question);
    return { choice: { crop, yieldBuPerAc, guide, guideOptions: wanted.options }, notices: wanted.notices };
  });
  questions.push(...reader.open);
  const chosen = new Map(fields.map(({ id }, i) => [id, choices[i]!.choice]));
  const judged = sampled.map((one) => ({ ...one, ...chosen.get(one.field.id)! }));
  if (guideMustFit) guideQuestions(judged, answers, tablePaths).forEach(ask);
  if (questions.length > 0) throw new QuestionError(questions);

  const notices: Notice[] = inputs.flatMap((input) => [
    ...input.layers.flatMap((layer) => layer.notices),
    ...input.notices,
  ]);
  notices.push(...sameContent(inputs, answers), ...partsOfOneName(fields));
  const places = placeSamples(fields, inputs, labs, answers, date, { notices, questions: [] }, needFrom);
  const ways = waysThrough(judged, answers);
  const plan: Plan = {
    format: "plan/1",
    name: name.slice(0, 60),
    seasonYear: seasonOf(date),
    date,
    sources: sourcesOfNewPlan(inputs, roles, answers),
    rig: {
      rows,
      rowSpacingIn,
      bins: [
        { id: "L", product: "11-52-0" },
        { id: "R", product: "0-0-60" },
      ],
      segmentM: 15,
      rateStepLbPerAc: 10,
      rates: "stretches",
    },
    spreader: { widthFt: 60, lengthFt: 60, rateStepLbPerAc: 5 },
    split: { capLbPerAc: cap.lbPerAc, capBasis: cap.basis, within: "first-11-52-0" },
    maps: { cellM: 10, method: "kriging" },
    ...(exclusions.length > 0 ? { exclusions } : {}),
    fields: fields.map(
      (field, i): PlanField => ({
        id: field.id,
        name: field.name,
        boundary: field.shapes,
        guidance: lineOf(field, lines).shape,
        ...places.get(field.id),
        ...choices[i]!.choice,
        ...nutrientsOf(ways, field),
        ...(needFrom.has(field.id) ? { needFrom: needFrom.get(field.id)! } : {}),
        broadcast: "later",
      }),
    ),
  };
  notices.push(
    ...ways.notices,
    ...sampledInFuture(labs, date),
    ...linesLeft(lines, plan),
    ...filesNotUsed(inputs, roles, plan),
    ...linesFromElsewhere(fields, lines),
    ...zoneMeansOfFields(fields, inputs, labs, needFrom, ({ id }) => places.get(id)?.samples),
  );
  const taken = choices.flatMap((one) => one.notices);
  notices.push(...taken.filter((one, i) => taken.findIndex((other) => other.message === one.message) === i));
  notices.push(choicesTaken(plan));
  const recognised = inputs.map((input) => describe(input, labs.get(input.path), roles.get(input.path)));
  return { plan, recognised, notices };
}

function nutrientsOf(ways: WaysThrough, { id }: NamedField): Pick<PlanField, "nutrients"> {
  const nutrients = ways.of(id);
  return nutrients === undefined ? {} : { nutrients };
}

/** Composites without positions, each at a place in the zone that its sample number names; else the file as it is. */
function compositesPlaced(
  input: InputFile,
  inputs: readonly InputFile[],
  fields: readonly NamedField[],
  needFrom: ReadonlyMap<string, PlanNeedFrom>,
  answers: Answers,
): InputFile {
  const ofZones = fields.filter((field) => needFrom.get(field.id)?.kind === "zones");
  const asked = ofZones.map((field) => ({
    ...{ id: field.id, name: field.name, samples: input.path },
    needFrom: needFrom.get(field.id)!,
  })) as unknown as PlanField[];
  const read = new Map(inputs.map((one) => [one.path, one]));
  const boundaryOf = ({ id }: PlanField) => fields.find((field) => field.id === id)?.boundary ?? [];
  const placed = withZonePlaces({ fields: asked }, input.path, read, boundaryOf, answers);
  if (placed instanceof InputError) throw placed;
  return placed;
}

/** A table without soil tests is no lab table while another file is one: it may hold the places of the samples. */
function labTablesOnly(inputs: readonly InputFile[]): readonly InputFile[] {
  const isLab = ({ table }: InputFile): boolean => table !== null && hasSoilTests(table);
  return inputs.some(isLab)
    ? inputs.map((input) => (isLab(input) ? input : { ...input, table: null }))
    : inputs;
}

function requireKinds(
  inputs: readonly InputFile[],
  fields: readonly NamedField[],
  lines: readonly NamedLine[],
  tables: readonly InputFile[],
  needsTests: boolean,
): void {
  const seen = inputs.map((input) => describe(input, undefined, undefined)).join("; ");
  const missing = [
    ...(fields.length === 0 ? ["boundary (polygons)"] : []),
    ...(lines.length === 0 ? ["guidance line A-B"] : []),
    ...(tables.length === 0 && needsTests ? ["soil samples (CSV)"] : []),
  ];
  if (missing.length === 0) return;
  throw new InputError(
    "missing-input",
    `Among the files there is no ${missing.join(", no ")}. Read: ${seen || "no file"}.`,
    "Give boundary, guidance line and lab table together.",
  );
}

/** One value that every line states; null when they say nothing or disagree. */
function agreed(values: readonly (number | null)[]): number | null {
  const first = values[0] ?? null;
  return values.every((value) => value === first) ? first : null;
}

function describe(input: InputFile, lab: LabTable | undefined, role: FileRole | undefined): string {
  if (lab) {
    const tests = Object.entries(lab.tests).map(([test, { heading, unit, method }]) => {
      return `${test} from “${heading}” in ${unit}${method === "" ? "" : `, ${method}`}`;
    });
    const left = lab.unused.length === 0 ? "" : `; not used: ${lab.unused.join(", ")}`;
    return `${input.path}: ${counted(lab.samples.length, "soil sample")}; ${tests.join("; ")}${left}`;
  }
  if (input.table) return `${input.path}: a table of ${counted(input.table.rows.length, "row")}`;
  const counts = new Map<string, number>();
  for (const feature of input.layers.flatMap((layer) => layer.features)) {
    const kind = feature.geometry?.kind ?? "no shape";
    counts.set(kind, (counts.get(kind) ?? 0) + 1);
  }
  const system = input.layers[0];
  const isPlain = role === undefined || role === "boundary";
  const taken = isPlain ? "" : role === "unused" ? ", not used" : `, taken as ${role}`;
  const found = [...counts].map(([kind, count]) => counted(count, kind)).join(", ");
  if (found === "") return `${input.path}: neither shapes nor soil tests${taken}`;
  return `${input.path}: ${found}${taken}; ${system?.coordinateSystem ?? ""} by ${system?.coordinateSystemFrom ?? ""}`;
}

function choicesTaken(plan: Plan): Notice {
  const { rig, spreader } = plan;
  const bins = rig.bins.map((bin) => `bin ${bin.id} holds ${bin.product}`).join(", ");
  return {
    code: "choices-taken",
    message:
      `Taken until you change them in plan.json: season ${plan.seasonYear}; ${bins}; no headland passes; segments of ${rig.segmentM} m, put together ` +
      `to stretches that a meter can follow at ${numberText(ASSUMED_SPEED_M_PER_S / M_PER_S_PER_MPH, 1)} mph when it needs ${ASSUMED_RESPONSE_S} s (assumed); strip rates in steps of ` +
      `${rig.rateStepLbPerAc} lb/ac; spreader cells of ${spreader.widthFt} by ${spreader.lengthFt} ft in steps of ` +
      `${spreader.rateStepLbPerAc} lb/ac; 11-52-0 fills the strip before 0-0-60.`,
    where: "",
  };
}
