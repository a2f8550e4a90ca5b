import { ledgerOf } from "../calculations/ledger.ts";
import { planOrInput, readCalculation } from "../calculations/read-calculation.ts";
import type { Call, Command, Outcome } from "../command.ts";
import { exit } from "../exit.ts";
import { standWords } from "../words/ledger-words.ts";

/** `ledger PLAN` or `ledger --input X.json`: what each field received, and where it stands. */
export const command: Command = {
  operands: { shown: "", least: 0, most: 1 },
  about: [
    "What each field received and where it stands: waiting, on stick, part stripped, stripped, short.",
    "docs/operations.md shows --input.",
  ].join("\n"),
  options: ["input"],
  run: ledger,
};

async function ledger(call: Call): Promise<Outcome> {
  const { input } = planOrInput(call, "ledger") as { input: string };
  const fields = ledgerOf(await readCalculation(call, input));
  return { exit: exit.done, data: standWords(fields).join("\n"), json: { fields } };
}
