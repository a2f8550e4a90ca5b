import type { FromEngine, TakeAway } from "../engine/protocol.ts";
import { takeAway } from "./errands.ts";
import { questions, trouble } from "./results.ts";

/** Files to carry off; null where something stood in the way, which is then told, or Stop was pressed. */
export async function taken(what: TakeAway): Promise<Extract<FromEngine, { kind: "taken" }> | null> {
  const reply = await takeAway(what);
  if (reply.kind === "taken") return reply;
  if (reply.kind === "trouble") trouble.value = reply.trouble;
  if (reply.kind === "question") questions.value = reply.questions;
  return null;
}
