import { planOrInput, readCalculation } from "../calculations/read-calculation.ts";
import { remainderOf } from "../calculations/remainder.ts";
import type { Call, Command, Outcome } from "../command.ts";
import { exit } from "../exit.ts";
import { remainderWords } from "../words/applied-words.ts";

/** `remainder PLAN` or `remainder --input X.json`: the strip map of what is not worked yet. */
export const command: Command = {
  operands: { shown: "", least: 0, most: 1 },
  about: [
    "The strip map of the part that is not worked yet, by passes done, a log or a drawn line, with another rate",
    "where one is given. docs/operations.md shows --input.",
  ].join("\n"),
  options: ["input"],
  run: left,
};

async function left(call: Call): Promise<Outcome> {
  const { input } = planOrInput(call, "remainder") as { input: string };
  const result = remainderOf(await readCalculation(call, input));
  return { exit: exit.done, data: remainderWords(result).join("\n"), json: result };
}
