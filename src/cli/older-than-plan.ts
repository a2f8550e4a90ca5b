import { sha256Hex } from "../formats/index.ts";
import { planHash } from "../plan/index.ts";
import type { Call } from "./command.ts";
import { readPlanAt } from "./open-plan.ts";

/**
 * That a set was not made from the plan as it is now, in words that follow its name; empty where it was. `madeFrom`: hash of the
 * plan it was made from; `planSha256`: what its sheets show of that. Throws what reading the plan throws.
 */
export async function olderInWords(
  madeFrom: string,
  planSha256: string,
  operand: string,
  call: Call,
): Promise<string> {
  const { source, plan } = await readPlanAt(call, operand);
  const changed = planHash(plan) === madeFrom ? [] : [operand];
  const present = await source.list();
  for (const { path, sha256 } of plan.sources) {
    if (present.includes(path) && sha256Hex(await source.read(path)) !== sha256) changed.push(path);
  }
  if (changed.length === 0) return "";
  const mark = `${planSha256.slice(0, 4)} ${planSha256.slice(4, 8)}`;
  return `older than the plan: ${[...new Set(changed)].join(", ")} changed since (its sheets say plan ${mark})`;
}
