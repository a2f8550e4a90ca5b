import { computed, type ReadonlySignal, type Signal, signal } from "@preact/signals";
import type { Plan } from "#core";
import { doubtCount } from "./doubt-or-remark.ts";
import { farmLines } from "./figures.ts";
import { chosenField } from "./look.ts";
import { plan } from "./opened.ts";
import { farm } from "./results.ts";

type FarmOrder = "flags" | "work" | "name";
export const farmOrder: Signal<FarmOrder> = signal("flags");
export const farmFind: Signal<string> = signal("");
const picked: Signal<string | null> = signal(null);

/** The field chosen on the farm's sheet, the last one opened unless another was picked. */
export const farmChoice: ReadonlySignal<string | null> = computed(() => {
  const isThere = plan.value?.fields.some(({ id }) => id === picked.value);
  return isThere ? picked.value : chosenField.value;
});

export function pickField(id: string): void {
  picked.value = id;
}

/** Doubts of a field, one for each kind, and one when it could not be worked out. */
export function doubtsOf(id: string): number {
  const line = farmLines.value.find((one) => one.id === id);
  const refused = farm.value?.refused.some((one) => one.field === id) ? 1 : 0;
  return refused + doubtCount(line?.notices ?? []);
}

/** Fields as listed: those found, in the order chosen. */
export const farmList: ReadonlySignal<Plan["fields"]> = computed(() => {
  const sought = farmFind.value.trim().toLowerCase();
  const fields = (plan.value?.fields ?? []).filter(
    (one) => sought === "" || one.name.toLowerCase().includes(sought) || one.crop.includes(sought),
  );
  if (farmOrder.value === "name") return fields.toSorted((a, b) => a.name.localeCompare(b.name, "en"));
  if (farmOrder.value === "work") return fields;
  return fields.toSorted((a, b) => doubtsOf(b.id) - doubtsOf(a.id));
});
