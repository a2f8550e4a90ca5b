import { cautions } from "../agronomy/index.ts";
import { sha256Hex } from "../formats/index.ts";
import type { FieldStand, Ledger } from "../ledger/index.ts";
import { type FieldResult, guidesInUse, type Plan, type RunResult, type SoilMap } from "../plan/index.ts";
import type { Extra } from "../prescription/index.ts";
import { loadOrder } from "../report/index.ts";
import { fieldDriveJson } from "./field-drive-json.ts";
import { fieldNeedJson } from "./field-need-json.ts";
import { extraPath, prescriptionPath } from "./paths.ts";
import { alongJson, blendJson, splitJson } from "./split-json.ts";

/** result.json as a value: totals, one entry a prescription, one a field, notices, refused fields. */
export function resultJson(result: RunResult): Record<string, unknown> {
  return {
    format: "result/1",
    plan: { name: result.plan.name, seasonYear: result.plan.seasonYear, sha256: result.planSha256 },
    incomplete: result.incomplete,
    areaAc: result.acres,
    totals: result.totals,
    along: alongJson(result),
    blends: result.blends.map(blendJson),
    guides: guidesInUse(result.fields),
    prescriptions: result.fields.flatMap((field) => prescriptionEntries(result.plan, field)),
    fields: result.fields.map((field, f) => fieldEntry(field, result.ledger, result.stands[f]!)),
    notices: [...result.notices, ...result.fields.flatMap((field) => field.notices)],
    refused: result.refused,
    cautions,
  };
}

function prescriptionEntries(plan: Plan, result: FieldResult): Record<string, unknown>[] {
  const order = {
    strip: loadOrder(plan, result, "strip").steps,
    broadcast: loadOrder(plan, result, "broadcast").steps,
  };
  return result.prescriptions.map((prescription) => ({
    field: result.field.id,
    pass: prescription.pass,
    bin: prescription.bin,
    product: prescription.product,
    analysis: prescription.analysis,
    areaAc: prescription.areaAc,
    totalLb: prescription.totalLb,
    needLb: prescription.needLb,
    meanLbPerAc: prescription.meanLbPerAc,
    minLbPerAc: prescription.minLbPerAc,
    maxLbPerAc: prescription.maxLbPerAc,
    polygons: prescription.polygons,
    load: order[prescription.pass].map(({ form }) => form),
    files: [...prescription.files].map(([name, bytes]) => ({
      path: prescriptionPath(prescription, name),
      format: name.endsWith(".geojson") ? "geojson" : "shapefile",
      sha256: sha256Hex(bytes),
    })),
    extras: result.extras.flatMap((extra) => extraEntries(extra, prescription.stem)),
  }));
}

/** One entry a file of another form of the map; task data of a strip pass stand with each of its bins. */
function extraEntries(extra: Extra, stem: string): Record<string, unknown>[] {
  const which = extra.stems.indexOf(stem);
  if (which < 0) return [];
  const { form, unit, shapes, smallRateLbPerAc, holesAc, keptClearAc, task, sendsZero, note } = extra;
  const [totalLb, changeLb] = [extra.totalLb[which], extra.changeLb[which]];
  const [minLbPerAc, maxLbPerAc] = [extra.leastLbPerAc[which], extra.mostLbPerAc[which]];
  return [...extra.files].map(([name, bytes]) => {
    const path = extraPath(extra, name);
    const sums = { totalLb, changeLb, minLbPerAc, maxLbPerAc };
    return {
      form,
      path,
      sha256: sha256Hex(bytes),
      unit,
      ...sums,
      shapes,
      smallRateLbPerAc,
      holesAc,
      keptClearAc,
      task,
      sendsZero,
      note,
    };
  });
}

function fieldEntry(result: FieldResult, ledger: Ledger, stand: FieldStand): Record<string, unknown> {
  const { fieldId: _, toStripAc, ...stands } = stand;
  const { field, checked, cells, need } = result;
  return {
    id: field.id,
    name: field.name,
    areaAc: checked.areaAc,
    toStripAc,
    crop: field.crop,
    yieldBuPerAc: field.yieldBuPerAc,
    guide: field.guide,
    frame: { lonDeg: checked.frame.lon0Deg, latDeg: checked.frame.lat0Deg },
    samples: checked.samples.length,
    tests: Object.fromEntries(Object.entries(result.maps).map(([test, map]) => [test, mapEntry(map)])),
    needLbPerAc: {
      P2O5: rangeOver(need.p2o5LbPerAc, cells.areaM2),
      K2O: rangeOver(need.k2oLbPerAc, cells.areaM2),
    },
    needFigures: need.figures,
    ...fieldNeedJson(result),
    ...fieldDriveJson(result),
    ...splitJson(result),
    balance: result.balances,
    ...(ledger.entries.length === 0 ? {} : { ledger: { ...stands, finished: result.finished } }),
    files: { cells: `fields/${field.id}/cells.csv` },
  };
}

function mapEntry(map: SoilMap): Record<string, unknown> {
  const left = map.leaveOneOut;
  const leaveOneOut = left && { rmse: left.rmse, meanError: left.meanError };
  const { samples, mean, method, model, noPattern, decisions } = map;
  const methods = map.table?.methods ?? [];
  return { samples, mean, method, model, noPattern, leaveOneOut, methods, decisions };
}

/** Least, area-weighted mean and most over the cells inside the field. */
export function rangeOver(
  value: Float64Array,
  areaM2: Float64Array,
): { min: number; mean: number; max: number } {
  let [min, max, weighted, total] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY, 0, 0];
  for (let i = 0; i < value.length; i++) {
    if (!(areaM2[i]! > 0)) continue;
    min = Math.min(min, value[i]!);
    max = Math.max(max, value[i]!);
    weighted += value[i]! * areaM2[i]!;
    total += areaM2[i]!;
  }
  return { min, mean: weighted / total, max };
}
