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

const doubtCounts: ReadonlySignal<ReadonlyMap<string, number>> = computed(() => {
  const counts = new Map(farmLines.value.map(({ id, notices }) => [id, doubtCount(notices)]));
  for (const { field } of farm.value?.refused ?? []) counts.set(field, (counts.get(field) ?? 0) + 1);
  return counts;
});

/** Doubts of a field, one for each kind, and one when it could not be worked out. */
export const doubtsOf = (id: string): number => doubtCounts.value.get(id) ?? 0;

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
