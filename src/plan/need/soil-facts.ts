import type { Notice } from "../../errors/index.ts";
import { cellCentre } from "../../geo/index.ts";
import { soilNotices } from "../../need/index.ts";
import type { ShownTest } from "../results/need-result-types.ts";
import type { CheckedField, FieldGrid, SoilMaps } from "../results/result-types.ts";

/** Notices of soil chemistry: Bray P1 on calcareous soil, light soil under potash for several years, no lime. */
export function soilFactNotices(
  checked: CheckedField,
  cells: FieldGrid,
  soil: SoilMaps,
  potashYears: number,
): Notice[] {
  const cec = soil.maps.CEC?.estimate;
  const ph = nearestPH(checked, cells);
  return soilNotices({
    areaM2: cells.areaM2,
    pMethod: checked.methods.P,
    potashYears,
    ...(ph ? { ph } : {}),
    ...(cec ? { cecMeq: cec } : {}),
  });
}

/** pH, buffer pH and organic matter of a field's samples, where the lab gave them. */
export function shownTests(
  checked: CheckedField,
): Readonly<Partial<Record<"pH" | "bufferPH" | "organicMatter", ShownTest>>> {
  const shown: Partial<Record<"pH" | "bufferPH" | "organicMatter", ShownTest>> = {};
  for (const test of ["pH", "bufferPH", "organicMatter"] as const) {
    const values = checked.records.map((record) => record[test]).filter((value) => value !== null);
    if (values.length === 0) continue;
    shown[test] = {
      samples: values.length,
      min: Math.min(...values),
      mean: values.reduce((total, value) => total + value, 0) / values.length,
      max: Math.max(...values),
    };
  }
  return shown;
}

/** Found once for a field's cells: no goal, price or cap changes it. */
const phOfCells = new WeakMap<FieldGrid, { readonly of: unknown; readonly ph: Float64Array | undefined }>();

/** pH of the nearest sample that has one, a cell each; NaN off the field, undefined without any. */
function nearestPH(checked: CheckedField, cells: FieldGrid): Float64Array | undefined {
  const known = phOfCells.get(cells);
  if (known?.of === checked.records) return known.ph;
  const ph = phOver(checked, cells);
  phOfCells.set(cells, { of: checked.records, ph });
  return ph;
}

function phOver(checked: CheckedField, { grid, areaM2 }: FieldGrid): Float64Array | undefined {
  const known = checked.records.flatMap((record, i) =>
    record.pH === null ? [] : [{ at: checked.places[i]!, pH: record.pH }],
  );
  if (known.length === 0) return undefined;
  const [xs, ys] = [known.map(({ at }) => at[0]), known.map(({ at }) => at[1])];
  return areaM2.map((area, cell) => {
    if (!(area > 0)) return Number.NaN;
    const [x, y] = cellCentre(grid, cell);
    let nearest = 0;
    let least = Number.POSITIVE_INFINITY;
    for (let k = 0; k < xs.length; k++) {
      const squared = (xs[k]! - x) ** 2 + (ys[k]! - y) ** 2;
      if (squared >= least) continue;
      least = squared;
      nearest = k;
    }
    return known[nearest]!.pH;
  });
}
