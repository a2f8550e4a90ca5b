import type { Question } from "../errors/index.ts";
import { assignSamples, type LabTable } from "../soil/index.ts";
import type { Answers } from "./answers.ts";
import type { PlanNeedFrom } from "./document-need-types.ts";
import type { NamedField } from "./field-shapes.ts";
import type { SampledField } from "./guide-and-tests.ts";
import type { InputFile } from "./input-file.ts";
import { placeSamples } from "./place-samples.ts";

/** The fields whose samples are known to be of one table; where several tables are as good, that is asked. */
export function sampledFields(
  fields: readonly NamedField[],
  inputs: readonly InputFile[],
  labs: ReadonlyMap<string, LabTable>,
  needFrom: ReadonlyMap<string, PlanNeedFrom>,
  answers: Answers,
  questions: Question[],
): SampledField[] {
  if (labs.size > 1 && [...labs.values()].some((lab) => lab.questions.length > 0)) return [];
  const places = placeSamples(fields, inputs, labs, answers, { notices: [], questions });
  const withCec = fieldsWithCec(fields, labs);
  return fields.flatMap((field): SampledField[] => {
    const { samples, moreSamples = [] } = places.get(field.id) ?? {};
    const tests = labs.get(samples ?? "")?.tests;
    if (samples === undefined || tests === undefined || needFrom.get(field.id)?.kind === "rates") return [];
    const hasCec = [samples, ...moreSamples].some((path) => withCec.get(path)!.has(field.id));
    return [{ field, samples, tests, hasCec }];
  });
}

/** By table, the fields with a CEC in it; all of them where the table has a column and its samples are not known yet. */
function fieldsWithCec(
  fields: readonly NamedField[],
  labs: ReadonlyMap<string, LabTable>,
): ReadonlyMap<string, ReadonlySet<string>> {
  const withCec = (path: string, { samples, tests, questions }: LabTable): Set<string> => {
    if (tests.CEC === undefined) return new Set();
    if (questions.length > 0) return new Set(fields.map(({ id }) => id));
    const { byField } = assignSamples(path, samples, fields);
    return new Set([...byField].filter(([, own]) => own.some(({ CEC }) => CEC !== null)).map(([id]) => id));
  };
  return new Map([...labs].map(([path, lab]) => [path, withCec(path, lab)]));
}
