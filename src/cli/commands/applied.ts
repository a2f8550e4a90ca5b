import { appliedOf } from "../calculations/applied.ts";
import { planOrInput, readCalculation } from "../calculations/read-calculation.ts";
import type { Call, Command, Outcome } from "../command.ts";
import { exit } from "../exit.ts";
import { appliedWords } from "../words/applied-words.ts";

/** `applied PLAN` or `applied --input X.json`: what the ground really got. */
export const command: Command = {
  operands: { shown: "", least: 0, most: 1 },
  about: [
    "What the ground got against the map and the scale: mass balance, meter factor, catch test, and what is still",
    "missing as the next broadcast map. docs/operations.md shows --input: any of its parts.",
  ].join("\n"),
  options: ["input"],
  run: applied,
};

async function applied(call: Call): Promise<Outcome> {
  const { input } = planOrInput(call, "applied") as { input: string };
  const result = appliedOf(await readCalculation(call, input));
  return { exit: exit.done, data: appliedWords(result).join("\n"), json: result };
}
