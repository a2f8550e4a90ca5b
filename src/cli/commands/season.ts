import { type SeasonOptions, seasonOfPlan } from "../../plan/index.ts";
import { counted, numberText } from "../../units/index.ts";
import { planOrInput, readCalculation } from "../calculations/read-calculation.ts";
import { seasonOf } from "../calculations/season.ts";
import type { Call, Command, Outcome } from "../command.ts";
import { exit } from "../exit.ts";
import { numberOption, STRIP_SHARE } from "../number-option.ts";
import { exitOf, runPlan } from "../run-plan.ts";
import { dayOption } from "../today.ts";
import { seasonOfPlanWords } from "../words/season-of-plan-words.ts";
import { seasonWords } from "../words/season-words.ts";

/** `season PLAN` or `season --input X.json`: acres a day, finish dates, planters, humidity. */
export const command: Command = {
  operands: { shown: "[PLAN]", least: 0, most: 1 },
  about: [
    "When the strips are done, the date that holds in 8 years of 10 first; acres a day from full, from empty and",
    "steady; both levers; whether the strips keep ahead of the planters; hours of humid air and when the plain",
    "blend is better. Begins from what the plan's ledger says is done. What if: --tenders 2, --mph 8, --hours 12,",
    "--strip-share 0.8, --start 2027-04-20. --input takes any part of the calculation alone (docs/operations.md).",
  ].join("\n"),
  options: ["input", "answer", "start", "tenders", "mph", "hours", "strip-share"],
  run: season,
};

async function season(call: Call): Promise<Outcome> {
  const given = planOrInput(call, "season");
  if ("input" in given) {
    const result = seasonOf(await readCalculation(call, given.input));
    return { exit: exit.done, data: seasonWords(result).join("\n"), json: result };
  }
  const { result } = await runPlan(call, given.plan);
  const { plan, stands } = result;
  const start = dayOption(call, "start");
  const base: SeasonOptions = { stands, ...(start === undefined ? {} : { start }) };
  const made = seasonOfPlan(plan, result.fields, base);
  const tenders = numberOption(call, "tenders", { least: 1, whole: true });
  const mph = numberOption(call, "mph", { above: 0 });
  const hoursPerDay = numberOption(call, "hours", { above: 0 });
  const stripShare = numberOption(call, "strip-share", STRIP_SHARE);
  const changed = [
    ...(tenders === undefined ? [] : [counted(tenders, "tender")]),
    ...(mph === undefined ? [] : [`${mph} mph`]),
    ...(hoursPerDay === undefined ? [] : [`${hoursPerDay} h a day`]),
    ...(stripShare === undefined ? [] : [`${numberText(100 * stripShare, 0)} % of the strip's pounds`]),
  ];
  const whatIf =
    changed.length > 0
      ? seasonOfPlan(plan, result.fields, {
          ...base,
          ...(tenders === undefined ? {} : { tenders }),
          ...(mph === undefined ? {} : { mph }),
          ...(hoursPerDay === undefined ? {} : { hoursPerDay }),
          ...(stripShare === undefined ? {} : { stripShare }),
        })
      : null;
  const words = [
    ...seasonOfPlanWords(made),
    ...(whatIf === null ? [] : ["", `What if: ${changed.join(", ")}`, ...seasonOfPlanWords(whatIf)]),
  ];
  return {
    exit: exitOf(result),
    data: words.join("\n"),
    json: { incomplete: result.incomplete, ...made, whatIf },
  };
}
