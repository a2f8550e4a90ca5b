import { computed, effect, type ReadonlySignal, type Signal, signal } from "@preact/signals";
import { missingRigKeys } from "#core";
import type { Trouble } from "../engine/protocol.ts";
import type {
  AppliedShown,
  AppliedView,
  ChosenLog,
  FillsView,
  OrderView,
  SeasonAsk,
  SeasonTold,
  SeasonView,
  Stand,
} from "../engine/season-protocol.ts";
import { askSeason } from "./errands.ts";
import { chosenField } from "./look.ts";
import { plan } from "./opened.ts";
import { farm, isBehind, trouble } from "./results.ts";
import { here } from "./route.ts";

/** What the worker told last; null until it has. */
export const fillsShown: Signal<FillsView | null> = signal(null);
export const seasonShown: Signal<SeasonView | null> = signal(null);
export const orderShown: Signal<OrderView | null> = signal(null);
export const appliedShown: Signal<AppliedView | null> = signal(null);
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
/** Where the rig stands, when it was typed. */
export const stand: Signal<Stand | null> = signal(null);
export const chosenLogs: Signal<readonly ChosenLog[]> = signal([]);
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
    const id = chosenField.value;
    const { sheet } = here.value;
    const logs = chosenLogs.value;
    const at = stand.value;
    const options = whatIf.value;
    const isFarmThere = farm.value !== null && !isBehind.value;
    if (!of || id === null) return;
    const told = missingRigKeys(of).length === 0;
    const asks: SeasonAsk[] = [];
    if (sheet === "fills" && told) {
      asks.push({ kind: "fills", field: id, stand: at });
      if (isFarmThere) asks.push({ kind: "season", options });
    }
    if (sheet === "order" && isFarmThere) asks.push({ kind: "order" });
    if (sheet === "applied" && logs.length > 0)
      asks.push({ kind: "applied", field: id, logs, isSaved: false });
    clearTimeout(waiting);
    if (asks.length === 0) return;
    waiting = setTimeout(() => void askAll(asks), REST_MS);
  });
}

async function askAll(asks: readonly SeasonAsk[]): Promise<void> {
  const mine = ++asked;
  seasonTrouble.value = null;
  for (const ask of asks) {
    const told = await answerTo(ask);
    if (mine !== asked) return;
    if (told) take(told);
  }
}

/** One answer; null where something stood in the way, which is then told, or Stop was pressed. */
export async function answerTo(ask: SeasonAsk): Promise<SeasonTold | null> {
  const reply = await askSeason(ask);
  if (reply.kind === "season-told") return reply.told;
  if (reply.kind === "trouble") (reply.trouble.ours ? trouble : seasonTrouble).value = reply.trouble;
  if (reply.kind === "question") {
    seasonTrouble.value = {
      code: "question",
      message: reply.questions.map((one) => one.text).join(" "),
      remedy:
        "Answer it on the command line (bermplan applied), or name unit and width in the log's headings.",
      ours: false,
    };
  }
  return null;
}

function take(told: SeasonTold): void {
  if (told.kind === "fills") fillsShown.value = told;
  else if (told.kind === "season") seasonShown.value = told;
  else if (told.kind === "order") orderShown.value = told;
  else appliedShown.value = told;
}
