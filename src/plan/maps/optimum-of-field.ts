import type { TimeLines } from "../../capacity/index.ts";
import type { Notice } from "../../errors/index.ts";
import { sum } from "../../numeric/index.ts";
import type { Product } from "../../products/index.ts";
import {
  cellClasses,
  type Highs,
  type NutrientAmounts,
  type OptimumClass,
  type OptimumInput,
  type OptimumProduct,
  splitOptimum,
} from "../../split/index.ts";
import { LB_PER_TON } from "../../units/index.ts";
import type { Plan, PlanField } from "../document/document-types.ts";
import { type FieldProducts, oxideIn, type SettledBlend } from "../document/field-products.ts";
import type { OxideRates } from "../document/oxide-rates.ts";
import { priceOf } from "../document/price-of-product.ts";
import type { FieldGrid } from "../results/result-types.ts";
import type { FieldOptimum } from "../results/split-result-types.ts";
import { missingRigKeys, rigFigures } from "../rig/rig-figures.ts";
import { fullLoadLines } from "../rig/rig-load.ts";
import { meterLimits, type SaltCaps, saltIn } from "../rig/strip-limits.ts";

interface OptimumSource {
  readonly plan: Plan;
  readonly field: PlanField;
  readonly laid: FieldProducts;
  readonly cells: FieldGrid;
  readonly wanted: OxideRates;
  /** By bin in the order of the plan's bins; the hoppers run empty in that proportion. */
  readonly meanFullLbPerAc: readonly number[];
  readonly capLbPerAc: number;
  /** Mean of what bins at a flat rate lay, lb product/ac: the cap and the hours count it. */
  readonly flatLbPerAc: number;
  readonly salt: SaltCaps | null;
  /** lb P2O5 of the need that a lb in the strip stands for, below the critical level. */
  readonly p2o5Counts: Float64Array | null;
  /** Below critical, P and K. */
  readonly below: { readonly P2O5: (cell: number) => boolean; readonly K2O: (cell: number) => boolean };
}

/** Classes a field at most. */
const MOST_CLASSES = 100;

/** $/lb oxide that settle ties: what lies below critical stays before what does not, P before K. */
const TIE_USD = 1e-5;

/** $/lb of product without a price: low, so that priced products are not crowded out, and told. */
const NO_PRICE_USD = 0.01;

/** The cheapest split of one field, lb product/ac in the strip by bin and cell. */
export function optimumOfField(
  highs: Highs,
  source: OptimumSource,
): { readonly strip: Float64Array[]; readonly optimum: FieldOptimum; readonly notices: readonly Notice[] } {
  const { plan, field, cells, wanted, salt, p2o5Counts, below } = source;
  const kind = wanted.p2o5LbPerAc.map(
    (_, i) =>
      (salt?.isSandy(i) ? 1 : 0) +
      (below.P2O5(i) ? 2 : 0) +
      (below.K2O(i) ? 4 : 0) +
      ((p2o5Counts?.[i] ?? 1) === 1 ? 0 : 8),
  );
  const stepped = cellClasses({
    ...wanted,
    areaM2: cells.areaM2,
    kind: Uint8Array.from(kind),
    mostClasses: MOST_CLASSES,
  });
  const counts = p2o5Counts === null ? 1 : p2o5Counts.reduce((most, one) => Math.max(most, one), 1);
  const flat = flatBrings(source);
  const input = inputOf(
    source,
    stepped.classes.map((one, c) => optimumClass(source, one, c, counts, flat)),
  );
  const solved = splitOptimum(highs, input);
  const onCells = toCells(source, stepped.classOf, stepped.classes, solved.classes);
  const summary = solved.fields[0]!;
  const starterShort = (n: "p2o5" | "k2o"): number =>
    sum(solved.classes.map((one) => (one.floorShortLbPerAc[n] ?? 0) * one.areaAc));
  const unpriced = productsOf(source)
    .filter(({ product }) => priceOf(plan, product.id, blendsOf(source)) === undefined)
    .map(({ product }) => product.id);
  return {
    strip: onCells,
    optimum: {
      pass: field.broadcast === "later" && summary.pass,
      usdWithoutPass: summary.costWithoutPass,
      usdWithPass: summary.costWithPass,
      productUsd: solved.productCost,
      objectiveUsd: solved.objective,
      hours: solved.hours,
      worth: solved.worth,
      classes: stepped.classes.length,
      stepLbPerAc: stepped.stepLbPerAc,
      movedLb: stepped.movedLb,
      starterShortLb: { P2O5: starterShort("p2o5"), K2O: starterShort("k2o") },
      solves: solved.solves,
    },
    notices: [
      ...solved.notices
        .filter(({ code }) => code !== "need-short")
        .map((notice) => ({ ...notice, where: field.id })),
      ...((plan.split.optimum?.usdPerRigHour ?? 0) > 0 && missingRigKeys(plan).length > 0
        ? [
            {
              code: "hours-not-counted",
              message: `an hour of the rig has a price and the plan does not tell ${missingRigKeys(plan).join(", ")}: hours do not count`,
              where: "rig",
            },
          ]
        : []),
      ...(unpriced.length === 0
        ? []
        : [
            {
              code: "optimum-without-price",
              message: `${[...new Set(unpriced)].join(", ")} without a price: counted at 1 cent a lb`,
              where: "pricesUsdPerTon",
            },
          ]),
    ],
  };
}

interface Placed {
  readonly product: Product;
  readonly where: "strip" | "broadcast";
  readonly bin: number;
}

/** Bins with what only the strip lays, then what the spreader spreads. */
const productsOf = ({ laid }: OptimumSource): Placed[] => [
  ...laid.bins.flatMap(({ product, bin }, b): Placed[] =>
    bin.flatLbPerAc === undefined ? [{ product, where: "strip", bin: b }] : [],
  ),
  ...laid.spread
    .filter(({ grade }) => grade.p2o5 > 0 || grade.k2o > 0)
    .map((product): Placed => ({ product, where: "broadcast", bin: -1 })),
];

/** The blends in a field's bins. */
const blendsOf = ({ laid }: OptimumSource): SettledBlend[] =>
  laid.bins.flatMap(({ blend }) => (blend === null ? [] : [blend]));

function inputOf(source: OptimumSource, classes: readonly OptimumClass[]): OptimumInput {
  const { plan, field, laid, capLbPerAc, flatLbPerAc } = source;
  const optimum = plan.split.optimum ?? {};
  const lines = linesOf(source);
  const capHolds = optimum.capHolds !== false && Number.isFinite(capLbPerAc);
  return {
    products: productsOf(source).map(({ product, where, bin }): OptimumProduct => {
      const { mostLbPerAc } =
        bin < 0 ? { mostLbPerAc: Number.POSITIVE_INFINITY } : meterLimits(plan, laid.bins[bin]!.bin);
      const usd = priceOf(plan, product.id, blendsOf(source));
      return {
        id: `${where} ${product.id}`,
        where,
        grade: product.grade,
        pricePerLb: usd === undefined ? NO_PRICE_USD : usd / LB_PER_TON,
        ...(Number.isFinite(mostLbPerAc) ? { stripMostLbPerAc: mostLbPerAc } : {}),
      };
    }),
    classes,
    broadcastAllowed: field.broadcast === "later",
    ...(capHolds ? { meanStripLbPerAcMost: Math.max(0, capLbPerAc - flatLbPerAc) } : {}),
    ...(lines === null ? {} : { lines, hourValue: optimum.usdPerRigHour ?? 0 }),
    ...(optimum.usdPerAcPass === undefined ? {} : { passFeePerAc: optimum.usdPerAcPass }),
    ...(plan.spreader.leastLbPerAc === undefined ? {} : { spreaderLeastLbPerAc: plan.spreader.leastLbPerAc }),
  };
}

/** Hours against the rate on top of the flat ones, where the plan tells the rig. */
function linesOf({ plan, laid, meanFullLbPerAc, flatLbPerAc }: OptimumSource): TimeLines | null {
  if (missingRigKeys(plan).length > 0) return null;
  const lines = fullLoadLines(rigFigures(plan, laid), meanFullLbPerAc);
  if (lines === null) return null;
  const onTop = ({ hoursPerAc, hoursPerLb }: TimeLines["rig"]): TimeLines["rig"] => ({
    hoursPerAc: hoursPerAc + hoursPerLb * flatLbPerAc,
    hoursPerLb,
  });
  return { ...lines, rig: onTop(lines.rig), tender: lines.tender && onTop(lines.tender) };
}

/** N, S and salt that bins at a flat rate bring, lb/ac. */
function flatBrings({ plan, laid }: OptimumSource): {
  readonly n: number;
  readonly s: number;
  readonly salt: number;
} {
  const flat = laid.bins.flatMap(({ bin, product }) =>
    bin.flatLbPerAc === undefined
      ? []
      : [{ product, lbPerAc: Math.min(bin.flatLbPerAc, meterLimits(plan, bin).mostLbPerAc) }],
  );
  return {
    n: sum(flat.map(({ product, lbPerAc }) => (lbPerAc * product.grade.n) / 100)),
    s: sum(flat.map(({ product, lbPerAc }) => (lbPerAc * product.grade.s) / 100)),
    salt: sum(flat.map(({ product, lbPerAc }) => lbPerAc * saltIn(product))),
  };
}

function optimumClass(
  { plan, field, salt }: OptimumSource,
  one: {
    readonly areaAc: number;
    readonly p2o5LbPerAc: number;
    readonly k2oLbPerAc: number;
    readonly kind: number;
  },
  c: number,
  counts: number,
  flat: ReturnType<typeof flatBrings>,
): OptimumClass {
  const { starterLbPerAc = {}, optimum = {} } = plan.split;
  const sandy = (one.kind & 1) === 1;
  const left = (limit: number, lb: number): number => Math.max(0, limit - lb);
  const most: NutrientAmounts = {
    ...(optimum.mostLbPerAc?.N === undefined ? {} : { n: left(optimum.mostLbPerAc.N, flat.n) }),
    ...(optimum.mostLbPerAc?.S === undefined ? {} : { s: left(optimum.mostLbPerAc.S, flat.s) }),
  };
  const value = {
    p2o5: (optimum.usdPerLbPlaced?.P2O5 ?? 0) + TIE_USD * ((one.kind & 2) > 0 ? 4 : 2),
    k2o: (optimum.usdPerLbPlaced?.K2O ?? 0) + TIE_USD * ((one.kind & 4) > 0 ? 3 : 1),
  };
  return {
    id: String(c),
    fieldId: field.id,
    areaAc: one.areaAc,
    needLbPerAc: { p2o5: one.p2o5LbPerAc, k2o: one.k2oLbPerAc },
    floorLbPerAc: {
      p2o5: Math.min(one.p2o5LbPerAc, starterLbPerAc.P2O5 ?? 0),
      k2o: Math.min(one.k2oLbPerAc, starterLbPerAc.K2O ?? 0),
    },
    mostLbPerAc: most,
    ...(salt === null
      ? {}
      : { saltCapLbPerAc: left(sandy ? salt.sandyLbPerAc : salt.otherLbPerAc, flat.salt) }),
    ...((one.kind & 8) > 0 ? { stripCounts: { p2o5: counts } } : {}),
    valuePerLb: value,
  };
}

/** Class rates on their cells, by each cell's part of the class's need, so that a class's pounds stay. */
function toCells(
  source: OptimumSource,
  classOf: Int32Array,
  classes: readonly { readonly p2o5LbPerAc: number; readonly k2oLbPerAc: number }[],
  rates: readonly { readonly stripLbPerAc: readonly number[] }[],
): Float64Array[] {
  const { laid, wanted } = source;
  const placed = productsOf(source);
  return laid.bins.map(({ product, bin, brings }, b) => {
    const column = placed.findIndex((one) => one.bin === b);
    const leads =
      brings === "K2O" ||
      (brings === "both" && oxideIn(product.grade, "P2O5") < oxideIn(product.grade, "K2O"))
        ? "K2O"
        : "P2O5";
    const need = leads === "K2O" ? wanted.k2oLbPerAc : wanted.p2o5LbPerAc;
    return Float64Array.from(classOf, (c, i) => {
      if (c < 0) return Number.NaN;
      if (bin.flatLbPerAc !== undefined) return bin.flatLbPerAc;
      const rate = rates[c]!.stripLbPerAc[column]!;
      const mean = leads === "K2O" ? classes[c]!.k2oLbPerAc : classes[c]!.p2o5LbPerAc;
      return mean > 0 ? (rate * need[i]!) / mean : rate;
    });
  });
}
