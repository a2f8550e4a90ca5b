import type { MeteredClass } from "../../capacity/index.ts";
import { sum } from "../../numeric/index.ts";
import { M_PER_FT } from "../../units/index.ts";
import type { Plan } from "../document/document-types.ts";
import { workedPasses } from "../fills/worked-passes.ts";
import type { FieldResult, RunResult } from "../results/result-types.ts";
import { type RigCapacity, rigCapacity } from "../rig/rig-capacity.ts";
import { type RigFigures, rigFigures } from "../rig/rig-figures.ts";

/** Capacity at one field's rates. */
export interface FieldCapacity {
  readonly field: string;
  readonly name: string;
  readonly capacity: RigCapacity;
}

/** What the plan's rig does at the rates of its strip maps. */
export interface PlanCapacity {
  readonly figures: RigFigures;
  readonly all: RigCapacity;
  readonly fields: readonly FieldCapacity[];
}

/** Over all fields and field by field, from the strip files. Throws `rig-not-told`. */
export function planCapacity(result: RunResult): PlanCapacity {
  const figures = rigFigures(result.plan, result.fields[0]?.laid);
  const classes = result.fields.map((field) => stripClasses(result, field));
  const feet = result.fields.map((field) => meanPassFt(result.plan, field));
  const areas = result.fields.map((field) => field.checked.areaAc);
  const meanFt = sum(feet.map((length, f) => length * areas[f]!)) / sum(areas);
  return {
    figures,
    all: rigCapacity(figures, classes.flat(), meanFt),
    fields: result.fields.map((field, f) => ({
      field: field.field.id,
      name: field.field.name,
      // Fields may get blends of their own, each with its density.
      capacity: rigCapacity(rigFigures(result.plan, field.laid), classes[f]!, feet[f]!),
    })),
  };
}

/** What the rig does in one field alone. */
export const fieldCapacity = (plan: Plan, field: FieldResult, figures: RigFigures): RigCapacity =>
  rigCapacity(figures, stripClasses({ plan }, field), meanPassFt(plan, field));

/** Pieces with one rate a hopper, put together. */
function stripClasses({ plan }: { readonly plan: Plan }, field: FieldResult): MeteredClass[] {
  const maps = plan.rig.bins.map((bin) =>
    field.prescriptions.find((map) => map.pass === "strip" && map.bin === bin.id),
  );
  const classes = new Map<string, { areaAc: number; readonly ratesLbPerAc: readonly number[] }>();
  field.passes.areaAc.forEach((areaAc, k) => {
    const ratesLbPerAc = maps.map((map) => map?.rateLbPerAc[k] ?? 0);
    const one = classes.get(ratesLbPerAc.join());
    if (one) one.areaAc += areaAc;
    else classes.set(ratesLbPerAc.join(), { areaAc, ratesLbPerAc });
  });
  return [...classes.values()];
}

/** Mean length of the runs by their acres, ft; headland passes too. */
function meanPassFt(plan: Plan, field: FieldResult): number {
  const passes = workedPasses(plan, field);
  return (
    sum(passes.map((pass) => (pass.lengthM / M_PER_FT) * pass.areaAc)) /
    sum(passes.map((pass) => pass.areaAc))
  );
}
