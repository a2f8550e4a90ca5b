import type { Plan, PlanAnisotropy, PlanField, PlanModel, PlanModels, TestName } from "#core";
import { type Change, withField } from "./plan-edits.ts";
import { said } from "./said.ts";

/** How a test becomes a map. */
export type MapMethod = "averaged" | "pooled" | "typed" | "inverse-distance";

/** What the plan says of one test of one field; a typed variogram stands aside under inverse distance. */
export function methodOf(plan: Plan, field: PlanField, test: TestName): MapMethod {
  if (plan.maps.method === "inverse-distance") return "inverse-distance";
  if (typedModel(plan, field, test)) return "typed";
  return plan.maps.pooled ? "pooled" : "averaged";
}

export const typedModel = (plan: Plan, field: PlanField, test: TestName): PlanModel | undefined =>
  field.models?.[test] ?? plan.maps.models?.[test];

/**
 * Another method. Averaged, pooled and inverse distance are the whole plan's; a typed variogram is one test's of one
 * field and begins with `start`. Leaving the typed one takes it out, of the plan too where it stood for every field.
 */
export function withMapMethod(
  plan: Plan,
  field: PlanField,
  test: TestName,
  method: MapMethod,
  start: PlanModel,
): Change {
  if (method === "inverse-distance") {
    return {
      name: "all soil maps by inverse distance",
      plan: { ...plan, maps: { ...plan.maps, method: "inverse-distance" } },
    };
  }
  const { power: _, pooled: __, models, ...rest } = plan.maps;
  const maps = { ...rest, method: "kriging" as const };
  if (method === "typed") {
    const kept = { ...maps, ...(models ? { models } : {}), ...(plan.maps.pooled ? { pooled: true } : {}) };
    const changed = { ...field, models: { ...field.models, [test]: typedModel(plan, field, test) ?? start } };
    return {
      name: `${field.name} ${test}: variogram typed`,
      plan: withField({ ...plan, maps: kept }, changed),
    };
  }
  const others = modelsWithout(models, test);
  const { models: own, ...bare } = field;
  const left = modelsWithout(own, test);
  return {
    name:
      method === "pooled"
        ? "all soil maps: variograms pooled over the farm"
        : "all soil maps: variograms averaged field by field",
    plan: withField(
      {
        ...plan,
        maps: {
          ...maps,
          ...(others ? { models: others } : {}),
          ...(method === "pooled" ? { pooled: true } : {}),
        },
      },
      { ...bare, ...(left ? { models: left } : {}) },
    ),
  };
}

function modelsWithout(models: PlanModels | undefined, test: TestName): PlanModels | undefined {
  const { [test]: _, ...others } = models ?? {};
  return Object.keys(others).length > 0 ? others : undefined;
}

export function withModel(
  plan: Plan,
  field: PlanField,
  test: TestName,
  model: PlanModel,
  what: string,
): Change {
  return {
    name: `${field.name} ${test} variogram: ${what}`,
    plan: withField(plan, { ...field, models: { ...field.models, [test]: model } }),
  };
}

/** Of the variogram typed, else of all maps; null where all directions are alike. */
export const directionOf = (plan: Plan, field: PlanField, test: TestName): PlanAnisotropy | null =>
  typedModel(plan, field, test)?.anisotropy ?? plan.maps.anisotropy ?? null;

/** The direction of the variogram typed for this test in this field, else of every map; null takes it away. */
export function withDirection(
  plan: Plan,
  field: PlanField,
  test: TestName,
  direction: PlanAnisotropy | null,
  what: string,
): Change {
  const typed = methodOf(plan, field, test) === "typed" ? typedModel(plan, field, test) : undefined;
  if (typed) {
    // A ratio of 1 of its own goes before a direction of all maps.
    const { anisotropy: _, ...bare } = typed;
    const own = direction ?? (plan.maps.anisotropy ? { angleDeg: 0, ratio: 1 } : null);
    return withModel(plan, field, test, own ? { ...bare, anisotropy: own } : bare, what);
  }
  const { anisotropy: _, ...rest } = plan.maps;
  return {
    name: `all soil maps: ${what}`,
    plan: { ...plan, maps: direction ? { ...rest, anisotropy: direction } : rest },
  };
}

export function withSupport(plan: Plan, support: "cell" | "point"): Change {
  const { support: _, ...rest } = plan.maps;
  return {
    name: `all soil maps: ${support === "cell" ? "means of cells" : "points"}`,
    plan: { ...plan, maps: support === "cell" ? rest : { ...rest, support } },
  };
}

export function withPower(plan: Plan, power: number): Change {
  return {
    name: `inverse distance, power ${said(plan.maps.power ?? 2)} → ${said(power)}`,
    plan: { ...plan, maps: { ...plan.maps, power } },
  };
}

/** A sample leaves the map of one test, with the reason given. */
export function withSampleOff(
  plan: Plan,
  field: PlanField,
  test: TestName,
  sample: string,
  reason: string,
): Change {
  const others = offWithout(field, test, sample);
  return {
    name: `${field.name} ${test}: sample ${sample} left out`,
    plan: withField(plan, { ...field, switchedOff: [...others, { sample, test, reason }] }),
  };
}

export function withSampleOn(plan: Plan, field: PlanField, test: TestName, sample: string): Change {
  const others = offWithout(field, test, sample);
  const { switchedOff: _, ...rest } = field;
  return {
    name: `${field.name} ${test}: sample ${sample} taken back in`,
    plan: withField(plan, others.length > 0 ? { ...rest, switchedOff: others } : rest),
  };
}

/** A value that its neighbours deny is checked and kept, with the reason given. */
export function withSampleKept(
  plan: Plan,
  field: PlanField,
  test: TestName,
  sample: string,
  reason: string,
): Change {
  const others = keptWithout(field, test, sample);
  return {
    name: `${field.name} ${test}: sample ${sample} kept`,
    plan: withField(plan, { ...field, kept: [...others, { sample, test, reason }] }),
  };
}

export function withSampleDoubted(plan: Plan, field: PlanField, test: TestName, sample: string): Change {
  const others = keptWithout(field, test, sample);
  const { kept: _, ...rest } = field;
  return {
    name: `${field.name} ${test}: sample ${sample} to be checked again`,
    plan: withField(plan, others.length > 0 ? { ...rest, kept: others } : rest),
  };
}

const keptWithout = (field: PlanField, test: TestName, sample: string) =>
  (field.kept ?? []).filter((one) => one.test !== test || one.sample !== sample);

const offWithout = (field: PlanField, test: TestName, sample: string) =>
  (field.switchedOff ?? []).filter((one) => one.test !== test || one.sample !== sample);
