import type { Notice, Question } from "../../errors/index.ts";
import {
  assignSamples,
  isFieldNamed,
  type LabTable,
  type SoilSample,
  sampleRecords,
} from "../../soil/index.ts";
import { counted } from "../../units/index.ts";
import type { Answers } from "../document/answers.ts";
import { answersOfFile } from "../document/answers-of-file.ts";
import type { PlanNeedFrom } from "../document/document-need-types.ts";
import type { NamedField } from "./field-shapes.ts";
import type { InputFile } from "./input-file.ts";

/** The sources of a field's samples as the plan names them. */
interface PlacedSamples {
  /** Absent where there is no table at all. */
  readonly samples?: string;
  readonly moreSamples?: readonly string[];
}

interface Table {
  readonly path: string;
  readonly sha256: string;
  readonly count: number;
  /** Rows that name the field, wherever they lie. */
  readonly named: number;
  /** Values of P and K that its samples have in the field. */
  readonly values: number;
  /** Last day of its samples in the field; empty where the table has no readable dates. */
  readonly date: string;
}

/** What comes up while samples are placed. */
interface Told {
  readonly notices: Notice[];
  readonly questions: Question[];
}

/**
 * By field id, the tables with samples in it. Dated tables stand the newest first, one dated after `today` (the plan's day) last,
 * so that the newest is read and the others can be chosen, unless `samples` names one, which then stands alone; where none is dated the one with the most values in the field stands alone and a notice names the
 * others, and of equals the question `samples` (or `samples.FIELD`) chooses. Strays of a file are those that no field takes.
 * A field without samples is told, unless its need comes from an adviser's rates, which want none.
 */
export function placeSamples(
  fields: readonly NamedField[],
  inputs: readonly InputFile[],
  labs: ReadonlyMap<string, LabTable>,
  answers: Answers,
  today: string,
  told: Told,
  needFrom: ReadonlyMap<string, PlanNeedFrom> = new Map(),
): ReadonlyMap<string, PlacedSamples> {
  const { notices } = told;
  const tables = new Map<string, Table[]>(fields.map((field) => [field.id, []]));
  for (const [path, lab] of labs) {
    notices.push(...lab.notices);
    const placed = assignSamples(path, lab.samples, fields);
    notices.push(...placed.notices);
    const { table = null, sha256 = "" } = inputs.find((input) => input.path === path) ?? {};
    const records = table ? sampleRecords(table, answersOfFile(path, answers)) : new Map();
    for (const [id, samples] of placed.byField) {
      const values = samples.flatMap(({ P, K }) => [P, K]).filter((value) => value !== null).length;
      const field = fields.find((one) => one.id === id)!;
      const named = lab.samples.filter((one) => one.field !== null && isFieldNamed(field, one.field)).length;
      const date = lastDay(samples, records);
      tables.get(id)!.push({ path, sha256, count: samples.length, named, values, date });
    }
  }
  return new Map(
    fields.map((field) => [
      field.id,
      sourcesOfField(field, tables.get(field.id)!, answers, today, told, needFrom.get(field.id)?.kind),
    ]),
  );
}

function lastDay(
  samples: readonly SoilSample[],
  records: ReadonlyMap<number, { readonly date: string | null }>,
): string {
  const days = samples.map((sample) => records.get(sample.line)?.date ?? "");
  return days.sort().at(-1) ?? "";
}

function sourcesOfField(
  field: NamedField,
  tables: readonly Table[],
  answers: Answers,
  today: string,
  { notices, questions }: Told,
  from: PlanNeedFrom["kind"] | undefined,
): PlacedSamples {
  if (tables.length === 0) return {};
  const here = tables.filter((table) => table.count > 0);
  if (here.length === 0) {
    if (from !== "rates") notices.push(withoutSamples(field, tables, from === "zones"));
    return { samples: tables[0]!.path };
  }
  if (here.length === 1) return { samples: here[0]!.path };
  const answer = answers[`samples.${field.id}`] ?? answers.samples;
  const named = here.find(({ path }) => path === answer);
  const isUnknown = answer !== undefined && !tables.some(({ path }) => path === answer);
  const isDated = here.some((table) => table.date !== "");
  if (isDated && named === undefined && !isUnknown) {
    const [first, ...more] = here.toSorted(newerFirst(today));
    notices.push(newestFirst(field, first!, more));
    return { samples: first!.path, moreSamples: more.map((table) => table.path) };
  }
  const most = Math.max(...here.map(({ values }) => values));
  const fullest = here.filter(({ values }) => values === most);
  const taken = named ?? fullest[0]!;
  const others = here.filter((table) => table !== taken);
  // Copies of one file are told of elsewhere, and it is all the same which is read.
  if (isUnknown || (named === undefined && new Set(fullest.map(({ sha256 }) => sha256)).size > 1)) {
    const why = isDated
      ? `${field.name} has samples in several tables.`
      : `No dates tell which samples of ${field.name} are the newer.`;
    const text = `${why} Which table is to be used? The others are left aside.`;
    const seen = `${here.map(held).join("; ")}${answer === undefined ? "" : `; answered “${answer}”`}`;
    const key = answers.samples === undefined ? "samples" : `samples.${field.id}`;
    questions.push({ key, text, choices: here.map(({ path }) => path), seen });
  } else {
    const first = fullest.length > 1 ? "it stands first of the fullest" : "it has the most";
    const why = named === undefined ? `no dates tell which are newer, and ${first}` : "it was named";
    const message = `${field.name}: of its tables ${taken.path} is used, since ${why}; left aside: ${others.map(held).join("; ")}. Used: ${held(taken)}. Where others belong to the same sampling, list them under moreSamples in plan.json.`;
    notices.push({ code: "samples-left-aside", message, where: field.id });
  }
  return { samples: taken.path };
}

function withoutSamples(field: NamedField, tables: readonly Table[], byZones: boolean): Notice {
  const named = tables.reduce((total, table) => total + table.named, 0);
  const rows = named === 1 ? "the 1 row that names it lies" : `the ${named} rows that name it lie`;
  const found = byZones
    ? "lies in this field or has the id of one of its zones"
    : named === 0
      ? "lies in this field and no row names it"
      : `lies in this field, and ${rows} elsewhere`;
  const message = `${field.name}: no soil sample ${found} (looked at: ${tables.map(({ path }) => path).join(", ")}); it stays in the plan and cannot be worked out before it has a lab table, zones or rates; or take it out of plan.json.`;
  return { code: "field-without-samples", message, where: field.id };
}

/** A date after the plan's day is a mistake in one of the two, and no newest. */
const newerFirst =
  (today: string) =>
  (a: Table, b: Table): number =>
    Number(a.date > today) - Number(b.date > today) || (a.date < b.date ? 1 : a.date > b.date ? -1 : 0);

function newestFirst({ id, name }: NamedField, first: Table, more: readonly Table[]): Notice {
  const dated = ({ path, date, count }: Table): string =>
    `${path} (${date === "" ? "without dates" : date}, ${counted(count, "sample")})`;
  const same = more.filter(({ date }) => date === first.date);
  const which =
    same.length === 0
      ? `${dated(first)} is the newest, and each test is read from the newest that has it; kept beside it: ${more.map(dated).join(", ")}`
      : `${[first, ...same].map(dated).join(" and ")} are of one day, so whether one or all of them give a test that they have is asked when the field is worked out`;
  const message = `${name}: of its tables ${which}. The answer samples.${id}=FILE takes one table alone.`;
  return { code: "samples-newest-first", message, where: id };
}

const held = ({ path, count, values }: Table): string =>
  `${path}, ${counted(count, "sample")} in the field with ${counted(values, "value")} of P and K`;
