import type { Sampling } from "../../need/index.ts";
import type { TestName } from "../document/document-need-types.ts";
import type { Plan, PlanField } from "../document/document-types.ts";
import { samplesPaths } from "../document/samples-paths.ts";
import type { Inputs } from "../sources/read-sources.ts";

/** Which samplings a test of a field is to be read from; nothing where nobody says. */
interface WantedSamplings {
  readonly chosen?: readonly string[];
  /** Names among them that no table of the plan has. */
  readonly unknown?: readonly string[];
  /** Whether several may be mixed on one map. */
  readonly mix?: boolean;
}

/**
 * What the plan, else an answer (`sampling.P`, names with commas between), says of a field's samplings of one test, and
 * whether they may be mixed (`mix-samplings.P`). Several of which mixing is denied count as not named.
 */
export function wantedSamplings(
  test: TestName,
  plan: Plan,
  field: PlanField,
  visits: readonly Pick<Sampling, "id">[],
  inputs: Inputs,
): WantedSamplings {
  const mixAnswer = inputs.answers[`mix-samplings.${test}`];
  const isMixed = mixAnswer === "yes" || (field.samplings?.mix ?? []).includes(test);
  const agreed = mixAnswer === "no" ? { mix: false } : isMixed ? { mix: true } : {};
  const typed = field.samplings?.[test];
  const named = typed
    ? { chosen: typed }
    : answered(inputs.answers[`sampling.${test}`], plan, field, visits, inputs);
  const isDenied = mixAnswer === "no" && (named.chosen ?? []).length > 1;
  return isDenied ? agreed : { ...named, ...agreed };
}

/** What an answer names. It holds for every field: one that names tables of other fields alone says nothing of this one. */
function answered(
  answer: string | undefined,
  plan: Plan,
  field: PlanField,
  visits: readonly Pick<Sampling, "id">[],
  inputs: Inputs,
): Pick<WantedSamplings, "chosen" | "unknown"> {
  if (answer === undefined) return {};
  const tables = plan.sources.filter((source) => source.as === "samples").map(({ path }) => path);
  const chosen = namesIn(answer, [...visits.map(({ id }) => id), ...tables]);
  const isOf = (path: string, name: string) => name === path || name.startsWith(`${path} `);
  const isOfAnother = (name: string) =>
    !samplesPaths(field).some((path) => isOf(path, name) && inputs.samplesOf(field, path).length > 0) &&
    plan.fields.some((other) =>
      samplesPaths(other).some((path) => isOf(path, name) && inputs.samplesOf(other, path).length > 0),
    );
  if (chosen.length > 0 && chosen.every(isOfAnother)) return {};
  return { chosen, unknown: chosen.filter((name) => !tables.some((path) => isOf(path, name))) };
}

/** The names of an answer, with commas between; one of `ids` may have a comma of its own. */
function namesIn(answer: string, ids: readonly string[]): string[] {
  const text = answer.trim();
  if (text === "") return [];
  const fitting = ids.filter(
    (id) => text === id || (text.startsWith(id) && /^\s*,/.test(text.slice(id.length))),
  );
  const longest = fitting.toSorted((a, b) => b.length - a.length)[0];
  const name = longest ?? text.split(",")[0]!;
  return [name.trim(), ...namesIn(text.slice(name.length).replace(/^\s*,/, ""), ids)];
}
