import { criticalLevelOf, type Guide, jumpsOf, type LevelQuery, ruleOf } from "../agronomy/index.ts";
import { InputError } from "../errors/index.ts";
import { fieldGuide, type Plan, type TestName } from "../plan/index.ts";
import { numberText } from "../units/index.ts";
import { classesFrom } from "./classes.ts";
import type { DrawnField } from "./drawn-field.ts";

/** The test below which the field's guide expects the crop to answer, a cell each, in ppm. */
export interface CriticalLevels {
  readonly ppm: Float64Array;
  /** `20 ppm`, or `100 to 120 ppm by CEC`. */
  readonly text: string;
  /** The one level of the whole field; null where it hangs on the CEC. */
  readonly everywhere: number | null;
}

/** A guide's own classes of a test, in ppm. */
interface GuideClasses {
  readonly limits: readonly number[];
  readonly labels: readonly string[];
  readonly names: readonly string[];
}

/** The guide that a test of the field is read by, its own figures replaced as the plan says, and the question to it. */
interface Asked {
  readonly guide: Guide;
  readonly query: LevelQuery;
  /** A test in the guide's unit as ppm of the test as the lab reports it, conversion turned round. */
  readonly inPpm: (guideTest: number) => number;
}

function asked(plan: Plan, { field, checked }: DrawnField, test: "P" | "K"): Asked {
  const nutrient = test === "P" ? "P2O5" : "K2O";
  const { guide, crop, options } = fieldGuide(field, nutrient, plan.ownGuides ?? [], plan.guides ?? []);
  const { conversion, criticalLevelPpm } = field.nutrients?.[nutrient] ?? {};
  const query: LevelQuery = {
    ...{ crop, nutrient, options },
    method: checked.methods[test],
    ...(conversion === undefined ? {} : { conversion }),
    ...(criticalLevelPpm === undefined ? {} : { ownCriticalLevelPpm: criticalLevelPpm }),
  };
  const { beforeRounding } = ruleOf(guide, query).test;
  // Any two tests high enough to lie on the straight part of the way.
  const [low, high] = [beforeRounding(1_000), beforeRounding(2_000)];
  return { guide, query, inPpm: (guideTest) => 1_000 + ((guideTest - low) / (high - low)) * 1_000 };
}

/** Null for CEC and where the guide has no critical level. */
export function criticalLevel(plan: Plan, field: DrawnField, test: TestName): CriticalLevels | null {
  if (test === "CEC") return null;
  return ifGuideKnows(() => {
    const { guide, query, inPpm } = asked(plan, field, test);
    const levelAt = levelByCec(guide, query);
    const cec = field.maps.CEC?.estimate;
    let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
    const ppm = field.cells.areaM2.map((areaM2, i) => {
      if (!(areaM2 > 0)) return Number.NaN;
      const level = inPpm(levelAt(cec?.[i] ?? Number.NaN));
      [low, high] = [Math.min(low, level), Math.max(high, level)];
      return level;
    });
    if (!Number.isFinite(low) || !Number.isFinite(high)) return null;
    if (high - low < 0.05) {
      return { ppm, text: `${numberText(low, decimalsFor(low))} ppm`, everywhere: tidy(low) };
    }
    return { ppm, text: `${numberText(low, 0)} to ${numberText(high, 0)} ppm by CEC`, everywhere: null };
  });
}

/** Without what the way to ppm and back leaves in the last digits. */
const tidy = (ppm: number): number => Number(ppm.toPrecision(12));

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
  const { rule } = ruleOf(guide, query);
  return (cecMeq) => rule.criticalLevel(cecMeq) ?? Number.NaN;
}

/** The classes of a guide that gives a rate a class; null for other guides, CEC and more than seven classes. */
export function guideClasses(plan: Plan, field: DrawnField, test: TestName): GuideClasses | null {
  if (test === "CEC") return null;
  return ifGuideKnows(() => {
    const { guide, query, inPpm } = asked(plan, field, test);
    const { form } = ruleOf(guide, query);
    if (form.kind !== "classes") return null;
    const { edgeIn, classes } = form;
    const step = guide.rounding.testTo ?? 0;
    const edges = jumpsOf(guide, query);
    if (edges.length === 0 || edges.length > 6) return null;
    const inLower = edgeIn === "lower class";
    // A test is rounded before it is classed, so the class ends half a step from its printed edge.
    const limits = edges.map((edge) => tidy(inPpm(inLower ? edge + step / 2 + 1e-9 : edge - step / 2)));
    const names = classes.map((one) => one.name).every((name) => /^\d+$/.test(name))
      ? []
      : classes.map((one) => one.name);
    if (!inLower && step === 0) return { limits, labels: classesFrom("soil", limits).labels, names };
    const decimals = Math.max(...edges.map((edge) => decimalsFor(inPpm(edge))));
    const text = (value: number) => numberText(inPpm(value), decimals);
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
