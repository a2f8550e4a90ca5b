import type { Nutrient } from "../agronomy/index.ts";
import { sum } from "../numeric/index.ts";
import { nutrientAlong, type RatedProduct } from "../products/index.ts";
import { acres } from "../units/index.ts";

export interface BalanceInput {
  readonly areaM2: Float64Array;
  /** All products placed, strip and broadcast together, lb product/ac cell by cell. */
  readonly placed: readonly RatedProduct[];
  /** What the crops of the years covered take, lb oxide/ac; left out where no factor is known. */
  readonly removalLbPerAc: { readonly [nutrient in Nutrient]?: number | Float64Array };
  /** Nutrients from manure or starter, lb oxide/ac. */
  readonly creditLbPerAc?: { readonly [nutrient in Nutrient]?: number | Float64Array };
}

/** One nutrient of one field, lb of oxide on the whole field. */
export interface NutrientBalance {
  readonly nutrient: Nutrient;
  readonly placedLb: number;
  readonly creditLb: number;
  /** Undefined where no removal factor is known; then nothing below is. */
  readonly removalLb: number | undefined;
  /** What goes on beyond removal, where it does. */
  readonly buildUpLb: number | undefined;
  /** What removal takes beyond what goes on, where it does. */
  readonly drawdownLb: number | undefined;
  readonly acresBuilding: number | undefined;
  readonly acresDrawingDown: number | undefined;
  /** `P rises on 12.0 ac, holds on 3.1 ac and falls on 60.2 ac.` */
  readonly direction: string;
}

/** Where the nutrients of a field's need come from and go to. */
export interface BalanceSheet {
  readonly nutrients: readonly NutrientBalance[];
  /** lb of N and S on the field that come along with the products. */
  readonly nLb: number;
  readonly sLb: number;
}

/** Within this share of removal, more or less, a soil test is said to hold (ours). */
const HOLDS_WITHIN = 0.1;

/**
 * Removal, build-up and drawdown of one field. placed + credit - removal = build-up - drawdown, in every cell
 * and in the sum. Cells with a NaN rate count nothing.
 */
export function balanceSheet(input: BalanceInput): BalanceSheet {
  const lbOf = (rates: Float64Array): number =>
    sum(rates.map((rate, i) => (Number.isNaN(rate) ? 0 : rate * acres(input.areaM2[i]!))));
  return {
    nutrients: [one("P2O5", "p2o5", input), one("K2O", "k2o", input)],
    nLb: lbOf(nutrientAlong(input.placed, "n")),
    sLb: lbOf(nutrientAlong(input.placed, "s")),
  };
}

function one(nutrient: Nutrient, key: "p2o5" | "k2o", input: BalanceInput): NutrientBalance {
  const cells = input.areaM2.length;
  const placed = nutrientAlong(input.placed, key);
  const rates = placed.length === 0 ? new Float64Array(cells) : placed;
  const at = (amount: number | Float64Array | undefined, i: number): number =>
    amount === undefined ? 0 : typeof amount === "number" ? amount : amount[i]!;
  const removal = input.removalLbPerAc[nutrient];
  const credit = input.creditLbPerAc?.[nutrient];
  const isCounted = (i: number): boolean => !Number.isNaN(rates[i]!) && !Number.isNaN(at(removal, i));
  const total = (value: (i: number) => number): number =>
    sum(input.areaM2.map((area, i) => (isCounted(i) ? value(i) * acres(area) : 0)));
  const net = (i: number): number => rates[i]! + at(credit, i) - at(removal, i);
  const placedLb = total((i) => rates[i]!);
  const creditLb = total((i) => at(credit, i));
  const element = nutrient === "P2O5" ? "P" : "K";
  if (removal === undefined) {
    return {
      nutrient,
      placedLb,
      creditLb,
      removalLb: undefined,
      buildUpLb: undefined,
      drawdownLb: undefined,
      acresBuilding: undefined,
      acresDrawingDown: undefined,
      direction: `No removal factor is known: which way the ${element} test goes cannot be said.`,
    };
  }
  const margin = (i: number): number => HOLDS_WITHIN * at(removal, i);
  const acresBuilding = total((i) => (net(i) > margin(i) ? 1 : 0));
  const acresDrawingDown = total((i) => (net(i) < -margin(i) ? 1 : 0));
  const acresHolding = total(() => 1) - acresBuilding - acresDrawingDown;
  return {
    nutrient,
    placedLb,
    creditLb,
    removalLb: total((i) => at(removal, i)),
    buildUpLb: total((i) => Math.max(0, net(i))),
    drawdownLb: total((i) => Math.max(0, -net(i))),
    acresBuilding,
    acresDrawingDown,
    direction: directionInWords(element, acresBuilding, acresHolding, acresDrawingDown),
  };
}

function directionInWords(element: string, rises: number, holds: number, falls: number): string {
  const parts = [
    rises > 0.05 ? `rises on ${rises.toFixed(1)} ac` : "",
    holds > 0.05 ? `about holds on ${holds.toFixed(1)} ac` : "",
    falls > 0.05 ? `falls on ${falls.toFixed(1)} ac` : "",
  ].filter((part) => part !== "");
  const last = parts.pop();
  if (last === undefined) return `No acre has a ${element} balance.`;
  return `The ${element} test ${parts.length === 0 ? last : `${parts.join(", ")} and ${last}`}.`;
}
