import { sum } from "../numeric/index.ts";
import { type Plan, ratesOf } from "../plan/index.ts";
import { acres, numberText } from "../units/index.ts";
import { classesFrom, classLimits, NEXT_TO_NOTHING } from "./classes.ts";
import { type DrawnField, mapOf, productsMapped } from "./drawn-field.ts";
import { type GapId, gapRates } from "./gap-rates.ts";
import { finishLayer, type Layer, type LayerOptions } from "./layer.ts";
import { rateIn, unitWords } from "./numbers.ts";
import { RAMP_STEPS } from "./tokens.ts";

/** The oxides as they are printed. */
export const oxideText = (nutrient: string): string => (nutrient === "P2O5" ? "P₂O₅" : "K₂O");

export function needLayer(field: DrawnField, nutrient: "P2O5" | "K2O", options: LayerOptions): Layer {
  const need = ratesOf(field.need, nutrient);
  const { mass, area } = unitWords(options.system);
  return rateLayer(
    field,
    options,
    need,
    field.cells.areaM2.map((areaM2) => acres(areaM2)),
    0,
    {
      id: `need/${nutrient}`,
      title: `${oxideText(nutrient)} needed`,
      unit: `${mass} ${oxideText(nutrient)}/${area}`,
      draws: "steps",
    },
  );
}

/** Need left uncovered, or more than the need; cells within half a lb/ac of it are `none`. */
export function gapLayer(field: DrawnField, id: GapId, options: LayerOptions): Layer {
  const oxide = oxideText(id.split("/")[1]!);
  const { mass, area } = unitWords(options.system);
  const { lbPerAc, lb } = gapRates(field, id);
  const layer = rateLayer(
    field,
    options,
    lbPerAc,
    field.cells.areaM2.map((areaM2) => acres(areaM2)),
    0,
    {
      id,
      title: `${oxide} ${id.startsWith("short/") ? "short of the need" : "over the need"}`,
      unit: `${mass} ${oxide}/${area}`,
      draws: "steps",
    },
  );
  return { ...layer, lb };
}

const inAll = (products: number): string =>
  products === 2 ? "In the strip, both products" : `In the strip, all ${products} products`;

export function stripLayer(plan: Plan, field: DrawnField, name: string, options: LayerOptions): Layer {
  const products = name === "all" ? productsMapped(plan, field, "strip") : [name];
  const maps = products.flatMap((product) => mapOf(field, "strip", product) ?? []);
  if (maps.length === 0) throw new Error(`field ${field.field.id} has no strip map of ${name}`);
  const rates = field.passes.areaAc.map((_, k) => sum(maps.map((map) => map.rateLbPerAc[k]!)));
  const { mass, area } = unitWords(options.system);
  return rateLayer(field, options, rates, field.passes.areaAc, plan.rig.rateStepLbPerAc, {
    id: `strip/${name}`,
    title: name === "all" && maps.length > 1 ? inAll(maps.length) : `In the strip, ${maps[0]!.product}`,
    unit:
      name === "all" && maps.length > 1
        ? `${mass} of product/${area}`
        : `${mass} ${maps[0]!.product}/${area}`,
    draws: "passes",
  });
}

export function broadcastLayer(plan: Plan, field: DrawnField, product: string, options: LayerOptions): Layer {
  const map = mapOf(field, "broadcast", product);
  if (!map) throw new Error(`field ${field.field.id} has no broadcast map of ${product}`);
  const { mass, area } = unitWords(options.system);
  return rateLayer(field, options, map.rateLbPerAc, field.swaths.areaAc, plan.spreader.rateStepLbPerAc, {
    id: `broadcast/${product}`,
    title: `Broadcast later, ${product}`,
    unit: `${mass} ${product}/${area}`,
    draws: "dots",
  });
}

function rateLayer(
  field: DrawnField,
  options: LayerOptions,
  lbPerAc: Float64Array,
  areaAc: Float64Array,
  stepLbPerAc: number,
  rest: Pick<Layer, "id" | "title" | "unit" | "draws">,
): Layer {
  const values = lbPerAc.map((rate) => rateIn(rate, options.system ?? "us"));
  const hasNone = values.some((value, i) => value === 0 && areaAc[i]! > 0);
  const shortest = rateIn(stepLbPerAc, options.system ?? "us");
  const few = options.limits ? null : fewRates(values, areaAc);
  const limits = options.limits ?? few?.limits ?? rateLimits(values, areaAc, hasNone, shortest);
  const plain = classesFrom("rate", limits);
  const lb = sum(lbPerAc.map((rate, i) => (areaAc[i]! > 0 ? rate * areaAc[i]! : 0)));
  return finishLayer(field, options, {
    ...rest,
    values,
    areaAc,
    classes: few ? { ...plain, labels: few.labels } : plain,
    lb,
    critical: null,
  });
}

/** A class a rate where there are no more rates than classes; null where there are, or they read alike. */
function fewRates(
  values: Float64Array,
  areaAc: Float64Array,
): { readonly limits: readonly number[]; readonly labels: readonly string[] } | null {
  const rates = new Set<number>();
  for (let i = 0; i < values.length && rates.size <= RAMP_STEPS; i++) {
    if (areaAc[i]! > 0) rates.add(values[i]!);
  }
  if (rates.size < 2 || rates.size > RAMP_STEPS) return null;
  const rising = [...rates].sort((a, b) => a - b);
  const decimals = rising.every((rate) => Math.abs(rate - Math.round(rate)) < 1e-6) ? 0 : 1;
  const labels = rising.map((rate) => (rate === 0 ? "none" : numberText(rate, decimals)));
  if (new Set(labels).size < labels.length) return null;
  const limits = rising.slice(1);
  if (rising[0] === 0) limits[0] = NEXT_TO_NOTHING;
  return { limits, labels };
}

/** Where some ground gets nothing, that is a class of its own and the others are cut above it. */
function rateLimits(
  values: Float64Array,
  areaAc: Float64Array,
  hasNone: boolean,
  shortest: number,
): number[] {
  if (!hasNone) return classLimits(values, areaAc, { shortest });
  const some = values.map((value) => (value > 0 ? value : Number.NaN));
  if (some.every(Number.isNaN)) return [NEXT_TO_NOTHING];
  return [NEXT_TO_NOTHING, ...classLimits(some, areaAc, { most: RAMP_STEPS - 1, shortest })];
}
