import type { Plan } from "./document-types.ts";

type PlanPlanter = NonNullable<NonNullable<Plan["season"]>["planters"]>[number];

/** What `fills`, `season` and `order` name that the plan does not have: a sentence and what to do; null when all is there. */
export function seasonReferenceFault(plan: Plan): readonly [message: string, remedy: string] | null {
  const fields = new Set(plan.fields.map((field) => field.id));
  const planters = plan.season?.planters ?? [];
  const named: readonly (readonly [where: string, ids: readonly string[]])[] = [
    ["fills.places", (plan.fills?.places ?? []).map((place) => place.field)],
    ["season.order", plan.season?.order ?? []],
    ...planters.map((planter) => [`planter ${planter.id}`, planter.fields ?? []] as const),
  ];
  for (const [where, ids] of named) {
    const stranger = ids.find((id) => !fields.has(id));
    if (stranger !== undefined)
      return [
        `${where} names the field “${stranger}”, which the plan does not have.`,
        "Name one of its fields.",
      ];
    if (where !== "fills.places" && new Set(ids).size < ids.length)
      return [`${where} names a field twice.`, "Name each once."];
  }
  const [one, two] = sharers(planters);
  if (one !== undefined && two !== undefined) {
    if (one.id === two.id)
      return [`season.planters has two that are called “${one.id}”.`, "Give each its own id."];
    const field = one.fields!.find((id) => two.fields!.includes(id))!;
    return [
      `planter ${one.id} and planter ${two.id} both name the field “${field}”, which would be planted twice.`,
      "Name each field at one planter.",
    ];
  }
  const compartments = plan.fills?.compartmentsLb;
  if (compartments !== undefined && compartments.length !== plan.rig.bins.length)
    return [
      `fills.compartmentsLb has ${compartments.length} figures for ${plan.rig.bins.length} bins.`,
      "Give one a bin, in the order of the bins.",
    ];
  return null;
}

/** The first two planters of one id or with a field in common; empty where there are none. */
function sharers(planters: readonly PlanPlanter[]): readonly PlanPlanter[] {
  for (const [k, two] of planters.entries()) {
    const isShared = ({ id, fields = [] }: PlanPlanter): boolean =>
      id === two.id || fields.some((field) => two.fields?.includes(field));
    const one = planters.slice(0, k).find(isShared);
    if (one !== undefined) return [one, two];
  }
  return [];
}
