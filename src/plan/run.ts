import { InputError } from "../errors/index.ts";
import type { Extra, Prescription } from "../prescription/index.ts";
import { askField, contextOf, spendOverFields, type Work } from "./ask-field.ts";
import { balanceField, balanceReasons } from "./balance-field.ts";
import type { Plan, PlanField } from "./document-types.ts";
import { driveGeometry, withPounds } from "./drive-figures.ts";
import { fieldAccounts, planNotices } from "./field-accounts.ts";
import { cutPasses, cutSpreaderCells, passSlice } from "./field-pieces.ts";
import type { FileSource } from "./file-source.ts";
import { poolModels } from "./pool-models.ts";
import { readBack } from "./read-back.ts";
import { readOnce } from "./read-once.ts";
import type { CheckedField, FieldResult, Pieces, RefusedField, RunResult } from "./result-types.ts";
import type { RunOptions } from "./run-options.ts";
import { type BudgetCut, budgetPassed } from "./spend-budget.ts";
import { splitField } from "./split-field.ts";
import { createStageCache, hashOf, type StageContext, type Staged, stage } from "./stage.ts";
import { totalsOf } from "./totals.ts";
import { controllerNotices, writeExtraForms } from "./write-extra-forms.ts";
import { broadcastMaps, stripMaps, writeMap } from "./write-maps.ts";
import { type ZeroRate, zeroRateOf } from "./zero-rate.ts";

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
export async function run(plan: Plan, files: FileSource, options: RunOptions = {}): Promise<RunResult> {
  const wanted = fieldsWanted(plan, options.only);
  // A budget asks every field before any gets something: what they were asked is kept.
  const cache = options.cache ?? createStageCache(50 + (plan.budget ? 8 * plan.fields.length : 0));
  const inputs = await readOnce(plan, files, options.answers ?? {}, cache);
  const writing: Writing = {
    writesFiles: options.files !== "later",
    zeroRate:
      plan.extras && options.files !== "later" ? zeroRateOf(plan.controller, options.answers ?? {}) : null,
  };
  const pooled = poolModels(plan, inputs);
  const work = { plan, inputs, pooled, cache, options };
  const spent = plan.budget ? await spendOverFields(work, plan.budget) : null;
  const results: FieldResult[] = [];
  const refused: RefusedField[] = [];
  for (const [i, field] of wanted.entries()) {
    const context = contextOf(work, field, i + 1, wanted.length);
    try {
      const result = await runField(work, field, context, spent?.cut ?? null, writing);
      results.push(result);
      options.onField?.(result);
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
      if (wanted.length === 1) throw error;
      refused.push({ field: field.id, code: error.code, message: error.message, remedy: error.remedy });
    }
  }
  if (results.length === 0) throw allRefused(refused);
  const placed = results.flatMap((result) => result.prescriptions);
  const budget = [...(spent ? [spent.notice] : []), ...budgetPassed(plan, placed)];
  const notices = [...inputs.notices, ...planNotices(plan, results), ...budget];
  return totalsOf(plan, hashOf(plan), notices, results, refused, wanted.length);
}

/** One field, stage by stage; each names the slice of the plan and the results it reads. */
async function runField(
  work: Work,
  field: PlanField,
  context: StageContext,
  cut: BudgetCut | null,
  { writesFiles, zeroRate }: Writing,
): Promise<FieldResult> {
  const { plan } = work;
  const { rig, spreader, split } = plan;
  const { checked, cells, soil, excluded, need, wanted } = await askField(work, field, context, cut);
  const kept = excluded.value;
  const names = [field.id, plan.fields.map((one) => one.id)];
  const shares = await stage(context, "split", [cells, excluded, wanted], [split, rig.bins], () =>
    splitField(split, rig.bins, cells.value, wanted.value, kept.strip),
  );
  const { ground } = kept;
  const swath = [passSlice(rig, field, plan.seasonYear), ground.strip];
  const passes = await stage(context, "passes", [checked, cells], swath, () =>
    cutPasses(rig, field, plan.seasonYear, checked.value, cells.value, ground.strip),
  );
  const rules = [rig, split, names, plan.controller];
  const strip = await stage(context, "strip rates", [cells, shares, passes], rules, () =>
    stripMaps(plan, field, cells.value, shares.value, passes.value),
  );
  const swaths = await stage(context, "spreader cells", [checked, cells], [spreader, ground.surface], () =>
    cutSpreaderCells(spreader, checked.value, cells.value, ground.surface),
  );
  const figures = await stage(context, "driving", [passes], rig, () => driveGeometry(rig, passes.value));
  const driving = withPounds(rig, figures.value, field, strip.value.maps);
  const sources = [cells, wanted, passes, strip, swaths];
  const broadcast = await stage(context, "broadcast rates", sources, [spreader, field.broadcast, names], () =>
    broadcastMaps(plan, field, cells.value, wanted.value, passes.value, strip.value.maps, swaths.value),
  );
  const rated = [...strip.value.maps, ...broadcast.value.prescriptions];
  const prescriptions = writesFiles
    ? await writeAndReadBack(plan, checked, passes, swaths, [strip, broadcast], rated, context)
    : rated;
  const extras = zeroRate
    ? await extraForms(
        plan,
        field,
        checked,
        [passes, swaths],
        [strip, broadcast],
        prescriptions,
        zeroRate,
        context,
      )
    : [];
  const limits = prescriptions.flatMap((map) =>
    controllerNotices(plan, map, map.pass === "strip" ? passes.value : swaths.value),
  );
  return {
    field,
    checked: checked.value,
    cells: cells.value,
    maps: soil.value.maps,
    need: need.value,
    excluded: kept,
    wanted: wanted.value,
    split: shares.value,
    passes: passes.value,
    driving,
    swaths: swaths.value,
    prescriptions,
    extras,
    balances: balanceField(cells.value, need.value, wanted.value, strip.value.maps, broadcast.value),
    balanceReasons: balanceReasons(wanted.value, broadcast.value),
    ...fieldAccounts(work, field, checked.value, cells.value, passes.value, swaths.value, rated),
    notices: [checked, soil, need, wanted, shares]
      .flatMap((staged) => staged.value.notices)
      .concat(kept.notices, passes.value.notices, strip.value.notices, driving.notices, limits),
  };
}

/** The maps with their files, map by map, each once other code has read it back. */
async function writeAndReadBack(
  plan: Plan,
  checked: Staged<CheckedField>,
  passes: Staged<Pieces>,
  swaths: Staged<Pieces>,
  rates: readonly Staged<unknown>[],
  rated: readonly Prescription[],
  context: StageContext,
): Promise<readonly Prescription[]> {
  const maps: Prescription[] = [];
  for (const map of rated) {
    const ground = map.pass === "strip" ? passes : swaths;
    const slice = [plan.date, map.stem, plan.controller?.mostVertices];
    const written = await stage(context, "files", [ground, ...rates], slice, () =>
      writeMap(plan, map, ground.value),
    );
    await stage(context, "read-back", [checked, written], null, () =>
      readBack(checked.value, written.value, context.pacing.pause),
    );
    maps.push(written.value);
  }
  return maps;
}

/** The other forms that the plan asks for, pass by pass, each read back. */
async function extraForms(
  plan: Plan,
  field: PlanField,
  checked: Staged<CheckedField>,
  grounds: readonly Staged<Pieces>[],
  rates: readonly Staged<unknown>[],
  maps: readonly Prescription[],
  zeroRate: ZeroRate,
  context: StageContext,
): Promise<readonly Extra[]> {
  const { extras: forms, controller, date, name } = plan;
  const number = plan.fields.indexOf(field);
  const slice = [
    forms,
    controller,
    date,
    name,
    zeroRate,
    number,
    plan.rig.bins,
    plan.spreader.rateStepLbPerAc,
  ];
  const extras: Extra[] = [];
  for (const [k, pass] of (["strip", "broadcast"] as const).entries()) {
    const ground = grounds[k]!;
    const own = maps.filter((map) => map.pass === pass);
    const stems = own.map((map) => map.stem);
    const made = await stage(context, "other forms", [checked, ground, ...rates], [slice, pass, stems], () =>
      writeExtraForms(plan, field, checked.value, ground.value, own, zeroRate, context.pacing.pause),
    );
    extras.push(...made.value);
  }
  return extras;
}

function fieldsWanted(plan: Plan, only: readonly string[] | undefined): readonly PlanField[] {
  if (!only || only.length === 0) return plan.fields;
  for (const id of only) {
    if (!plan.fields.some((field) => field.id === id)) {
      const known = plan.fields.slice(0, 12).map((field) => field.id);
      throw new InputError(
        "no-such-field",
        `The plan has no field “${id}”.`,
        `Name one of: ${known.join(", ")}.`,
      );
    }
  }
  return plan.fields.filter((field) => only.includes(field.id));
}

function allRefused(refused: readonly RefusedField[]): InputError {
  const lines = refused.map((field) => `${field.field}: ${field.message} ${field.remedy}`);
  return new InputError(
    "no-field-worked-out",
    `No field could be worked out.\n${lines.join("\n")}`,
    "Mend the fields named.",
  );
}
