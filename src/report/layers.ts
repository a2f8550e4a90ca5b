import { methodInWords, testMethodFrom } from "../agronomy/index.ts";
import { sum } from "../numeric/index.ts";
import { laidProducts, type Plan, type TestName } from "../plan/index.ts";
import { areaByClass, type Classes, classesFrom, classLimits, NEXT_TO_NOTHING } from "./classes.ts";
import { type DrawnField, mapOf } from "./drawn-field.ts";
import { type GapId, gapIdsOf, gapRates } from "./gap-rates.ts";
import { type CriticalLevels, criticalLevel, guideClasses } from "./guide-levels.ts";
import { acresOf, areaIn, numberText, rateIn, roundTo, type UnitSystem, unitWords } from "./numbers.ts";
import { chanceBelowCritical, oddsBelowCritical } from "./odds.ts";
import { roundedParts } from "./rounded-parts.ts";
import { RAMP_STEPS } from "./tokens.ts";

/** Id of a layer: what it shows, and of which test, nutrient or product. */
export type LayerId =
  | `soil/${TestName}`
  | `odds/${"P" | "K"}`
  | "need/P2O5"
  | "need/K2O"
  | "strip/all"
  | `strip/${string}`
  | `broadcast/${string}`
  | GapId;

/** One thing a field's plat can show, cut into classes, with the area of each. */
export interface Layer {
  readonly id: LayerId;
  readonly title: string;
  readonly unit: string;
  readonly system: UnitSystem;
  readonly draws: "steps" | "passes" | "dots";
  /** In `unit`; a cell each, or a piece of the passes or the spreader's cells each. NaN outside. */
  readonly values: Float64Array;
  /** Acres of each value. */
  readonly areaAc: Float64Array;
  readonly classes: Classes;
  /** Of each class, in the system's unit, to a tenth; they add up to the field's shown area. */
  readonly classAreas: readonly number[];
  /** Least, area-weighted mean and most, in `unit`. */
  readonly least: number;
  readonly mean: number;
  readonly most: number;
  /** Pounds of all of it; null for soil tests. */
  readonly lb: number | null;
  readonly critical: CriticalLevels | null;
}

/** How a layer is shown. */
export interface LayerOptions {
  readonly system?: UnitSystem;
  /** Class limits typed by the user, rising, in the unit shown. */
  readonly limits?: readonly number[];
}

/** Every layer that the field has, in the order of the work; the odds of a test, which are about a map, not among them. */
export function layerIds(plan: Plan, field: DrawnField): LayerId[] {
  const tests = (["P", "K", "CEC"] as const).filter((test) => field.maps[test]);
  const laid = laidProducts(plan);
  const products = laid.filter((product) => mapOf(field, "strip", product));
  const broadcast = laid.filter((product) => mapOf(field, "broadcast", product));
  return [
    ...tests.map((test): LayerId => `soil/${test}`),
    "need/P2O5",
    "need/K2O",
    ...(products.length > 1 ? (["strip/all"] as const) : []),
    ...products.map((product): LayerId => `strip/${product}`),
    ...broadcast.map((product): LayerId => `broadcast/${product}`),
    ...gapIdsOf(field),
  ];
}

/** The oxides as they are printed. */
export const oxideText = (nutrient: string): string => (nutrient === "P2O5" ? "P₂O₅" : "K₂O");

/** The layer of that id: its values, classes and words. An unknown id is our own error. */
export function layerOf(plan: Plan, field: DrawnField, id: LayerId, options: LayerOptions = {}): Layer {
  const [kind, name] = id.split("/") as [string, string];
  if (kind === "soil") return soilLayer(plan, field, name as TestName, options);
  if (kind === "odds") return oddsLayer(plan, field, name as "P" | "K", options);
  if (kind === "need") return needLayer(field, name as "P2O5" | "K2O", options);
  if (kind === "strip") return stripLayer(plan, field, name, options);
  if (kind === "broadcast") return broadcastLayer(plan, field, name, options);
  if (kind === "short" || kind === "over") return gapLayer(field, id as GapId, options);
  throw new Error(`no layer ${id}`);
}

const soilTitles = { P: "Soil test phosphorus", K: "Soil test potassium", CEC: "Exchange capacity (CEC)" };

function soilLayer(plan: Plan, field: DrawnField, test: TestName, options: LayerOptions): Layer {
  const map = field.maps[test];
  if (!map) throw new Error(`field ${field.field.id} has no map of ${test}`);
  const guide = options.limits ? null : guideClasses(plan, field, test);
  const areaAc = field.cells.areaM2.map(acresOf);
  const critical = criticalLevel(plan, field, test);
  const limits =
    options.limits ??
    guide?.limits ??
    classLimits(map.estimate, areaAc, { through: critical?.everywhere ?? undefined });
  const plain = classesFrom("soil", limits, guide?.names);
  return finish(field, options, {
    id: `soil/${test}`,
    title: soilTitles[test],
    unit: test === "CEC" ? "meq/100 g" : "ppm",
    draws: "steps",
    values: map.estimate,
    areaAc,
    classes: guide ? { ...plain, labels: guide.labels } : plain,
    lb: null,
    critical,
  });
}

/** Limits of the odds, %: 8 in 10 on either side, and the middle cut once more. */
const ODDS_LIMITS = [20, 40, 60, 80];

/** How likely the test lies below the critical level, %. Light ground is likely below, as on the map of the test. */
function oddsLayer(plan: Plan, field: DrawnField, test: "P" | "K", options: LayerOptions): Layer {
  const chance = chanceBelowCritical(plan, field, test);
  const level = criticalLevel(plan, field, test);
  if (!chance || !level) throw new Error(`field ${field.field.id} has no odds of ${test}`);
  const plain = classesFrom("soil", options.limits ?? ODDS_LIMITS);
  const layer = finish(field, options, {
    id: `odds/${test}`,
    title: `Below ${level.text}?`,
    unit: "chance in 100",
    draws: "steps",
    values: chance.map((share) => 100 * share),
    areaAc: field.cells.areaM2.map(acresOf),
    classes: { ...plain, steps: plain.steps.toReversed() },
    lb: null,
    critical: null,
  });
  return options.limits ? layer : { ...layer, classAreas: likeOdds(plan, field, test, layer) };
}

/** Areas that print the outer classes as `oddsBelowCritical` does, and still add up to the field's. */
function likeOdds(plan: Plan, field: DrawnField, test: "P" | "K", layer: Layer): number[] {
  const odds = oddsBelowCritical(plan, field, test)!;
  const outer = [odds.likelyAboveAc, odds.likelyBelowAc].map((areaAc) =>
    roundTo(areaIn(areaAc, layer.system), 1),
  ) as [number, number];
  const exact = areaByClass(layer.classes.limits, layer.values, layer.areaAc);
  const middle = exact.slice(1, -1).map((areaAc) => areaIn(areaAc, layer.system));
  const left = sum(layer.classAreas) - outer[0] - outer[1];
  return [outer[0], ...roundedParts(middle, 1, left), outer[1]];
}

/** `Mehlich-3 read by ICP, 0–8 in., 64 samples`: how a test was made. */
export function testInWords(field: DrawnField, test: TestName): string {
  const depth = field.checked.depth.replace("-", "–").replace(/in$/, " in.");
  const method =
    test === "CEC"
      ? ""
      : methodInWords(testMethodFrom(field.checked.methods[test], test === "P" ? "P2O5" : "K2O"));
  const samples = `${field.maps[test]?.samples ?? 0} samples`;
  return [method, depth, samples].filter((part) => part !== "").join(", ");
}

function needLayer(field: DrawnField, nutrient: "P2O5" | "K2O", options: LayerOptions): Layer {
  const need = nutrient === "P2O5" ? field.need.p2o5LbPerAc : field.need.k2oLbPerAc;
  const { mass, area } = unitWords(options.system);
  return rateLayer(field, options, need, field.cells.areaM2.map(acresOf), 0, {
    id: `need/${nutrient}`,
    title: `${oxideText(nutrient)} needed`,
    unit: `${mass} ${oxideText(nutrient)}/${area}`,
    draws: "steps",
  });
}

/** Need left uncovered, or more than the need; cells within half a lb/ac of it are `none`. */
function gapLayer(field: DrawnField, id: GapId, options: LayerOptions): Layer {
  const oxide = oxideText(id.split("/")[1]!);
  const { mass, area } = unitWords(options.system);
  const { lbPerAc, lb } = gapRates(field, id);
  const layer = rateLayer(field, options, lbPerAc, field.cells.areaM2.map(acresOf), 0, {
    id,
    title: `${oxide} ${id.startsWith("short/") ? "short of the need" : "over the need"}`,
    unit: `${mass} ${oxide}/${area}`,
    draws: "steps",
  });
  return { ...layer, lb };
}

const inAll = (products: number): string =>
  products === 2 ? "In the strip, both products" : `In the strip, all ${products} products`;

function stripLayer(plan: Plan, field: DrawnField, name: string, options: LayerOptions): Layer {
  const products = name === "all" ? laidProducts(plan) : [name];
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

function broadcastLayer(plan: Plan, field: DrawnField, product: string, options: LayerOptions): Layer {
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
  return finish(field, options, {
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

function finish(
  field: DrawnField,
  options: LayerOptions,
  layer: Omit<Layer, "system" | "classAreas" | "least" | "mean" | "most">,
): Layer {
  const { values, areaAc, classes } = layer;
  const system = options.system ?? "us";
  const areas = areaByClass(classes.limits, values, areaAc).map((areaOfClass) => areaIn(areaOfClass, system));
  let [least, most] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  values.forEach((value, i) => {
    if (!(areaAc[i]! > 0)) return;
    [least, most] = [Math.min(least, value), Math.max(most, value)];
  });
  const weighted = sum(values.map((value, i) => (areaAc[i]! > 0 ? value * areaAc[i]! : 0)));
  return {
    ...layer,
    classes: nameLoneClass(classes, most),
    system,
    classAreas: roundedParts(areas, 1, areaIn(field.checked.areaAc, system)),
    least,
    mean: weighted / sum(areaAc),
    most,
  };
}

/** A class that stands alone, or alone beside `none`, is called by its greatest value. */
function nameLoneClass(classes: Classes, most: number): Classes {
  const coloured = classes.labels.length - (classes.hasNone ? 1 : 0);
  if (coloured > 1) return classes;
  const label = most > 0 || !classes.hasNone ? numberText(most, most < 10 ? 1 : 0) : "some";
  return { ...classes, labels: classes.hasNone ? ["none", label] : [label] };
}
