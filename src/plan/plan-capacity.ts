import type { MeteredZone } from "../capacity/index.ts";
import { sum } from "../numeric/index.ts";
import { M_PER_FT } from "../units/index.ts";
import type { Plan } from "./document-types.ts";
import type { FieldResult, RunResult } from "./result-types.ts";
import { type RigCapacity, rigCapacity } from "./rig-capacity.ts";
import { type RigFigures, rigFigures } from "./rig-figures.ts";

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
  const zones = result.fields.map((field) => stripZones(result, field));
  const feet = result.fields.map(meanPassFt);
  const areas = result.fields.map((field) => field.checked.areaAc);
  const meanFt = sum(feet.map((length, f) => length * areas[f]!)) / sum(areas);
  return {
    figures,
    all: rigCapacity(figures, zones.flat(), meanFt),
    fields: result.fields.map((field, f) => ({
      field: field.field.id,
      name: field.field.name,
      capacity: rigCapacity(figures, zones[f]!, feet[f]!),
    })),
  };
}

/** What the rig does in one field alone. */
export const fieldCapacity = (plan: Plan, field: FieldResult, figures: RigFigures): RigCapacity =>
  rigCapacity(figures, stripZones({ plan }, field), meanPassFt(field));

/** Pieces with one rate a hopper, put together. */
function stripZones({ plan }: { readonly plan: Plan }, field: FieldResult): MeteredZone[] {
  const maps = plan.rig.bins.map((bin) =>
    field.prescriptions.find((map) => map.pass === "strip" && map.bin === bin.id),
  );
  const zones = new Map<string, { areaAc: number; readonly ratesLbPerAc: readonly number[] }>();
  field.passes.areaAc.forEach((areaAc, k) => {
    const ratesLbPerAc = maps.map((map) => map?.rateLbPerAc[k] ?? 0);
    const zone = zones.get(ratesLbPerAc.join());
    if (zone) zone.areaAc += areaAc;
    else zones.set(ratesLbPerAc.join(), { areaAc, ratesLbPerAc });
  });
  return [...zones.values()];
}

/** Mean length of the field's passes by their acres, ft. */
function meanPassFt({ passes }: FieldResult): number {
  const lengths = new Map<number, { ft: number; areaM2: number }>();
  for (const piece of passes.pieces) {
    const one = lengths.get(piece.pass) ?? { ft: 0, areaM2: 0 };
    one.ft += (piece.alongEndM - piece.alongStartM) / M_PER_FT;
    one.areaM2 += piece.areaM2;
    lengths.set(piece.pass, one);
  }
  const all = [...lengths.values()];
  return sum(all.map(({ ft, areaM2 }) => ft * areaM2)) / sum(all.map(({ areaM2 }) => areaM2));
}
