import { dirname, resolve } from "node:path";
import { orderOfPlan } from "../../plan/index.ts";
import { orderOf } from "../calculations/order.ts";
import { planOrInput, readCalculation } from "../calculations/read-calculation.ts";
import type { Call, Command, Outcome } from "../command.ts";
import { exit } from "../exit.ts";
import { productNumbers } from "../number-option.ts";
import { folderOf, isInBuild } from "../open-plan.ts";
import { openSource } from "../open-source.ts";
import { exitOf, runPlan } from "../run-plan.ts";
import { isOfABuild, wholeBuild } from "../whole-build.ts";
import { orderOfPlanWords } from "../words/order-of-plan-words.ts";
import { orderWords } from "../words/order-words.ts";

/** `order PLAN` or `order --input X.json`: what to order, what it costs, what is left over. */
export const command: Command = {
  operands: { shown: "[PLAN]", least: 0, most: 1 },
  about: [
    "What to order: pounds of all maps added first and rounded once, with overlap, loss and stock; cost and what is",
    "left over; up or down against what is booked. What the ledger says is placed is not ordered again.",
    "What if: --price 0-0-60=520. --input takes the calculation alone (docs/operations.md).",
  ].join("\n"),
  options: ["input", "answer", "price"],
  run: order,
};

async function order(call: Call): Promise<Outcome> {
  const given = planOrInput(call, "order");
  if ("input" in given) {
    const result = orderOf(await readCalculation(call, given.input));
    return { exit: exit.done, data: orderWords(result).join("\n"), json: result };
  }
  // What comes on standard input can be read once.
  let read: Promise<Uint8Array> | undefined;
  const held: Call = { ...call, readStandardInput: () => (read ??= call.readStandardInput()) };
  await refuseChangedBuild(held, given.plan);
  const { result } = await runPlan(held, given.plan, { readings: "all" });
  const made = orderOfPlan(result.plan, result.fields, {
    prices: productNumbers(
      call,
      "price",
      result.fields.flatMap(({ prescriptions }) => prescriptions.map(({ product }) => product)),
    ),
    stands: result.stands,
  });
  const missing =
    result.incomplete === "" ? [] : [`Incomplete: ${result.incomplete}; the others are left out.`];
  return {
    exit: exitOf(result),
    data: [...missing, ...orderOfPlanWords(made)].join("\n"),
    json: { incomplete: result.incomplete, ...made },
  };
}

/**
 * A build is ordered from as it was written, or not at all, also by the copy of its plan in it. Throws `no-build`,
 * `not-as-written`.
 */
async function refuseChangedBuild(call: Call, operand: string): Promise<void> {
  const nothing = "nothing was ordered from it";
  const folder = folderOf(operand);
  const source = await openSource(folder, call.readStandardInput);
  if (isOfABuild(await source.list())) await wholeBuild(source, operand, nothing);
  if (!isInBuild(operand)) return;
  await wholeBuild(
    await openSource(dirname(resolve(folder)), call.readStandardInput),
    dirname(folder),
    nothing,
  );
}
