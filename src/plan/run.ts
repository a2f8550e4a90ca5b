import { InputError } from "../errors/index.ts";
import type { Answers } from "./answers.ts";
import { balanceField } from "./balance-field.ts";
import { checkField } from "./check-field.ts";
import type { Plan, PlanField } from "./document-types.ts";
import { cutPasses, cutSpreaderCells } from "./field-pieces.ts";
import type { FileSource } from "./file-source.ts";
import { layCells } from "./lay-cells.ts";
import { mapNeed } from "./map-need.ts";
import { mapSoil } from "./map-soil.ts";
import { readBack } from "./read-back.ts";
import { type Inputs, readSources } from "./read-sources.ts";
import type { FieldResult, RefusedField, RunResult } from "./result-types.ts";
import { splitField } from "./split-field.ts";
import { createStageCache, hashOf, type StageCache, type StageContext, type Staged, stage } from "./stage.ts";
import { totalsOf } from "./totals.ts";
import { broadcastMaps, stripMaps } from "./write-maps.ts";

export interface RunOptions {
  /** Answers to questions that files raise; those in the plan stand unless given here. */
  readonly answers?: Answers;
  /** Only these field ids. */
  readonly only?: readonly string[];
  readonly cache?: StageCache;
  readonly onProgress?: (progress: Progress) => void;
  /** Looked at before every stage; aborted ends the run by throwing its reason. */
  readonly signal?: { readonly aborted: boolean; throwIfAborted(): void };
  /** Lets the host's own queue run (a message, Ctrl-C) at every border and within long stages. */
  readonly pause?: () => Promise<void>;
}

export interface Progress {
  readonly field: string;
  readonly stage: string;
  readonly fieldNumber: number;
  readonly fieldCount: number;
}

/**
 * The whole job, from the plan and its files to prescription files that were read back, with their totals.
 * One bad field never stops the others: it is in `refused` and every total says so. Throws a `QuestionError`
 * when a file's question is open, and the first field's error when no field could be worked out.
 */
export async function run(plan: Plan, files: FileSource, options: RunOptions = {}): Promise<RunResult> {
  const wanted = fieldsWanted(plan, options.only);
  const cache = options.cache ?? createStageCache(50);
  const inputs = await readSources(plan, files, options.answers ?? {});
  const results: FieldResult[] = [];
  const refused: RefusedField[] = [];
  for (const [i, field] of wanted.entries()) {
    const context: StageContext = {
      cache,
      border: async (name) => {
        options.onProgress?.({
          field: field.name,
          stage: name,
          fieldNumber: i + 1,
          fieldCount: wanted.length,
        });
        await options.pause?.();
        options.signal?.throwIfAborted();
      },
      pacing: {
        ...(options.signal ? { signal: options.signal } : {}),
        ...(options.pause ? { pause: options.pause } : {}),
      },
    };
    try {
      results.push(await runField(plan, field, inputs, context));
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
      if (wanted.length === 1) throw error;
      refused.push({ field: field.id, code: error.code, message: error.message, remedy: error.remedy });
    }
  }
  if (results.length === 0) throw allRefused(refused);
  return totalsOf(plan, hashOf(plan), inputs.notices, results, refused, wanted.length);
}

/** One field, stage by stage; each names the slice of the plan and the results it reads. */
async function runField(
  plan: Plan,
  field: PlanField,
  inputs: Inputs,
  context: StageContext,
): Promise<FieldResult> {
  const { maps, rig, spreader, split, ownGuides } = plan;
  const read: Staged<Inputs> = { key: inputs.keyOf(field), value: inputs };
  const shapes = [field.id, field.name, field.boundary, field.guidance, field.samples, field.frameCentre];
  const wants = [field.crop, field.yieldBuPerAc, field.guide, field.guideOptions, ownGuides];
  const files = [field.id, plan.fields.map((one) => one.id), plan.date];

  const checked = await stage(context, "check", [read], shapes, () => checkField(field, inputs));
  const cells = await stage(context, "cells", [checked], maps.cellM, () =>
    layCells(checked.value, maps.cellM),
  );
  const soil = await stage(context, "soil maps", [checked, cells], [maps, field.models], () =>
    mapSoil(checked.value, cells.value, maps, field.models ?? {}, context.pacing),
  );
  const need = await stage(context, "need", [checked, soil], wants, () =>
    mapNeed(field, ownGuides ?? [], checked.value, soil.value),
  );
  const shares = await stage(context, "split", [cells, need], [split, rig.bins], () =>
    splitField(split, rig.bins, cells.value, need.value),
  );
  const swath = [rig.rows, rig.rowSpacingIn, rig.segmentM];
  const passes = await stage(context, "passes", [checked, cells], swath, () =>
    cutPasses(rig, checked.value, cells.value),
  );
  const strip = await stage(context, "strip maps", [cells, shares, passes], [rig, split, files], () =>
    stripMaps(plan, field, cells.value, shares.value, passes.value),
  );
  const swaths = await stage(context, "spreader cells", [checked, cells], spreader, () =>
    cutSpreaderCells(spreader, checked.value, cells.value),
  );
  const sources = [cells, need, passes, strip, swaths];
  const broadcast = await stage(context, "broadcast maps", sources, [spreader, field.broadcast, files], () =>
    broadcastMaps(plan, field, cells.value, need.value, passes.value, strip.value, swaths.value),
  );
  const prescriptions = [...strip.value, ...broadcast.value.prescriptions];
  await stage(context, "read-back", [checked, strip, broadcast], null, () =>
    readBack(checked.value, prescriptions),
  );
  return {
    field,
    checked: checked.value,
    cells: cells.value,
    maps: soil.value.maps,
    need: need.value,
    split: shares.value,
    passes: passes.value,
    swaths: swaths.value,
    prescriptions,
    balances: balanceField(cells.value, need.value, strip.value, broadcast.value),
    notices: [checked, soil, need, shares].flatMap((staged) => staged.value.notices),
  };
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
