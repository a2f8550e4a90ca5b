import { InputError } from "../../errors/index.ts";
import type { Plan, PlanField } from "../document/document-types.ts";
import { needSlice } from "../document/need-slice.ts";
import { samplesPaths } from "../document/samples-paths.ts";
import { type StageCache, type StageContext, type Staged, stage } from "../document/stage.ts";
import type { Excluded, Wanted } from "../results/need-result-types.ts";
import type { CheckedField, FieldGrid, NeedMap, SoilMaps } from "../results/result-types.ts";
import type { RunOptions } from "../results/run-options.ts";
import type { Inputs } from "../sources/read-sources.ts";
import { checkField } from "./check-field.ts";
import { guidanceOf } from "./guidance-of-field.ts";
import { layCells } from "./lay-cells.ts";
import { layExclusions } from "./lay-exclusions.ts";
import { mapNeed } from "./map-need.ts";
import { type FieldModels, mapSoil } from "./map-soil.ts";
import { mapZones } from "./map-zones.ts";
import type { BudgetCut } from "./spend-budget.ts";
import { cropYearOf, wantedField } from "./wanted-field.ts";

/** What every field of a run has in common. */
export interface Work {
  readonly plan: Plan;
  readonly inputs: Inputs;
  readonly pooled: ReadonlyMap<string, FieldModels>;
  readonly cache: StageCache;
  readonly options: RunOptions;
}

/** Progress, stop and cache of one field. */
export function contextOf(
  work: Work,
  field: PlanField,
  fieldNumber: number,
  fieldCount: number,
): StageContext {
  const { cache, options } = work;
  return {
    cache,
    border: async (stage) => {
      options.onProgress?.({ field: field.name, stage, fieldNumber, fieldCount });
      await options.pause?.();
      options.signal?.throwIfAborted();
    },
    pacing: {
      ...(options.signal ? { signal: options.signal } : {}),
      ...(options.pause ? { pause: options.pause } : {}),
      ...(options.parallel ? { parallel: options.parallel } : {}),
    },
    onMap: (test, done) =>
      options.onProgress?.({
        ...{ field: field.name, stage: "soil maps", fieldNumber, fieldCount },
        map: { test, done },
      }),
  };
}

/** A field as far as its wants, stage by stage. */
export interface AskedField {
  readonly checked: Staged<CheckedField>;
  readonly cells: Staged<FieldGrid>;
  readonly soil: Staged<SoilMaps>;
  readonly excluded: Staged<Excluded>;
  readonly need: Staged<NeedMap>;
  readonly wanted: Staged<Wanted>;
}

/** A field from its files to what strip and broadcast together are to bring. */
export async function askField(
  work: Work,
  field: PlanField,
  context: StageContext,
  cut: BudgetCut | null,
): Promise<AskedField> {
  const { plan, inputs } = work;
  const { maps } = plan;
  const pooled = work.pooled.get(field.id) ?? {};
  const read: Staged<Inputs> = { key: inputs.keyOf(field), value: inputs };
  const samplings = plan.sources.map((source) => source.sampling);
  const shapes = [
    [field.id, field.name, field.boundary, field.frameCentre],
    [samplesPaths(field), field.samplings, field.needFrom, samplings, plan.date, plan.samplingLimitYears],
  ];
  const pooledKey = Object.entries(pooled).map(([test, { source, model, corrections }]) => [
    test,
    source,
    model,
    corrections,
  ]);
  const cropYear = cropYearOf(plan);

  const land = await stage(context, "check", [read], shapes, () => checkField(plan, field, inputs));
  const along = [field.name, field.guidance, field.driveAlong];
  const full = await stage(context, "guidance line", [land], along, () => ({
    ...land.value,
    ...guidanceOf(field, land.value, inputs),
  }));
  // None of the stages below looks at the line: a line that is moved leaves what they made.
  const checked: Staged<CheckedField> = { key: land.key, value: full.value };
  const cells = await stage(context, "cells", [checked], maps.cellM, () =>
    layCells(checked.value, maps.cellM),
  );
  const soil = await stage(
    context,
    "soil maps",
    [checked, cells],
    [maps, field.models, field.switchedOff, field.kept, pooledKey, field.needFrom],
    () =>
      field.needFrom?.kind === "zones"
        ? mapZones(field, field.needFrom, checked.value, cells.value, inputs)
        : mapSoil(field, checked.value, cells.value, maps, pooled, context),
  );
  const excluded = await stage(context, "exclusions", [checked, cells], [plan.exclusions, field.id], () =>
    layExclusions(plan.exclusions ?? [], checked.value, cells.value, inputs),
  );
  const { files, readings = files === "later" ? "driving" : "all" } = work.options;
  const slice = needSlice(plan, readings === "driving");
  const { guidance: _, driveAlong: __, headlandPasses: ___, ...still } = field;
  const need = await stage(context, "need", [checked, cells, soil], [slice, still], () =>
    mapNeed(slice, field, checked.value, cells.value, soil.value, inputs),
  );
  const limits = [field.credits, field.nutrients, cropYear, cut];
  const wanted = await stage(context, "wanted", [cells, excluded, need], limits, () =>
    wantedField(field, cropYear, cells.value, need.value, excluded.value, cut),
  );
  return { checked: full, cells, soil, excluded, need, wanted };
}

/** Every field of the plan, without a budget's cut. One that is refused is left out: it is refused by name in its own turn. */
export async function askEveryField(
  work: Work,
): Promise<{ readonly field: PlanField; readonly asked: AskedField }[]> {
  const all: { field: PlanField; asked: AskedField }[] = [];
  const { fields } = work.plan;
  for (const [i, field] of fields.entries()) {
    try {
      all.push({
        field,
        asked: await askField(work, field, contextOf(work, field, i + 1, fields.length), null),
      });
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
    }
  }
  return all;
}
