import { computed, effect, type ReadonlySignal, type Signal, signal } from "@preact/signals";
import {
  acresText,
  type BalanceFigures,
  feetText,
  laidProducts,
  lbText,
  lengthIn,
  massIn,
  numberText,
  rateText,
  type ShownBalance,
  shownBalance,
  sum,
  sumOfBalances,
  tons,
  tonsText,
  typedPrices,
  UNKNOWN,
  unitWords,
  usdText,
} from "#core";
import type { FieldLine, RateOfWork } from "../engine/protocol.ts";
import { chosenField } from "./look.ts";
import { editCount, plan } from "./opened.ts";
import { farm, field, isBehind, isFarmRefused, refusal, soFar } from "./results.ts";
import { here, isFarmSheet } from "./route.ts";
import { settings } from "./settings.ts";

/** Figures in the units chosen for the page; files never change. */
export const mass = (lb: number): string => lbText(lb, settings.value.system);
export const heavy = (lb: number, decimals = 2): string => tonsText(lb, settings.value.system, decimals);
export const area = (ac: number, decimals = 1): string => acresText(ac, settings.value.system, decimals);
export const rate = (lbPerAc: number, decimals = 0): string =>
  rateText(lbPerAc, settings.value.system, decimals);
/** Pounds as a number of the units chosen. */
export const massShown = (lb: number): number => massIn(lb, settings.value.system);
/** Of a machine, from feet: feet as the sheets print them, or metres to a tenth. */
export const feet = (ft: number): string =>
  settings.value.system === "us" ? feetText(ft) : numberText(ft / lengthIn(1, "us"), 1);
/** Acres that stand in a sentence of the engine's. */
export const acresWithin = (sentence: string): string =>
  sentence.replace(/([\d.]+) ac\b/g, (_, ac: string) => `${area(Number(ac))} ${words().area}`);
export const words = (): ReturnType<typeof unitWords> => unitWords(settings.value.system);
/** What product is bought by, whatever the page shows: short tons, called tons where all are. */
export const boughtIn = (): "ton" | "short ton" => (settings.value.system === "us" ? "ton" : "short ton");
/** Whole dollars. */
export const dollars = (usd: number): string => (Number.isFinite(usd) ? usdText(usd) : UNKNOWN);

type Scope = "field" | "farm";
export const scope: ReadonlySignal<Scope> = computed(() =>
  isFarmSheet(here.value.sheet) ? "farm" : "field",
);

/** The open sheet's figures are of the plan before one that could not be worked out; never where there are none. */
export const isOfBefore: ReadonlySignal<boolean> = computed(() =>
  scope.value === "farm"
    ? farm.value !== null && isFarmRefused.value && refusal.value?.isOfFiles === false
    : field.value !== null && refusal.value?.of === "field",
);

/** Before a figure that belongs to an older plan than the one shown. */
export const tilde = (): string => (isBehind.value || isOfBefore.value ? "~" : "");

/** Whole figures of it that add up as shown. */
export const shownFigures = (balance: BalanceFigures): ShownBalance =>
  shownBalance(balance, settings.value.system);

/** What the balance shows: pounds by oxide and by product. */
export interface Figures {
  readonly scope: Scope;
  readonly balances: readonly BalanceFigures[];
  readonly products: readonly { readonly product: string; readonly lb: number }[];
  readonly stripMeanLbPerAc: number;
  readonly ceilingLbPerAc: number | null;
  readonly acres: number;
  /** Of the field; null for the farm, and where the plan does not tell the rig. */
  readonly work: RateOfWork | null;
}

export const lbOf = (lines: readonly FieldLine[], product: string, pass?: "strip" | "broadcast"): number =>
  sum(
    lines.flatMap((line) =>
      line.maps
        .filter((map) => map.product === product && (pass === undefined || map.pass === pass))
        .map((map) => map.totalLb),
    ),
  );

/** Products of the plan that the lines are of, which may be the one before the plan shown; of this where there are none. */
export function productsOf(lines: readonly FieldLine[]): string[] {
  if (lines.length === 0) return plan.value ? laidProducts(plan.value) : [];
  return [...new Set(lines.flatMap(({ products }) => products))];
}

const added = (lines: readonly FieldLine[]): BalanceFigures[] =>
  (["P2O5", "K2O"] as const).map((nutrient) =>
    sumOfBalances(
      nutrient,
      lines.flatMap((line) => line.balances),
    ),
  );

/** The farm's lines with the chosen field as worked out last, which is never older than the farm's. */
export const farmLines: ReadonlySignal<readonly FieldLine[]> = computed(() => {
  const lines = farm.value?.fields ?? soFar.value;
  const shown = field.value;
  return lines.map((line) => (shown && line.id === shown.id ? shown : line));
});

/** Balances, acres and the strip's mean of some fields together. */
export function figuresOf(
  lines: readonly FieldLine[],
): Pick<Figures, "balances" | "acres" | "stripMeanLbPerAc"> {
  const acres = sum(lines.map((line) => line.areaAc));
  const strip = sum(
    lines.flatMap((line) => line.maps.filter((map) => map.pass === "strip").map((map) => map.totalLb)),
  );
  return { balances: added(lines), acres, stripMeanLbPerAc: strip / acres };
}

export const figures: ReadonlySignal<Figures | null> = computed(() => {
  const of = plan.value;
  const shown = field.value;
  if (!of) return null;
  const lines = scope.value === "field" ? (shown ? [shown] : []) : farmLines.value;
  if (lines.length === 0) return null;
  return {
    scope: scope.value,
    ...figuresOf(lines),
    products: productsOf(lines).map((product) => ({ product, lb: lbOf(lines, product) })),
    ceilingLbPerAc: scope.value === "field" ? (shown?.ceilingLbPerAc ?? null) : null,
    work: scope.value === "field" ? (shown?.work ?? null) : null,
  };
});

/** Dollars of the farm's products; NaN until every product has a price. */
export const orderDollars: ReadonlySignal<number> = computed(() => {
  const of = plan.value;
  const lines = farmLines.value;
  if (!of || lines.length === 0) return Number.NaN;
  const prices = typedPrices(of);
  return sum(
    productsOf(lines).map((product) => {
      const price = prices[product];
      return price === undefined ? Number.NaN : tons(lbOf(lines, product)) * price;
    }),
  );
});

/** Figures before the last edit, until the next edit or sheet. */
export const before: Signal<(Figures & { readonly dollars: number }) | null> = signal(null);

/** Keep what stood before each edit; forget it when another sheet or field opens. */
export function rememberBefore(): void {
  let edits = editCount.peek();
  let last: (Figures & { readonly dollars: number }) | null = null;
  let place = "";
  effect(() => {
    const now = figures.value;
    const usd = orderDollars.value;
    const at = `${here.value.sheet} ${here.value.field}`;
    const count = editCount.value;
    if (at !== place) {
      place = at;
      before.value = null;
      last = null;
    }
    if (count !== edits) {
      edits = count;
      before.value = last;
    }
    // Till its own are worked out another field's figures stand.
    if (now && (now.scope === "farm" || field.value?.id === chosenField.value))
      last = { ...now, dollars: usd };
  });
}
