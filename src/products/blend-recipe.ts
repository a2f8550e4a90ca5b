import { InputError } from "../errors/index.ts";
import { requireBlendNumber } from "./blend-classes.ts";
import { noNutrients } from "./no-nutrients.ts";
import type { Grade, Product } from "./product.ts";

/** One product of a blend. */
export interface BlendPart {
  readonly id: string;
  /** Share by weight; the shares of a recipe add up to 1. */
  readonly share: number;
}

/** A blend's parts and the analysis that comes of them. */
export interface BlendRecipe {
  readonly parts: readonly BlendPart[];
  /** Percent by weight. */
  readonly analysis: Grade;
}

const GRADE_KEYS = Object.keys(noNutrients) as readonly (keyof Grade)[];

/** Analysis of products by weight, percent. */
export function blendAnalysis(parts: readonly { readonly grade: Grade; readonly lb: number }[]): Grade {
  const total = parts.reduce((sum, { lb }) => sum + lb, 0);
  const percent = (key: keyof Grade): number =>
    total === 0 ? 0 : parts.reduce((sum, { grade, lb }) => sum + grade[key] * lb, 0) / total;
  return Object.fromEntries(GRADE_KEYS.map((key) => [key, percent(key)])) as unknown as Grade;
}

/**
 * Two products that make a ratio of K2O to P2O5. Throws `ratio-outside-products` when the ratio lies outside what the two
 * can make.
 */
export function blendRecipe(k2oPerP2o5: number, first: Product, second: Product): BlendRecipe {
  // share1 (k1 - theta p1) + share2 (k2 - theta p2) = 0; in the limit of no P only p counts.
  const lack = ({ grade }: Product): number =>
    k2oPerP2o5 === Number.POSITIVE_INFINITY ? -grade.p2o5 : grade.k2o - k2oPerP2o5 * grade.p2o5;
  const [a, b] = [lack(first), lack(second)];
  const firstShare = a === b ? Number.NaN : b / (b - a);
  if (!(firstShare >= 0 && firstShare <= 1)) {
    throw new InputError(
      "ratio-outside-products",
      `${first.id} and ${second.id} cannot make ${k2oPerP2o5} lb K2O per lb P2O5`,
      "Choose one product richer in P2O5 than the ratio and one richer in K2O.",
    );
  }
  const parts = [
    { id: first.id, share: firstShare },
    { id: second.id, share: 1 - firstShare },
  ];
  const analysis = blendAnalysis([
    { grade: first.grade, lb: firstShare },
    { grade: second.grade, lb: 1 - firstShare },
  ]);
  return { parts, analysis };
}

/** One product of a batch. */
export interface BatchPart {
  readonly product: Product;
  readonly share: number;
  /** A product that comes in bags is rounded to whole bags of so many lb. */
  readonly bagLb?: number;
}

/** A batch as it is weighed. */
export interface Batch {
  readonly parts: readonly { readonly id: string; readonly exactLb: number; readonly lb: number }[];
  /** Pounds as weighed; equals the batch asked for unless bags or the step do not go into it. */
  readonly batchLb: number;
  /** From the rounded pounds: this one belongs in the prescription. */
  readonly analysis: Grade;
}

/**
 * A batch to weigh: shares x batch, whole bags first, the rest rounded to the step by largest remainder so that the weight
 * stays. Throws `number-not-usable`, `shares-not-whole`.
 */
export function batchRecipe(input: {
  readonly parts: readonly BatchPart[];
  readonly batchLb: number;
  /** Smallest pounds the scale is read to, 10 to 50. */
  readonly stepLb: number;
}): Batch {
  const { parts } = input;
  const batchLb = requireBlendNumber("batchLb", input.batchLb, true);
  const step = requireBlendNumber("stepLb", input.stepLb, true);
  const total = parts.reduce(
    (sum, { share, product }) => sum + requireBlendNumber(`share of ${product.id}`, share),
    0,
  );
  if (Math.abs(total - 1) > 1e-6) {
    throw new InputError(
      "shares-not-whole",
      `the shares add up to ${total}`,
      "Give shares by weight that add up to 1.",
    );
  }
  const exact = parts.map(({ share }) => (share / total) * batchLb);
  const bagged = parts.map(({ bagLb }, i) =>
    bagLb === undefined ? null : Math.round(exact[i]! / requireBlendNumber("bagLb", bagLb, true)) * bagLb,
  );
  const bags = bagged.reduce((sum: number, lb) => sum + (lb ?? 0), 0);
  const loose = exact.map((lb, i) => (bagged[i] === null ? lb : 0));
  const looseTotal = loose.reduce((sum, lb) => sum + lb, 0);
  const units = Math.max(0, Math.round((batchLb - bags) / step));
  const wanted = loose.map((lb) => (looseTotal === 0 ? 0 : (lb / looseTotal) * units));
  const rounded = largestRemainder(wanted, looseTotal === 0 ? 0 : units);
  const lb = parts.map((_, i) => bagged[i] ?? rounded[i]! * step);
  return {
    parts: parts.map(({ product }, i) => ({ id: product.id, exactLb: exact[i]!, lb: lb[i]! })),
    batchLb: lb.reduce((sum, part) => sum + part, 0),
    analysis: blendAnalysis(parts.map(({ product }, i) => ({ grade: product.grade, lb: lb[i]! }))),
  };
}

/** Whole numbers nearest to `wanted` that add up to `total`; ties go to the part listed first. */
function largestRemainder(wanted: readonly number[], total: number): number[] {
  const whole = wanted.map((value) => Math.floor(value + 1e-9));
  const missing = total - whole.reduce((sum, value) => sum + value, 0);
  const order = wanted.map((value, i) => ({ i, rest: value - whole[i]! })).sort((a, b) => b.rest - a.rest);
  for (const { i } of order.slice(0, Math.max(0, missing))) whole[i] = whole[i]! + 1;
  return whole;
}
