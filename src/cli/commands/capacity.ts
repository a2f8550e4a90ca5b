import { planCapacity, ratePoints } from "../../plan/index.ts";
import { capacityOf } from "../calculations/capacity.ts";
import { planOrInput, readCalculation } from "../calculations/read-calculation.ts";
import type { Call, Command, Outcome } from "../command.ts";
import { exit } from "../exit.ts";
import { exitOf, runPlan } from "../run-plan.ts";
import { capacityOfPlanWords, capacityWords } from "../words/capacity-words.ts";

/** `capacity PLAN` or `capacity --input X.json`: acres a fill, an hour, a day, and who waits. */
export const command: Command = {
  operands: { shown: "[PLAN]", least: 0, most: 1 },
  about: [
    "Says what the rig does at the rates of the plan's strip maps: acres a fill by weight and volume, the",
    "line of the rig and that of the tenders, the rate where the tenders become the limit, acres a day",
    "steady, from full and from empty, meter flow and the speed it allows. The plan tells the rig by",
    "rig.work, the bins' volumeFt3 and tender (docs/split.md). With --input the calculation alone, on the",
    "figures of a JSON file (docs/split.md). What no source gives is shown as unconfirmed: type your own.",
  ].join("\n"),
  options: ["input", "field", "answer"],
  run: ofPlanOrInput,
};

async function ofPlanOrInput(call: Call): Promise<Outcome> {
  const given = planOrInput(call, "capacity");
  if ("plan" in given) return ofPlan(call, given.plan);
  const made = capacityOf(await readCalculation(call, given.input));
  return { exit: exit.done, data: capacityWords(made), json: made };
}

async function ofPlan(call: Call, operand: string): Promise<Outcome> {
  const { result } = await runPlan(call, operand);
  const found = planCapacity(result);
  const points = ratePoints(found.figures, found.all, aroundRates(found.all.rateLbPerAc));
  return {
    exit: exitOf(result),
    data: capacityOfPlanWords(found, points),
    json: { ...found, points },
  };
}

/** Rates of the table: round steps up to well over today's. */
function aroundRates(rate: number): number[] {
  const step = rate > 300 ? 100 : 50;
  const most = Math.max(step * 4, Math.ceil((1.5 * rate) / step) * step);
  return Array.from({ length: most / step }, (_, i) => (i + 1) * step);
}
