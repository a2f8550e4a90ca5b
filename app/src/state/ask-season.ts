import type { Trouble } from "../engine/protocol.ts";
import type { SeasonAsk, SeasonTold } from "../engine/season-protocol.ts";
import { askSeason } from "./errands.ts";
import { trouble } from "./results.ts";

/** One answer, or what stood in the way; neither where Stop was pressed or the fault is ours, which is told by itself. */
export async function answerOrTrouble(
  ask: SeasonAsk,
): Promise<{ readonly told: SeasonTold | null; readonly trouble: Trouble | null }> {
  const reply = await askSeason(ask);
  if (reply.kind === "season-told") return { told: reply.told, trouble: null };
  if (reply.kind === "question") {
    const message = reply.questions.map((one) => one.text).join(" ");
    const remedy = reply.questions.some(({ key }) => key === "layer")
      ? "Unzip the file and choose the files of all layers that are this product's at once."
      : "Answer it on the command line (bermplan applied), or name unit and width in the log's headings.";
    return { told: null, trouble: { code: "question", message, remedy, ours: false } };
  }
  if (reply.kind === "trouble" && !reply.trouble.ours) return { told: null, trouble: reply.trouble };
  if (reply.kind === "trouble") trouble.value = reply.trouble;
  return { told: null, trouble: null };
}
