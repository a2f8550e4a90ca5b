import { isColumnChoiceOf, isMendOf } from "../../soil/index.ts";
import { type Answers, fileKeys, shapeKeys } from "../document/answers.ts";
import { answersOfFile } from "../document/answers-of-file.ts";
import type { PlanSource, SourceRole } from "../document/document-types.ts";
import type { InputFile } from "../sources/input-file.ts";
import type { FileRole } from "./need-files.ts";

/** The files of a new plan, each with what it is for and what was answered about it. */
export function sourcesOfNewPlan(
  inputs: readonly InputFile[],
  fileRole: ReadonlyMap<string, FileRole>,
  answers: Answers,
): PlanSource[] {
  const joined = inputs.flatMap(({ path, table }) =>
    table === null ? [] : [answersOfFile(path, answers)["join-points"]],
  );
  return inputs.flatMap((input) => {
    const own = answersOfFile(input.path, answers);
    const roles: SourceRole[] = [];
    const kinds = new Set(
      input.layers.flatMap((layer) => layer.features.map((feature) => feature.geometry?.kind)),
    );
    const role = fileRole.get(input.path);
    if (role !== undefined && role !== "unused") roles.push(role);
    else if (kinds.has("polygon")) roles.push("boundary");
    if (kinds.has("line")) roles.push("guidance");
    if (input.table !== null) roles.push("samples");
    else if (joined.includes(input.path)) roles.push("places");
    return roles.map((as) => ({
      path: input.path,
      as,
      sha256: input.sha256,
      answers: Object.fromEntries(
        [
          ...(as === "samples" ? fileKeys : shapeKeys),
          ...(as === "samples"
            ? Object.keys(own).filter((key) => isMendOf(input.path, key) || isColumnChoiceOf(input.path, key))
            : []),
        ]
          .filter((key) => own[key] !== undefined)
          .map((key) => [key, own[key]!]),
      ),
    }));
  });
}
