import { orderOf } from "../calculations/order.ts";
import { planOrInput, readCalculation } from "../calculations/read-calculation.ts";
import type { Call, Command, Outcome } from "../command.ts";
import { exit } from "../exit.ts";
import { orderWords } from "../words/order-words.ts";

/** `order PLAN` or `order --input X.json`: what to order, what it costs, what is left over. */
export const command: Command = {
  operands: { shown: "", least: 0, most: 1 },
  about: [
    "What to order: pounds of all maps added first and rounded once, with overlap, loss and stock; cost and what is",
    "left over; up or down against what is booked; what-if prices. docs/operations.md shows --input.",
  ].join("\n"),
  options: ["input"],
  run: order,
};

async function order(call: Call): Promise<Outcome> {
  const { input } = planOrInput(call, "order") as { input: string };
  const result = orderOf(await readCalculation(call, input));
  return { exit: exit.done, data: orderWords(result).join("\n"), json: result };
}
