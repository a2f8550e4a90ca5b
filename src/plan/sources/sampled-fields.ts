import type { Question } from "../../errors/index.ts";
import { assignSamples, type LabTable } from "../../soil/index.ts";
import type { Answers } from "../document/answers.ts";
import type { PlanNeedFrom } from "../document/document-need-types.ts";
import type { NamedField } from "./field-shapes.ts";
import type { SampledField } from "./guide-misfits.ts";
import type { InputFile } from "./input-file.ts";
import { placeSamples } from "./place-samples.ts";

/** The fields with samples, as far as it is known which table they are of; where several tables are as good, that is asked. */
export function sampledFields(
  fields: readonly NamedField[],
  inputs: readonly InputFile[],
  labs: ReadonlyMap<string, LabTable>,
  needFrom: ReadonlyMap<string, PlanNeedFrom>,
  answers: Answers,
  today: string,
  questions: Question[],
): SampledField[] {
  if (labs.size > 1 && [...labs.values()].some((lab) => lab.questions.length > 0)) return [];
  const places = placeSamples(fields, inputs, labs, answers, today, { notices: [], questions });
  const judged = new Map([...labs].map(([path, lab]) => [path, fieldsInTable(fields, path, lab)]));
  return fields.flatMap((field): SampledField[] => {
    const { samples, moreSamples = [] } = places.get(field.id) ?? {};
    const tests = labs.get(samples ?? "")?.tests;
    if (samples === undefined || tests === undefined || needFrom.get(field.id)?.kind === "rates") return [];
    const withCec = [samples, ...moreSamples].flatMap((path) => judged.get(path)!.get(field.id) ?? []);
    return withCec.length === 0 ? [] : [{ field, samples, tests, hasCec: withCec.includes(true) }];
  });
}

/**
 * By field with samples in a table, whether one of them has a CEC; every field, by the table's columns, where its samples
 * are not known yet.
 */
function fieldsInTable(
  fields: readonly NamedField[],
  path: string,
  { samples, tests, questions }: LabTable,
): ReadonlyMap<string, boolean> {
  if (questions.length > 0) return new Map(fields.map(({ id }) => [id, tests.CEC !== undefined]));
  const { byField } = assignSamples(path, samples, fields);
  const held = [...byField].filter(([, own]) => own.length > 0);
  return new Map(held.map(([id, own]) => [id, own.some(({ CEC }) => CEC !== null)]));
}
