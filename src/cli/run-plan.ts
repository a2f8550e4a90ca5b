import type { Ledger, PlannedField } from "../ledger/index.ts";
import {
  LEDGER_PATH,
  type Plan,
  plannedFields as planned,
  type RunOptions,
  type RunResult,
  readPlan,
  run,
} from "../plan/index.ts";
import type { Call } from "./command.ts";
import { nextTurn } from "./next-turn.ts";
import { openPlan } from "./open-plan.ts";
import type { OpenedSource } from "./open-source.ts";

/** Beside plan.json; only ever appended to. */
export const ledgerName: string = LEDGER_PATH;

export interface WorkedPlan {
  readonly plan: Plan;
  readonly source: OpenedSource;
  /** Rates and totals; no files are written. */
  readonly result: RunResult;
  readonly ledger: Ledger;
}

/** What a run takes from the command line: answers, the fields it works on, when to stop, and where it has got to. */
export const runOptions = ({ options, talk, signal }: Call): RunOptions => ({
  answers: Object.fromEntries(options.answer),
  only: options.field,
  signal,
  pause: nextTurn,
  onProgress: ({ field, stage, fieldNumber, fieldCount }) =>
    talk.progress(`${field}: ${stage}, field`, fieldNumber, fieldCount),
});

/** A plan opened and worked out without writing files, with its ledger (empty when there is none); refused fields are told. */
export async function runPlan(call: Call, operand: string): Promise<WorkedPlan> {
  const { talk } = call;
  const source = await openPlan(operand, call.readStandardInput);
  for (const notice of source.notices) talk.say(notice.message);
  const plan = readPlan(await source.read("plan.json"), "plan.json");
  const result = await run(plan, source, { files: "later", ...runOptions(call) });
  for (const { field, message } of result.refused) talk.say(`Field ${field}: ${message}`);
  const { ledger } = result;
  for (const notice of ledger.notices) talk.say(`Notice: ${notice.message}`);
  return { plan, source, result, ledger };
}

/** The fields as the ledger needs them: acres, and the pounds of their strip maps. */
export const plannedFields = (result: RunResult): PlannedField[] => planned(result.fields);
