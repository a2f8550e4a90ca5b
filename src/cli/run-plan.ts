import type { LedgerEntry } from "../ledger/index.ts";
import { type RunOptions, type RunResult, run } from "../plan/index.ts";
import type { Call } from "./command.ts";
import { exit } from "./exit.ts";
import { nextTurn } from "./next-turn.ts";
import { readPlanAt } from "./open-plan.ts";
import type { OpenedSource } from "./open-source.ts";
import { sayNotices } from "./talk.ts";

export interface WorkedPlan {
  readonly source: OpenedSource;
  /** Rates and totals, with plan and ledger; no files are written. */
  readonly result: RunResult;
  /** Whether it is a build's own copy of its plan, ledger and all. */
  readonly isCopy: boolean;
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

/** A plan opened and worked out without writing files; refused fields, doubts about its ledger and a ledger that is a build's copy are told. */
export async function runPlan(
  call: Call,
  operand: string,
  options: Pick<RunOptions, "readings"> = {},
): Promise<WorkedPlan> {
  const { source, plan, isCopy } = await readPlanAt(call, operand);
  const result = await run(plan, source, { files: "later", ...runOptions(call), ...options });
  for (const { field, message } of result.refused) call.talk.say(`Field ${field}: ${message}`);
  sayNotices(call.talk, result.ledger.notices);
  if (isCopy) call.talk.say(copyWords(result.ledger.entries.at(-1)));
  return { source, result, isCopy };
}

/** How far a build knows the ledger. */
function copyWords(last: LedgerEntry | undefined): string {
  const until =
    last === undefined
      ? "this build was written without a ledger"
      : `the ledger is this build's copy, up to line ${last.number} of ${last.date}`;
  return `Notice: ${until}; lines that the plan's own ledger got since are not in it`;
}

/** How a verb ends that worked a plan out. */
export const exitOf = ({ refused }: RunResult): 0 | 4 => (refused.length > 0 ? exit.partly : exit.done);
