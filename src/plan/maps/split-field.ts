import type { Notice } from "../../errors/index.ts";
import { sum } from "../../numeric/index.ts";
import { type Highs, splitByCeiling, splitByPriority, splitByShare } from "../../split/index.ts";
import { acres, numberText } from "../../units/index.ts";
import { bandFactor, checkBandGuides } from "../document/band-factor.ts";
import type { Oxide } from "../document/document-need-types.ts";
import type { SplitMethod } from "../document/document-split-types.ts";
import type { Plan, PlanField } from "../document/document-types.ts";
import { type FieldProducts, oxideIn } from "../document/field-products.ts";
import type { OxideRates } from "../document/oxide-rates.ts";
import { splitLayers } from "../document/split-layers.ts";
import { fullRates, oxidePrices } from "../need/full-rates.ts";
import { sumOver } from "../results/field-sums.ts";
import type { FieldGrid, NeedMap } from "../results/result-types.ts";
import type { FieldOptimum, ProductRates, Split, SplitLayerLb } from "../results/split-result-types.ts";
import { saltCaps, stripRoom } from "../rig/strip-limits.ts";
import { optimumOfField } from "./optimum-of-field.ts";
import { type StripCap, stripCap } from "./strip-cap.ts";

interface SplitSource {
  readonly plan: Plan;
  readonly field: PlanField;
  readonly laid: FieldProducts;
  readonly cells: FieldGrid;
  readonly wanted: OxideRates;
  readonly need: NeedMap;
  /** Share of each cell that the strip is kept off. */
  readonly stripExcluded: Float64Array;
  readonly cecMeq: Float64Array | undefined;
  /** lb oxide/ac that this crop takes; asked for priorities only. */
  readonly removal: (nutrient: Oxide) => number | Float64Array | undefined;
  /** Loaded for the optimum only. */
  readonly highs: Highs | null;
}

/** What of each product goes in the strip and what waits for the spreader, cell by cell, by the plan's method. */
export function splitField(source: SplitSource): Split {
  const { plan, laid, cells, wanted, need } = source;
  checkBandGuides(plan);
  const p2o5Counts = countsOf(plan, need);
  const prices = oxidePrices(plan, [...laid.spread, ...laid.bins.map((one) => one.product)]);
  const full = fullRates(laid, wanted, prices, (cell) => 1 / (p2o5Counts?.[cell] ?? 1));
  const caps = saltCaps(plan, source.field, source.cecMeq);
  const limits = stripRoom(plan, laid, full, source.stripExcluded, caps);
  const mean = (rates: Float64Array): number => meanOf(cells, rates);
  const meanFull = plan.rig.bins.map((bin) =>
    mean(full[laid.bins.findIndex((one) => one.bin.id === bin.id)]!),
  );
  const cap = stripCap(plan, laid, meanFull);
  // A cap on the mean is that of the ground the strip may go over; the ways to split take the whole field's mean.
  const open = cap.basis === "field-mean" ? mean(source.stripExcluded.map((share) => 1 - share)) : 1;
  const held = { ...cap, lbPerAc: cap.lbPerAc * open };
  const way = byMethod(source, full, meanFull, limits.room, held, p2o5Counts, caps);
  const products = laid.bins.map(({ bin, product }, i): ProductRates => {
    const strip = way.strip[i]!;
    const counts = product.grade.p2o5 > 0 ? p2o5Counts : null;
    const rest = new Float64Array(strip.length);
    for (let cell = 0; cell < rest.length; cell++)
      rest[cell] = (full[i]![cell]! - strip[cell]!) * (counts?.[cell] ?? 1);
    return {
      product: product.id,
      bin: bin.id,
      analysis: product.grade,
      full: full[i]!,
      strip,
      rest,
    };
  });
  return {
    method: methodOf(source),
    capLbPerAc: way.optimum && plan.split.optimum?.capHolds === false ? null : cap.lbPerAc,
    ceilingLbPerAc: way.ceiling !== null && Number.isFinite(way.ceiling) ? way.ceiling : null,
    share: way.share,
    products,
    p2o5Counts,
    layers: way.layers,
    optimum: way.optimum,
    limitedLbPerAc: {
      salt: mean(limits.bySalt),
      meter: mean(limits.byMeter),
      kept: mean(limits.byGround),
    },
    notices: [
      ...withoutProduct(laid),
      ...otherMethod(source),
      ...cap.notices,
      ...way.notices,
      ...limitNotices(source.field, mean(limits.bySalt), mean(limits.byMeter)),
      ...flatLeftOut(source, full, way.strip),
    ],
  };
}

/** What of the plan the split of any field reads. */
export const splitSlice = (plan: Plan): unknown => [
  [plan.split, plan.rig, plan.tender, plan.seed, plan.products, plan.blends],
  [plan.spreader.products, plan.spreader.leastLbPerAc, plan.pricesUsdPerTon, plan.guides, plan.ownGuides],
];

interface Way {
  readonly strip: readonly Float64Array[];
  readonly ceiling: number | null;
  readonly share: number | null;
  readonly layers: readonly SplitLayerLb[];
  readonly optimum: FieldOptimum | null;
  readonly notices: readonly Notice[];
}

function byMethod(
  source: SplitSource,
  full: readonly Float64Array[],
  meanFullLbPerAc: readonly number[],
  room: readonly Float64Array[],
  cap: StripCap,
  p2o5Counts: Float64Array | null,
  salt: ReturnType<typeof saltCaps>,
): Way {
  const { plan, laid, cells, need } = source;
  const none = { ceiling: null, share: null, layers: [], optimum: null, notices: [] };
  const order = plan.split.within === "alike" ? "alike" : "first-product-first";
  const { areaM2 } = cells;
  switch (methodOf(source)) {
    case "share": {
      const { share, stripLbPerAc, floorsAboveCap } = splitByShare({
        fullLbPerAc: room,
        floorLbPerAc: starters(source, room),
        areaM2,
        meanCapLbPerAc: cap.lbPerAc,
        order,
      });
      return { ...none, strip: stripLbPerAc, share, notices: floorsAboveCap ? [starterAbove(cap)] : [] };
    }
    case "priority": {
      const removal = { P2O5: source.removal("P2O5"), K2O: source.removal("K2O") };
      const isBelow = { P2O5: need.P2O5.isBelow, K2O: need.K2O.isBelow };
      const layers = splitLayers({
        split: plan.split,
        laid,
        wanted: source.wanted,
        isBelow,
        removal,
        full,
        room,
      });
      const flat = laid.bins.flatMap(({ bin }, product) =>
        bin.flatLbPerAc === undefined ? [] : [{ name: "flat", product, lbPerAc: room[product]! }],
      );
      const { stripLbPerAc, keptLbPerAc } = splitByPriority({
        layers: [...flat, ...layers],
        products: laid.bins.length,
        areaM2,
        capLbPerAc: cap.lbPerAc,
        basis: cap.basis,
        across: plan.split.across ?? "field",
      });
      const kept = layers.map((layer, l): SplitLayerLb => {
        const { product, nutrient, name } = layer;
        const share = oxideIn(laid.bins[product]!.product.grade, nutrient);
        const lb = (rates: Float64Array): number => share * sumOver(cells, rates);
        return { name, nutrient, needLb: lb(layer.lbPerAc), stripLb: lb(keptLbPerAc[flat.length + l]!) };
      });
      return { ...none, strip: stripLbPerAc, layers: kept };
    }
    case "optimum": {
      const found = optimumOfField(source.highs!, {
        ...source,
        meanFullLbPerAc,
        capLbPerAc: cap.lbPerAc,
        flatLbPerAc: sum(
          laid.bins.map(({ bin }, b) => (bin.flatLbPerAc === undefined ? 0 : meanOf(cells, room[b]!))),
        ),
        salt,
        p2o5Counts,
        below: { P2O5: (i) => need.P2O5.isBelow[i] === 1, K2O: (i) => need.K2O.isBelow[i] === 1 },
      });
      const strip = found.strip.map((rates, b) => rates.map((rate, i) => Math.min(rate, room[b]![i]!)));
      return { ...none, strip, optimum: found.optimum, notices: found.notices };
    }
    default: {
      const hasStarter =
        plan.split.starterLbPerAc !== undefined || laid.bins.some(({ bin }) => bin.flatLbPerAc);
      const { stripLbPerAc, ceilingLbPerAc } = splitByCeiling({
        fullLbPerAc: room,
        areaM2,
        capLbPerAc: cap.lbPerAc,
        basis: cap.basis,
        order,
        ...(hasStarter ? { floorLbPerAc: starters(source, room) } : {}),
      });
      return { ...none, strip: stripLbPerAc, ceiling: ceilingLbPerAc };
    }
  }
}

/** A product of one ratio cannot keep P before K: priorities are a common ceiling then. */
function methodOf({ plan, laid }: SplitSource): SplitMethod {
  const method = plan.split.method ?? "ceiling";
  return method === "priority" && laid.bins.some(({ brings }) => brings === "both") ? "ceiling" : method;
}

function otherMethod(source: SplitSource): Notice[] {
  if (methodOf(source) === (source.plan.split.method ?? "ceiling")) return [];
  const both = source.laid.bins.find(({ brings }) => brings === "both")!;
  return [
    {
      code: "priority-as-ceiling",
      message: `bin ${both.bin.id} holds ${both.product.id}, which brings P2O5 and K2O at one ratio: its parts cannot leave the strip one by one, so a common ceiling is used; for priorities give P2O5 and K2O bins of their own`,
      where: "split.method",
    },
  ];
}

/** lb product/ac that stay in the strip before anything else: flat rates, and the starter within the need. */
function starters({ plan, laid }: SplitSource, room: readonly Float64Array[]): Float64Array[] {
  return laid.bins.map(({ bin, product, brings }, b) => {
    if (bin.flatLbPerAc !== undefined) return Float64Array.from(room[b]!);
    const wanted = plan.split.starterLbPerAc ?? {};
    const by = (oxide: Oxide): number =>
      brings === oxide || brings === "both" ? (wanted[oxide] ?? 0) / oxideIn(product.grade, oxide) : 0;
    const least = Math.max(by("P2O5"), by("K2O"));
    return room[b]!.map((rate) => (Number.isNaN(rate) ? rate : Math.min(rate, least)));
  });
}

/** lb of need that a lb of P2O5 in the strip stands for: more than one below critical, where the plan says so. */
function countsOf({ split }: Plan, need: NeedMap): Float64Array | null {
  const factor = bandFactor(split, need.P2O5.rule?.guide.id ?? null);
  if (factor === 1) return null;
  return Float64Array.from(need.P2O5.isBelow, (isBelow) => (isBelow === 1 ? 1 / factor : 1));
}

function meanOf(cells: FieldGrid, rates: Float64Array): number {
  let area = 0;
  for (const areaM2 of cells.areaM2) area += areaM2;
  return area > 0 ? sumOver(cells, rates) / acres(area) : 0;
}

const starterAbove = (cap: StripCap): Notice => ({
  code: "starter-above-cap",
  message: `the starter alone is more than the ${cap.lbPerAc.toFixed(0)} lb/ac the strip may take: the strip gets the starter and no more`,
  where: "split.starterLbPerAc",
});

function limitNotices(field: PlanField, salt: number, meter: number): Notice[] {
  const say = (code: string, lb: number, what: string): Notice[] =>
    lb > 0.05
      ? [
          {
            code,
            message: `${field.name}: ${what} ${lb.toFixed(1)} lb/ac off the full rates in the mean, before the cap`,
            where: field.id,
          },
        ]
      : [];
  return [
    ...say("salt-cuts-strip", salt, "the limit near the seed takes"),
    ...say("meter-cuts-strip", meter, "what the meters can lay at the plan's speed takes"),
  ];
}

/** Flat products that the strip has too little room for: they follow no need, so no spreader brings the rest. */
function flatLeftOut(
  { field, laid, cells, stripExcluded }: SplitSource,
  full: readonly Float64Array[],
  strip: readonly Float64Array[],
): Notice[] {
  return laid.bins.flatMap(({ bin, product }, b): Notice[] => {
    if (bin.flatLbPerAc === undefined) return [];
    const open = full[b]!.map((rate, cell) => rate * (1 - stripExcluded[cell]!));
    const wantedLb = sumOver(cells, open);
    const leftLb = wantedLb - sumOver(cells, strip[b]!);
    if (!(leftLb >= 0.5)) return [];
    const lays = numberText(bin.flatLbPerAc * (1 - leftLb / wantedLb), 1);
    const message = `${field.name}: of the ${numberText(wantedLb, 0)} lb ${product.id} that bin ${bin.id} is to lay at ${bin.flatLbPerAc} lb/ac, ${numberText(leftLb, 0)} lb find no room in the strip, and nothing else brings them: it lays ${lays} lb/ac in the mean, before steps`;
    return [{ code: "flat-rate-cut", message, where: field.id }];
  });
}

function withoutProduct({ bins, spread }: FieldProducts): Notice[] {
  const brought = [...bins.map((one) => one.product), ...spread];
  const missing = (["P2O5", "K2O"] as const).filter((oxide) =>
    brought.every((product) => oxideIn(product.grade, oxide) === 0),
  );
  return missing.map((oxide) => ({
    code: "oxide-without-product",
    message: `No bin holds a product that brings ${oxide}: all of its need is short.`,
    where: "rig.bins",
  }));
}
