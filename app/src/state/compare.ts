import { computed, effect, type ReadonlySignal, type Signal, signal } from "@preact/signals";
import { laidProducts, oxideText, type Plan } from "#core";
import type { FarmView, FieldLine } from "../engine/protocol.ts";
import { askFarmOf } from "./errands.ts";
import { farmLines, figuresOf, heavy, lbOf, mass, rate, scope, words } from "./figures.ts";
import { chosenField } from "./look.ts";
import { history, opened, plan } from "./opened.ts";
import { isBehind } from "./results.ts";
import { savedPlan } from "./save-plan.ts";
import { signedGap } from "./signed-gap.ts";

/** The list of edits and what they changed stands open. */
export const editsShown: Signal<boolean> = signal(false);

/** The state compared with: the plan file saved last, else the plan as it was opened. */
export const baseline: ReadonlySignal<{ readonly plan: Plan; readonly words: string } | null> = computed(
  () => {
    const now = history.value;
    if (!now) return null;
    const saved = savedPlan.value;
    if (saved && now.past.some(({ plan: one }) => one === saved.plan)) {
      return { plan: saved.plan, words: "plan file saved last" };
    }
    return { plan: now.past[0]?.plan ?? now.plan, words: "as opened" };
  },
);

/** Figures of the baseline by plan, as worked out; asked for when the list opens. */
const worked: Signal<{ readonly plan: Plan; readonly farm: FarmView } | null> = signal(null);

/** Work the baseline out while the list is open and nothing newer is on its way. */
export function keepCompared(): void {
  let asked: Plan | null = null;
  effect(() => {
    void opened.value;
    const of = baseline.value?.plan;
    if (!editsShown.value || !of || isBehind.value || worked.peek()?.plan === of || asked === of) return;
    asked = of;
    void askFarmOf(of).then((farm) => {
      asked = null;
      if (farm) worked.value = { plan: of, farm };
    });
  });
}

interface ComparedLine {
  readonly what: string;
  readonly before: string;
  readonly now: string;
  readonly difference: string;
}

/** Totals before and now, of the field or farm that the sheet is about; null while the state before is worked out. */
export const compared: ReadonlySignal<readonly ComparedLine[] | null> = computed(() => {
  const of = plan.value;
  const base = baseline.value;
  const known = worked.value;
  if (!of || !base || known?.plan !== base.plan) return null;
  const isField = scope.value === "field";
  const chosen = (lines: readonly FieldLine[]) =>
    isField ? lines.filter(({ id }) => id === chosenField.value) : lines;
  const [before, now] = [chosen(known.farm.fields), chosen(farmLines.value)];
  const products = laidProducts(of);
  const tons = words().heavy;
  const line = (
    what: string,
    value: (lines: readonly FieldLine[]) => number,
    text: (value: number) => string,
  ) => {
    const [was, is] = [value(before), value(now)];
    const [wasText, isText] = [text(was), text(is)];
    const difference = wasText === isText ? "same" : signedGap(wasText, isText);
    return { what, before: wasText, now: isText, difference };
  };
  return [
    ...products.map((product) =>
      line(
        `${product} in the strip, ${tons}`,
        (lines) => lbOf(lines, product, "strip"),
        (lb) => heavy(lb),
      ),
    ),
    ...products.map((product) =>
      line(
        `${product} broadcast, ${tons}`,
        (lines) => lbOf(lines, product, "broadcast"),
        (lb) => heavy(lb),
      ),
    ),
    line(
      `in the strip, mean ${words().rate}`,
      (lines) => figuresOf(lines).stripMeanLbPerAc,
      (lb) => rate(lb),
    ),
    ...(["P2O5", "K2O"] as const).map((oxide) =>
      line(
        `need of ${oxideText(oxide)}, ${words().mass}`,
        (lines) => figuresOf(lines).balances.find(({ nutrient }) => nutrient === oxide)?.needLb ?? 0,
        (lb) => mass(lb),
      ),
    ),
  ];
});
