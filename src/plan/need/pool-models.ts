import { InputError } from "../../errors/index.ts";
import { choosePooledModels } from "../../interpolate/index.ts";
import { TESTS } from "../../soil/index.ts";
import type { Plan } from "../document/document-types.ts";
import type { Inputs } from "../sources/read-sources.ts";
import { checkField } from "./check-field.ts";
import { fieldTest } from "./field-test.ts";
import type { FieldModels } from "./map-soil.ts";

/**
 * Where the plan pools its fields: by field id, a model a test from the likelihoods of all its fields that can be
 * worked out, of the same extractant. Empty otherwise.
 */
export function poolModels(plan: Plan, inputs: Inputs): ReadonlyMap<string, FieldModels> {
  const models = new Map<string, FieldModels>();
  if (!plan.maps.pooled || plan.maps.method !== "kriging") return models;
  const fields = plan.fields
    .filter((field) => field.needFrom === undefined || field.needFrom.kind === "flat")
    .flatMap((field) => {
      try {
        return [{ field, checked: checkField(plan, field, inputs) }];
      } catch (error) {
        if (error instanceof InputError) return []; // named when the field's own turn comes
        throw error;
      }
    });
  for (const test of TESTS) {
    const methods = new Set(fields.map(({ checked }) => (test === "CEC" ? "" : checked.methods[test])));
    for (const method of methods) {
      const alike = fields
        .filter(({ checked }) => test === "CEC" || checked.methods[test] === method)
        .map(({ field, checked }) => ({ field, tested: fieldTest(checked, test, field.switchedOff) }))
        .filter(({ tested }) => tested.taken.length > 0);
      const chosen = choosePooledModels(
        alike.map(({ tested }) => tested.samples),
        plan.maps.anisotropy,
      );
      alike.forEach(({ field }, i) => {
        models.set(field.id, { ...models.get(field.id), [test]: chosen[i]! });
      });
    }
  }
  return models;
}
