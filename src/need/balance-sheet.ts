import { elementOf, type Nutrient } from "../agronomy/index.ts";
import { sum } from "../numeric/index.ts";
import { nutrientAlong, type RatedProduct } from "../products/index.ts";
import { acres } from "../units/index.ts";

interface BalanceInput {
  readonly areaM2: Float64Array;
  /** All products placed, strip and broadcast together, lb product/ac cell by cell. */
  readonly placed: readonly RatedProduct[];
  /** What the crops of the years covered take, lb oxide/ac; left out where no factor is known. */
  readonly removalLbPerAc: { readonly [nutrient in Nutrient]?: number | Float64Array };
  /** Nutrients from manure or starter, lb oxide/ac. */
  readonly creditLbPerAc?: { readonly [nutrient in Nutrient]?: number | Float64Array };
}

/** One nutrient of one field, lb of oxide on the whole field. */
interface NutrientBalance {
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
  const removal = input.removalLbPerAc[nutrient];
  const credit = input.creditLbPerAc?.[nutrient];
  const [placedAt, creditAt, removalAt, upAt, downAt, risesAt, fallsAt, countedAt] = Array.from(
    { length: 8 },
    () => new Float64Array(cells),
  ) as [
    Float64Array,
    Float64Array,
    Float64Array,
    Float64Array,
    Float64Array,
    Float64Array,
    Float64Array,
    Float64Array,
  ];
  for (let i = 0; i < cells; i++) {
    const [rate, taken, credited] = [rates[i]!, amountAt(removal, i), amountAt(credit, i)];
    if (Number.isNaN(rate) || Number.isNaN(taken)) continue;
    const ac = acres(input.areaM2[i]!);
    const net = rate + credited - taken;
    placedAt[i] = rate * ac;
    creditAt[i] = credited * ac;
    removalAt[i] = taken * ac;
    upAt[i] = Math.max(0, net) * ac;
    downAt[i] = Math.max(0, -net) * ac;
    risesAt[i] = net > HOLDS_WITHIN * taken ? ac : 0;
    fallsAt[i] = net < -HOLDS_WITHIN * taken ? ac : 0;
    countedAt[i] = ac;
  }
  const placedLb = sum(placedAt);
  const creditLb = sum(creditAt);
  const element = elementOf(nutrient);
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
  const acresBuilding = sum(risesAt);
  const acresDrawingDown = sum(fallsAt);
  const acresHolding = sum(countedAt) - acresBuilding - acresDrawingDown;
  return {
    nutrient,
    placedLb,
    creditLb,
    removalLb: sum(removalAt),
    buildUpLb: sum(upAt),
    drawdownLb: sum(downAt),
    acresBuilding,
    acresDrawingDown,
    direction: directionInWords(element, acresBuilding, acresHolding, acresDrawingDown),
  };
}

const amountAt = (amount: number | Float64Array | undefined, i: number): number =>
  amount === undefined ? 0 : typeof amount === "number" ? amount : amount[i]!;

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
