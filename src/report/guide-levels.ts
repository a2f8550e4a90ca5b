import {
  criticalLevelOf,
  type Guide,
  guideById,
  jumpsOf,
  type LevelQuery,
  ownGuide,
  type ReadyRule,
  readyRule,
} from "../agronomy/index.ts";
import { InputError } from "../errors/index.ts";
import type { Plan, TestName } from "../plan/index.ts";
import { classesFrom } from "./classes.ts";
import type { DrawnField } from "./drawn-field.ts";
import { numberText } from "./numbers.ts";

/** The test below which the field's guide expects the crop to answer, a cell each, in ppm. */
export interface CriticalLevels {
  readonly ppm: Float64Array;
  /** `20 ppm`, or `100 to 120 ppm by CEC`. */
  readonly text: string;
  /** The one level of the whole field; null where it hangs on the CEC. */
  readonly everywhere: number | null;
}

/** A guide's own classes of a test, in ppm. */
export interface GuideClasses {
  readonly limits: readonly number[];
  readonly labels: readonly string[];
  readonly names: readonly string[];
}

/** The published guide or the user's own that the field's need follows. */
export function guideOf(plan: Plan, field: DrawnField): Guide {
  const own = (plan.ownGuides ?? []).find((guide) => guide.id === field.field.guide);
  return own ? ownGuide(own) : guideById(field.field.guide);
}

const nutrientOf = (test: "P" | "K"): "P2O5" | "K2O" => (test === "P" ? "P2O5" : "K2O");

function queryOf(field: DrawnField, test: "P" | "K"): LevelQuery {
  const { crop, guideOptions } = field.field;
  return {
    crop,
    nutrient: nutrientOf(test),
    method: field.checked.methods[test],
    ...(guideOptions ? { options: guideOptions } : {}),
  };
}

/** The guide's unit of a test over ppm. */
const unitsPerPpm = (guide: Guide, query: LevelQuery): number =>
  ready(guide, query).test.toGuideTest(1_000) / 1_000;

function ready(guide: Guide, { crop, nutrient, method, options }: LevelQuery): ReadyRule {
  return readyRule(guide, { crop, nutrient, reading: { method }, ...(options ? { options } : {}) });
}

/** Null for CEC and where the guide has no critical level. */
export function criticalLevel(plan: Plan, field: DrawnField, test: TestName): CriticalLevels | null {
  if (test === "CEC") return null;
  const guide = guideOf(plan, field);
  const query = queryOf(field, test);
  return ifGuideKnows(() => {
    const perPpm = unitsPerPpm(guide, query);
    const levelAt = levelByCec(guide, query);
    const cec = field.maps.CEC?.estimate;
    let [least, most] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
    const ppm = field.cells.areaM2.map((areaM2, i) => {
      if (!(areaM2 > 0)) return Number.NaN;
      const level = levelAt(cec?.[i] ?? Number.NaN);
      [least, most] = [Math.min(least, level), Math.max(most, level)];
      return level / perPpm;
    });
    if (!Number.isFinite(least) || !Number.isFinite(most)) return null;
    const [low, high] = [least / perPpm, most / perPpm];
    if (high - low < 0.05) {
      return { ppm, text: `${numberText(low, decimalsFor(low))} ppm`, everywhere: low };
    }
    return { ppm, text: `${numberText(low, 0)} to ${numberText(high, 0)} ppm by CEC`, everywhere: null };
  });
}

/** The level as a function of the CEC in the guide's unit, NaN where there is none. */
function levelByCec(guide: Guide, query: LevelQuery): (cecMeq: number) => number {
  const listed = guide.criticalLevels.find(
    (one) => one.crop === query.crop && one.nutrient === query.nutrient && one.method === query.method,
  );
  if (listed && typeof listed.level === "string") {
    const everywhere = criticalLevelOf(guide, query) ?? Number.NaN;
    return () => everywhere;
  }
  if (listed) {
    return (cecMeq) =>
      criticalLevelOf(guide, Number.isNaN(cecMeq) ? query : { ...query, cecMeq }) ?? Number.NaN;
  }
  const { rule } = ready(guide, query);
  return (cecMeq) => rule.criticalLevel(cecMeq) ?? Number.NaN;
}

/** The classes of a guide that gives a rate a class; null for other guides, CEC and more than seven classes. */
export function guideClasses(plan: Plan, field: DrawnField, test: TestName): GuideClasses | null {
  if (test === "CEC") return null;
  const guide = guideOf(plan, field);
  const query = queryOf(field, test);
  const rule = guide.rules.find(
    (one) =>
      one.crop === query.crop &&
      one.nutrient === query.nutrient &&
      one.methods.some((m) => m === query.method),
  );
  if (rule?.form.kind !== "classes") return null;
  const { edgeIn, classes } = rule.form;
  return ifGuideKnows(() => {
    const perPpm = unitsPerPpm(guide, query);
    const step = guide.rounding.testTo ?? 0;
    const edges = jumpsOf(guide, query);
    if (edges.length === 0 || edges.length > 6) return null;
    const inLower = edgeIn === "lower class";
    // A test is rounded before it is classed, so the class ends half a step from its printed edge.
    const limits = edges.map((edge) => (inLower ? edge + step / 2 + 1e-9 : edge - step / 2) / perPpm);
    const names = classes.map((one) => one.name).every((name) => /^\d+$/.test(name))
      ? []
      : classes.map((one) => one.name);
    if (!inLower && step === 0) return { limits, labels: classesFrom("soil", limits).labels, names };
    const decimals = Math.max(...edges.map((edge) => decimalsFor(edge / perPpm)));
    const text = (value: number) => numberText(value / perPpm, decimals);
    const labels = [
      `${inLower ? "up to" : "under"} ${text(edges[0]!)}`,
      ...edges.slice(1).map((edge, k) => {
        const [from, to] = inLower ? [edges[k]! + step, edge] : [edges[k]!, edge - step];
        return step === 0 ? `over ${text(from)} to ${text(to)}` : `${text(from)}–${text(to)}`;
      }),
      inLower ? `over ${text(edges.at(-1)!)}` : `${text(edges.at(-1)!)} and over`,
    ];
    return { limits, labels, names };
  });
}

/** A guide that does not know the crop or the method has no level to draw; the need says so in full. */
function ifGuideKnows<Value>(compute: () => Value | null): Value | null {
  try {
    return compute();
  } catch (error) {
    if (error instanceof InputError) return null;
    throw error;
  }
}

const decimalsFor = (value: number): number => (Math.abs(value - Math.round(value)) < 0.05 ? 0 : 1);
