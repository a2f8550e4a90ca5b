import type { Answers } from "../document/answers.ts";
import type { Plan } from "../document/document-types.ts";
import { samplesPaths } from "../document/samples-paths.ts";
import { hashOf, type StageCache } from "../document/stage.ts";
import type { FileSource } from "./file-source.ts";
import { type Inputs, readSources } from "./read-sources.ts";

/** Sources are read once for one set of files, for as long as nothing that reads them changes. */
export async function readOnce(
  plan: Plan,
  files: FileSource,
  answers: Answers,
  cache: StageCache,
): Promise<Inputs> {
  const boundaries = plan.fields.map((field) => [
    field.id,
    field.name,
    field.boundary,
    samplesPaths(field),
    field.needFrom,
  ]);
  const key = hashOf(["sources", plan.sources, boundaries, answers]);
  const kept = cache.get(key) as { readonly files: FileSource; readonly inputs: Inputs } | undefined;
  if (kept?.files === files) return kept.inputs;
  const inputs = await readSources(plan, files, answers);
  cache.set(key, { files, inputs });
  return inputs;
}
