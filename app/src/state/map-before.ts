import { computed, effect, type ReadonlySignal, type Signal, signal } from "@preact/signals";
import type { LayerId, Plan } from "#core";
import type { DrawnLayer, MapBefore, PassLines } from "../engine/protocol.ts";
import { type Changed, changed } from "./changed.ts";
import { baseline } from "./compare.ts";
import { askMapBefore, letBeforeGo } from "./errands.ts";
import { wantedLayers } from "./look.ts";
import { lastEdit } from "./opened.ts";
import { field, isStopped, pointed } from "./results.ts";
import { productShown } from "./season-state.ts";
import { askReadOut } from "./work.ts";

/** Before and now stand on the plat side by side, wherever there is an edit to compare. */
export const isComparing: Signal<boolean> = signal(false);

/** Share of the plat's width, from the left, that shows the map before. */
export const lineAt: Signal<number> = signal(0.5);

export const moveLine = (by: number): void => {
  lineAt.value = Math.min(1, Math.max(0, Math.round((lineAt.peek() + by) * 100) / 100));
};

/** The layer on the plat as it is now; null where no field's map is shown. */
export const drawnNow: ReadonlySignal<DrawnLayer | null> = computed(
  () => field.value?.layers.find(({ layer }) => layer.id === wantedLayers.value.plat) ?? null,
);

/** There is a map by the plan, and an edit that can be undone. */
export const canCompare: ReadonlySignal<boolean> = computed(
  () => drawnNow.value !== null && lastEdit.value !== null && productShown.value === null,
);

/** How far back the map before lies: one edit, or where the list of edits compares from. */
export type Back = "edit" | "baseline";
export const howFarBack: Signal<Back> = signal("edit");

/** Both lead to the same plan where there is one edit alone. */
export const hasTwoWaysBack: ReadonlySignal<boolean> = computed(
  () => baseline.value?.plan !== lastEdit.value?.plan,
);

/** The plan compared with, and which it is in words; null while nothing is compared. */
export const comparedWith: ReadonlySignal<{ readonly plan: Plan; readonly words: string } | null> = computed(
  () => {
    const edit = lastEdit.value;
    if (!isComparing.value || !canCompare.value || !edit) return null;
    const start = baseline.value;
    if (howFarBack.value === "baseline" && start && hasTwoWaysBack.value) return start;
    return { plan: edit.plan, words: `without “${edit.name}”` };
  },
);

/** What the answer hangs on. Passes and layers are told apart by identity. */
interface Wanted {
  readonly plan: Plan;
  readonly field: string;
  readonly passes: PassLines | null;
  readonly layer: LayerId;
  readonly classes: string;
}

const wanted: ReadonlySignal<Wanted | null> = computed(() => {
  const now = drawnNow.value?.layer;
  const of = comparedWith.value?.plan;
  const shown = field.value;
  if (!now || !of || !shown) return null;
  const passes = now.draws === "passes" ? shown.passes : null;
  const classes = `${now.system} ${now.classes.limits.join()}`;
  return { plan: of, field: shown.id, passes, layer: now.id, classes };
});

const isSame = (one: Wanted | null, other: Wanted | null): boolean =>
  one !== null &&
  other !== null &&
  (Object.keys(one) as (keyof Wanted)[]).every((part) => one[part] === other[part]);

const told: Signal<{ readonly of: Wanted; readonly before: MapBefore | null } | null> = signal(null);

/** The answer is there. */
export const isTold: ReadonlySignal<boolean> = computed(() => isSame(told.value?.of ?? null, wanted.value));

/** The shown layer of the plan compared with, in the classes it has now; null while it is not told, or there was none. */
export const mapBefore: ReadonlySignal<MapBefore | null> = computed(() =>
  isTold.value ? told.value!.before : null,
);

/** Acres that have more, less, about the same now; null where places are not the same. */
export const acresChanged: ReadonlySignal<Changed | null> = computed(() => {
  const was = mapBefore.value;
  const now = drawnNow.value;
  return was && now && was.passes === null ? changed(was.drawn.layer, now.layer) : null;
});

/** Ask for the shown layer as it was while it is compared: nothing of it is kept otherwise. */
export function keepMapBefore(): void {
  let asked: Wanted | null = null;
  effect(() => {
    const of = wanted.value;
    const layer = drawnNow.value?.layer;
    if (isStopped.value) asked = null;
    if (!of || !layer) {
      asked = null;
      if (told.peek() !== null) letGo();
      return;
    }
    if (isSame(asked, of) || isSame(told.peek()?.of ?? null, of)) return;
    asked = of;
    const { classes, system } = layer;
    void askMapBefore({ plan: of.plan, field: of.field, layer: of.layer, classes, system }).then((reply) => {
      // Newer work came between: asked again with the next map.
      if (asked === of) asked = null;
      if (!reply) return;
      told.value = { of, before: reply.before };
      const pin = pointed.peek();
      if (pin) askReadOut(pin.at, pin.pinned);
    });
  });
}

/** What was read out of the state before goes with it. */
function letGo(): void {
  told.value = null;
  letBeforeGo();
  const now = pointed.peek();
  if (now?.before) pointed.value = { ...now, before: null };
}
