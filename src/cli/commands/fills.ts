import { fillsOf } from "../calculations/fills.ts";
import { planOrInput, readCalculation } from "../calculations/read-calculation.ts";
import type { Call, Command, Outcome } from "../command.ts";
import { exit } from "../exit.ts";
import { fillWords } from "../words/refill-words.ts";

/** `fills PLAN` or `fills --input X.json`: where to stop and fill. */
export const command: Command = {
  operands: { shown: "", least: 0, most: 1 },
  about: [
    "Where to stop and fill: numbered stops with the passes done, what each bin should read, pounds to load, and",
    "minutes. Least minutes over the places and sides of the tender, held against running until nearly empty.",
    "A bin that cannot finish a pass is said before the pass begins. docs/operations.md shows --input.",
  ].join("\n"),
  options: ["input"],
  run: fills,
};

async function fills(call: Call): Promise<Outcome> {
  const { input } = planOrInput(call, "fills") as { input: string };
  const result = fillsOf(await readCalculation(call, input));
  return { exit: exit.done, data: fillWords(result).join("\n"), json: result };
}
