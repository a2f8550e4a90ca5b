import type { Extra, Prescription } from "../../prescription/index.ts";
import type { Plan, PlanField } from "../document/document-types.ts";
import { laidProducts } from "../document/field-products.ts";
import { type StageContext, type Staged, stage } from "../document/stage.ts";
import type { ZeroRate } from "../document/zero-rate.ts";
import type { Pieces } from "../results/drive-result-types.ts";
import type { CheckedField } from "../results/result-types.ts";
import { readBack } from "./read-back.ts";
import { writeExtraForms } from "./write-extra-forms.ts";
import { writeMap } from "./write-maps.ts";

/** The maps with their files, map by map, each once other code has read it back; those of a finished pass without. */
export async function writeAndReadBack(
  plan: Plan,
  checked: Staged<CheckedField>,
  passes: Staged<Pieces>,
  swaths: Staged<Pieces>,
  rates: readonly Staged<unknown>[],
  rated: readonly Prescription[],
  isFrozen: (map: Prescription) => boolean,
  context: StageContext,
): Promise<readonly Prescription[]> {
  const maps: Prescription[] = [];
  for (const map of rated) {
    if (isFrozen(map)) {
      maps.push(map);
      continue;
    }
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
export async function extraForms(
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
    laidProducts(plan),
    plan.spreader.rateStepLbPerAc,
  ];
  const extras: Extra[] = [];
  for (const [k, pass] of (["strip", "broadcast"] as const).entries()) {
    const ground = grounds[k]!;
    const own = maps.filter((map) => map.pass === pass);
    if (own.length === 0) continue;
    const stems = own.map((map) => map.stem);
    const made = await stage(context, "other forms", [checked, ground, ...rates], [slice, pass, stems], () =>
      writeExtraForms(plan, field, checked.value, ground.value, own, zeroRate, context.pacing.pause),
    );
    extras.push(...made.value);
  }
  return extras;
}
