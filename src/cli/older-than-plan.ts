import type { Question } from "../errors/index.ts";
import { sha256Hex } from "../formats/index.ts";
import { mapsHash, type Plan, planHash } from "../plan/index.ts";
import type { Call } from "./command.ts";
import { readPlanAt } from "./open-plan.ts";

/** What a set was made from: the hash of its plan, or of a build its plan itself, of which the maps alone count. */
type MadeFrom = { readonly hash: string } | { readonly plan: Plan };

/**
 * That a set was not made from the plan as it is now, in words that follow its name; empty where it was. `planSha256`: what its
 * sheets show of its plan. Throws what reading the plan throws.
 */
export async function olderInWords(
  made: MadeFrom,
  planSha256: string,
  operand: string,
  call: Call,
): Promise<string> {
  const { source, plan } = await readPlanAt(call, operand);
  const isSame = "hash" in made ? planHash(plan) === made.hash : mapsHash(plan) === mapsHash(made.plan);
  const changed = isSame ? [] : [operand];
  const present = await source.list();
  for (const { path, sha256 } of plan.sources) {
    if (present.includes(path) && sha256Hex(await source.read(path)) !== sha256) changed.push(path);
  }
  if (changed.length === 0) return "";
  const mark = `${planSha256.slice(0, 4)} ${planSha256.slice(4, 8)}`;
  return `older than the plan: ${[...new Set(changed)].join(", ")} changed since (its sheets say plan ${mark})`;
}

/** Asked before maps of an older plan go on a stick; `what`: which build, and what changed since. */
export const olderQuestion = (what: string, answer: string | undefined): Question => ({
  key: "older-build",
  text: "The maps are not those of the plan as it is now, which order and fills reckon with. Build it anew; or write: these maps go on the stick all the same, and command and sheet say so first.",
  choices: ["write"],
  seen: answer === undefined ? what : `${what}; answered “${answer}”`,
});
