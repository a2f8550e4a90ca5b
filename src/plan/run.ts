import { InputError, inOneLine } from "../errors/index.ts";
import type { Prescription } from "../prescription/index.ts";
import { loadSplitSolver } from "../split/index.ts";
import { budgetNotices } from "./budget/budget-notices.ts";
import { cutsOf, spendOverFields } from "./budget/spend-over-fields.ts";
import { withAnsweredOptions } from "./document/answered-options.ts";
import type { Plan, PlanField } from "./document/document-types.ts";
import { requireField } from "./document/no-such-field.ts";
import { planHash } from "./document/plan-hash.ts";
import { createStageCache, type StageContext } from "./document/stage.ts";
import { wantedForms } from "./document/wanted-forms.ts";
import { type ZeroRate, zeroRateOf } from "./document/zero-rate.ts";
import { balanceField, balanceReasons } from "./maps/balance-field.ts";
import { fieldAccounts, planNotices } from "./maps/field-accounts.ts";
import { keptOffNotices } from "./maps/kept-off-notices.ts";
import { maximumPassed } from "./maps/maximum-passed.ts";
import { rateDoubts, rigDoubts } from "./maps/rate-doubts.ts";
import { rateField, type Settled } from "./maps/rate-field.ts";
import { smallRateNotices, smallRateOfFarm } from "./maps/small-rate.ts";
import { extraForms, writeAndReadBack } from "./maps/write-and-read-back.ts";
import { controllerNotices, zeroNotices } from "./maps/write-extra-forms.ts";
import { contextOf, type Work } from "./need/ask-field.ts";
import { poolModels } from "./need/pool-models.ts";
import { seasonDoubts } from "./need/season-doubts.ts";
import { blendNotices, settleBlends } from "./need/settle-blends.ts";
import type { FieldCuts } from "./need/spend-budget.ts";
import { sameGoalNotices } from "./need/yield-notices.ts";
import { careNotices, carePlanNotices, fieldCare } from "./results/field-care.ts";
import type { FieldResult, FinishedPass, RefusedField, RunResult } from "./results/result-types.ts";
import type { RunOptions } from "./results/run-options.ts";
import { densityNotices } from "./rig/rig-figures.ts";
import type { FileSource } from "./sources/file-source.ts";
import { readOnce } from "./sources/read-once.ts";
import { finishedPasses, ledgerOf, standsOf } from "./stands/ledger-of-plan.ts";
import { totalsOf } from "./totals.ts";

/** What of the files is written; `zeroRate` is null when no other forms are. */
interface Writing {
  readonly writesFiles: boolean;
  readonly zeroRate: ZeroRate | null;
}

/**
 * The whole job, from the plan and its files to prescription files that were read back, with their totals.
 * One bad field never stops the others: it is in `refused` and every total says so. Throws a `QuestionError`
 * when a file's question is open, and the first field's error when no field could be worked out.
 */
export async function run(given: Plan, files: FileSource, options: RunOptions = {}): Promise<RunResult> {
  const plan = withAnsweredOptions(given, options.answers ?? {});
  const wanted = fieldsWanted(plan, options.only);
  // A budget asks every field before any gets something: what they were asked is kept.
  const cache =
    options.cache ?? createStageCache(50 + (plan.budget || plan.blends ? 20 * plan.fields.length : 0));
  const ledger = await ledgerOf(files);
  const inputs = await readOnce(plan, files, options.answers ?? {}, cache);
  const writing: Writing = {
    writesFiles: options.files !== "later",
    zeroRate:
      wantedForms(plan).length > 0 && options.files !== "later"
        ? zeroRateOf(plan.controller, options.answers ?? {})
        : null,
  };
  const pooled = poolModels(plan, inputs);
  const work = { plan, inputs, pooled, cache, options };
  const settled: Settled = {
    blends: await settleBlends(work),
    highs: plan.split.method === "optimum" ? await (options.solver ?? loadSplitSolver)() : null,
  };
  const spent = plan.budget ? await spendOverFields(work, plan.budget, settled, ledger.entries) : null;
  const results: FieldResult[] = [];
  const refused: RefusedField[] = [];
  for (const [i, field] of wanted.entries()) {
    const context = contextOf(work, field, i + 1, wanted.length);
    try {
      const finished = finishedPasses(ledger.entries, field.id);
      const result = await runField(
        work,
        field,
        context,
        cutsOf(spent, field.id),
        writing,
        settled,
        finished,
      );
      results.push(result);
      options.onField?.(result);
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
      if (wanted.length === 1) throw error;
      refused.push({ field: field.id, code: error.code, message: error.message, remedy: error.remedy });
    }
  }
  if (results.length === 0) throw allRefused(refused);
  const budget = budgetNotices(plan, spent, settled.blends, results, standsOf(ledger, results));
  const notices = [
    ...inputs.notices,
    ...planNotices(plan, results),
    ...rigDoubts(plan),
    ...densityNotices(plan),
    ...sameGoalNotices(plan.fields),
    ...carePlanNotices(plan, results),
    ...blendNotices(settled.blends),
    ...(results.length > 1 ? smallRateOfFarm(plan, results) : []),
    ...budget,
  ];
  return totalsOf(plan, planHash(plan), notices, results, refused, wanted.length, settled.blends, ledger);
}

/** One field, stage by stage; each names the slice of the plan and the results it reads. */
async function runField(
  work: Work,
  field: PlanField,
  context: StageContext,
  cuts: FieldCuts,
  { writesFiles, zeroRate }: Writing,
  settled: Settled,
  finished: readonly FinishedPass[],
): Promise<FieldResult> {
  const { plan } = work;
  const rates = await rateField(work, field, context, cuts, settled);
  const { asked, laid, shares, passes, strip, swaths, driving, broadcast, maps: rated } = rates;
  const { checked, cells, soil, excluded, need, wanted } = asked;
  const kept = excluded.value;
  const care = fieldCare(plan, field, laid, passes.value, rated, soil.value.maps.CEC?.estimate);
  const isFrozen = (map: Prescription): boolean => finished.some(({ pass }) => pass === map.pass);
  const prescriptions = writesFiles
    ? await writeAndReadBack(plan, checked, passes, swaths, [strip, broadcast], rated, isFrozen, context)
    : rated;
  const extras = zeroRate
    ? await extraForms(
        plan,
        field,
        checked,
        [passes, swaths],
        [strip, broadcast],
        prescriptions.filter((map) => !isFrozen(map)),
        zeroRate,
        context,
      )
    : [];
  const limits = prescriptions.flatMap((map) =>
    controllerNotices(plan, map, map.pass === "strip" ? passes.value : swaths.value),
  );
  const accounts = fieldAccounts(
    work,
    field,
    checked.value,
    cells.value,
    passes.value,
    swaths.value,
    rated,
    care.riding,
  );
  return {
    field,
    checked: checked.value,
    cells: cells.value,
    maps: soil.value.maps,
    need: need.value,
    excluded: kept,
    wanted: wanted.value,
    laid,
    split: shares.value,
    care,
    passes: passes.value,
    driving,
    swaths: swaths.value,
    gaps: broadcast.value.gaps,
    finished,
    prescriptions,
    extras,
    balances: balanceField(cells.value, need.value, wanted.value, strip.value.maps, broadcast.value),
    balanceReasons: balanceReasons(wanted.value, broadcast.value),
    yields: accounts.yields,
    alsoWanted: accounts.alsoWanted,
    shownTests: accounts.shownTests,
    get sheet() {
      return accounts.sheet();
    },
    notices: [checked, soil, need, wanted, shares]
      .flatMap((staged) => staged.value.notices)
      .concat(keptOffNotices(field, kept, passes.value, swaths.value))
      .concat(passes.value.notices, strip.value.notices, broadcast.value.notices, driving.notices)
      .concat(seasonDoubts(plan, field, checked.value.samplings))
      .concat(maximumPassed(plan, field, cells.value, passes.value, swaths.value, rated))
      .concat(
        rateDoubts(
          plan,
          field,
          shares.value,
          rated.filter((map) => !isFrozen(map)),
          checked.value.areaAc,
        ),
      )
      .concat(careNotices(field, care), limits, zeroNotices(field, extras))
      .concat(
        smallRateNotices(plan, {
          field,
          finished,
          prescriptions,
          extras,
          passes: passes.value,
          swaths: swaths.value,
        }),
      ),
  };
}

function fieldsWanted(plan: Plan, only: readonly string[] | undefined): readonly PlanField[] {
  if (!only || only.length === 0) return plan.fields;
  for (const id of only) requireField(plan, id);
  return plan.fields.filter((field) => only.includes(field.id));
}

/** What stands in the way of all fields alike keeps its code: what leads on from it leads on here. */
function allRefused(refused: readonly RefusedField[]): InputError {
  const isOneThing = refused.every(({ code }) => code === refused[0]!.code);
  const lines = refused.map((field) => `${field.field}: ${inOneLine(field)}`);
  return new InputError(
    isOneThing ? refused[0]!.code : "no-field-worked-out",
    `No field could be worked out.\n${lines.join("\n")}`,
    "Mend the fields named.",
  );
}
