import { type Ledger, type PlannedField, readLedger } from "../ledger/index.ts";
import { type Plan, type RunResult, readPlan, run } from "../plan/index.ts";
import type { Call } from "./command.ts";
import { openPlan } from "./open-plan.ts";
import type { OpenedSource } from "./open-source.ts";

/** Beside plan.json; only ever appended to. */
export const ledgerName = "ledger.txt";

export interface WorkedPlan {
  readonly plan: Plan;
  readonly source: OpenedSource;
  /** Rates and totals; no files are written. */
  readonly result: RunResult;
  readonly ledger: Ledger;
}

/** A plan opened and worked out without writing files, with its ledger (empty when there is none); refused fields are told. */
export async function runPlan(call: Call, operand: string): Promise<WorkedPlan> {
  const { options, talk, signal } = call;
  const source = await openPlan(operand, call.readStandardInput);
  for (const notice of source.notices) talk.say(notice.message);
  const plan = readPlan(await source.read("plan.json"), "plan.json");
  const ledger = await ledgerOf(source);
  for (const notice of ledger.notices) talk.say(`Notice: ${notice.message}`);
  const result = await run(plan, source, {
    files: "later",
    answers: Object.fromEntries(options.answer),
    only: options.field,
    signal,
    pause: () => new Promise((turn) => setImmediate(turn)),
    onProgress: ({ field, stage, fieldNumber, fieldCount }) =>
      talk.progress(`${field}: ${stage}, field`, fieldNumber, fieldCount),
  });
  for (const { field, message } of result.refused) talk.say(`Field ${field}: ${message}`);
  return { plan, source, result, ledger };
}

/** The ledger of a plan folder; empty when it has none. Throws `ledger-damaged`. */
export async function ledgerOf(source: OpenedSource): Promise<Ledger> {
  const paths = await source.list();
  if (!paths.includes(ledgerName)) return { entries: [], notices: [] };
  return readLedger(await source.read(ledgerName), ledgerName);
}

/** The fields as the ledger needs them: acres, and the pounds of their strip maps. */
export const plannedFields = (result: RunResult): PlannedField[] =>
  result.fields.map(({ field, checked, prescriptions }) => ({
    fieldId: field.id,
    areaAc: checked.areaAc,
    plannedStripLb: prescriptions
      .filter((map) => map.pass === "strip")
      .reduce((sum, map) => sum + map.totalLb, 0),
  }));
