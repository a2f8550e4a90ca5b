import { computed, effect, type ReadonlySignal, type Signal, signal } from "@preact/signals";
import { missingRigKeys } from "#core";
import type { Trouble } from "../engine/protocol.ts";
import type {
  AppliedShown,
  FillsView,
  OrderView,
  SeasonAsk,
  SeasonTold,
  SeasonView,
  Stand,
} from "../engine/season-protocol.ts";
import { answerOrTrouble } from "./ask-season.ts";
import { type ByField, byField } from "./by-field.ts";
import { appliedShown, chosenLogs, isShownOf, showApplied } from "./chosen-logs.ts";
import { chosenField } from "./look.ts";
import { opened, plan } from "./opened.ts";
import { farm, isBehind } from "./results.ts";
import { here } from "./route.ts";
import { settings } from "./settings.ts";

/** What the worker told last; null until it has. */
export const fillsShown: Signal<FillsView | null> = signal(null);
export const seasonShown: Signal<SeasonView | null> = signal(null);
export const orderShown: Signal<OrderView | null> = signal(null);
/** Of the products with logs, the one on the plat; null the first. */
export const productChosen: Signal<string | null> = signal(null);
/** What the plat of the applied sheet shows; null before the logs of the open field are read. */
export const productShown: ReadonlySignal<AppliedShown | null> = computed(() => {
  const shown = appliedShown.value;
  if (here.value.sheet !== "applied" || chosenLogs.value.length === 0) return null;
  if (!shown || shown.field !== chosenField.value) return null;
  const chosen = shown.products.find((one) => one.product === productChosen.value);
  return chosen ?? shown.products[0] ?? null;
});
/** What stands in the way of the open sheet's figures. */
export const seasonTrouble: Signal<Trouble | null> = signal(null);
/** Where the rig stands, when it was typed; of the field it was typed for. */
export const stands: ByField<Stand | null> = byField<Stand | null>(null);
/** What if: share of the strip's pounds, tenders; null as planned. */
export const whatIf: Signal<{
  readonly tenders?: number;
  readonly stripShare?: number;
  readonly hoursPerDay?: number;
}> = signal({});

/** Asked this long after the last change, ms. */
const REST_MS = 250;
let waiting: ReturnType<typeof setTimeout> | undefined;
let asked = 0;

/** Keeps the figures of the open sheet in step with plan, field and rates. Call once. */
export function keepSeasonInStep(): void {
  effect(() => {
    const of = plan.value;
    const files = opened.value?.files;
    const id = chosenField.value;
    const { sheet } = here.value;
    const logs = chosenLogs.value;
    const at = stands.chosen.value;
    const options = whatIf.value;
    const { system } = settings.value;
    const isFarmThere = farm.value !== null && !isBehind.value;
    if (!of || id === null) return;
    const told = missingRigKeys(of).length === 0;
    const asks: SeasonAsk[] = [];
    if (sheet === "fills" && told) {
      asks.push({ kind: "fills", field: id, stand: at, system });
      if (isFarmThere) asks.push({ kind: "season", options });
    }
    if (sheet === "order" && isFarmThere) asks.push({ kind: "order" });
    if (sheet === "applied" && logs.length > 0 && !isShownOf(of, files, id, logs))
      asks.push({ kind: "applied", field: id, logs, isSaved: false });
    clearTimeout(waiting);
    if (asks.length === 0) {
      // What stood in the way of another sheet's figures is not this one's.
      asked++;
      seasonTrouble.value = null;
      return;
    }
    waiting = setTimeout(() => void askAll(asks), REST_MS);
  });
}

async function askAll(asks: readonly SeasonAsk[]): Promise<void> {
  const mine = ++asked;
  const of = plan.peek();
  const files = opened.peek()?.files;
  seasonTrouble.value = null;
  for (const ask of asks) {
    const { told, trouble } = await answerOrTrouble(ask);
    if (mine !== asked) return;
    if (trouble) seasonTrouble.value = trouble;
    // Figures of before would stand under logs that they are not of.
    if (ask.kind === "applied")
      showApplied(told?.kind === "applied" ? told : null, of, files, ask.field, ask.logs);
    else if (told) take(told);
  }
}

function take(told: SeasonTold): void {
  if (told.kind === "fills") fillsShown.value = told;
  else if (told.kind === "season") seasonShown.value = told;
  else if (told.kind === "order") orderShown.value = told;
}
