import { planOrInput, readCalculation } from "../calculations/read-calculation.ts";
import { seasonOf } from "../calculations/season.ts";
import type { Call, Command, Outcome } from "../command.ts";
import { exit } from "../exit.ts";
import { seasonWords } from "../words/season-words.ts";

/** `season PLAN` or `season --input X.json`: acres a day, finish dates, planters, humidity. */
export const command: Command = {
  operands: { shown: "", least: 0, most: 1 },
  about: [
    "When the strips are done, the date that holds in 8 years of 10 first; whether they keep ahead of the planters;",
    "hours of humid air and when the plain blend is better. docs/operations.md shows --input: any of its parts.",
  ].join("\n"),
  options: ["input"],
  run: season,
};

async function season(call: Call): Promise<Outcome> {
  const { input } = planOrInput(call, "season") as { input: string };
  const result = seasonOf(await readCalculation(call, input));
  return { exit: exit.done, data: seasonWords(result).join("\n"), json: result };
}
