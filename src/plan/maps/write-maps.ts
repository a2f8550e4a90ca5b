import type { Notice } from "../../errors/index.ts";
import { sum } from "../../numeric/index.ts";
import {
  fieldCodes,
  fileStem,
  gatherFromCells,
  meanOver,
  type Prescription,
  ratePrescription,
  stepCarrying,
  writePrescription,
} from "../../prescription/index.ts";
import type { Grade } from "../../products/index.ts";
import type { Oxide } from "../document/document-need-types.ts";
import type { Plan, PlanField } from "../document/document-types.ts";
import { type FieldProducts, oxideIn } from "../document/field-products.ts";
import { type OxideRates, ratesOf } from "../document/oxide-rates.ts";
import type { LaidPasses, Pieces } from "../results/drive-result-types.ts";
import { poundsOnCells, sumOver } from "../results/field-sums.ts";
import type { MeantGaps } from "../results/need-result-types.ts";
import type { Broadcast, FieldGrid, Split } from "../results/result-types.ts";
import { groundOf } from "./map-ground.ts";
import { meterLeastNotices } from "./meter-least.ts";
import { addPounds, addTimes, excessOver, perAcre, unplacedLb } from "./rate-loops.ts";
import { spreadCarriers, spreadRates } from "./spread-carriers.ts";
import { spreaderLeastNotices } from "./spreader-least.ts";
import { capBasisOf } from "./strip-cap.ts";
import { type RatedPieces, stripRates } from "./strip-rates.ts";
import { withinMeters } from "./within-meters.ts";

/** The strip maps with what is to be said of them. */
interface StripMaps {
  readonly maps: readonly Prescription[];
  readonly notices: readonly Notice[];
}

/**
 * The strip maps, one a bin: each segment's rate is the area-weighted mean of the split over it, stepped, or where the plan
 * wants it that of its stretch. Where the cap is the most in any cell, the products' sum on a segment stays at or below
 * it. A rate that a meter cannot lay becomes its least, or nothing where that is nearer; one above the field's maximum the
 * step below it. Segments that are kept off get nothing.
 */
export function stripMaps(
  plan: Plan,
  field: PlanField,
  laid: FieldProducts,
  cells: FieldGrid,
  split: Split,
  passes: LaidPasses,
): StripMaps {
  const isOfCells = capBasisOf(plan.split) === "most-in-a-cell";
  const most = isOfCells && split.capLbPerAc !== null ? split.capLbPerAc : Number.POSITIVE_INFINITY;
  const means = split.products.map((product) => meanOver(passes.overlaps, product.strip));
  const made = stripRates(plan, field, passes, means, most);
  const metered = withinMeters(plan, field, laid, made.maps, most);
  const maps = split.products.map((product, i) =>
    rateMap(plan, field, "strip", product, passes, metered.maps[i]!, sumOver(cells, product.strip)),
  );
  const meanCap = isOfCells ? null : split.capLbPerAc;
  const least = meterLeastNotices(plan, field, laid, passes, made.maps, metered.maps, meanCap);
  return { maps, notices: [...made.notices, ...metered.notices, ...least] };
}

/** What the broadcast maps of a field are made from. */
interface BroadcastSource {
  readonly plan: Plan;
  readonly field: PlanField;
  readonly laid: FieldProducts;
  readonly split: Split;
  readonly cells: FieldGrid;
  readonly wanted: OxideRates & { readonly meant?: Readonly<Record<Oxide, MeantGaps>> };
  readonly passes: Pieces;
  readonly strip: readonly Prescription[];
  readonly swaths: Pieces;
  /** Whether the strip lies on the ground already, and what it lacks there is to come whatever the split meant. */
  readonly isCatchUp: boolean;
}

/** Pounds of one oxide that found no place, or too much of one. */
interface OxideAccount {
  readonly shortageLb: number;
  readonly excessLb: number;
  readonly excludedLb: number;
  readonly bandedLb: number;
  readonly gaps: { readonly short: Float64Array; readonly over: Float64Array };
}

/**
 * The broadcast maps: what each oxide's need leaves after the strip files, on the spreader's cells, stepped with
 * the remainder carried on. Where the strip brings more than was needed the spreader brings nothing and the
 * surplus is named as excess; what is left below half a step of the spreader, or in a field that gets no
 * broadcast, is named as shortage; so is what cells that touch ground the spreader is kept off do not get. No spreader is
 * sent for the strip's rounding either: where the split left nothing, less than a step of the strip's rates; in a field
 * of which it left nothing at all, less than half a step of the spreader over the field.
 */
export function broadcastMaps(source: BroadcastSource): Broadcast {
  const { plan, field, laid, split, cells, wanted, passes, strip, swaths, isCatchUp } = source;
  const rest = { P2O5: restOf("P2O5"), K2O: restOf("K2O") };
  const isOff = (k: number): boolean => swaths.pieces[k]!.keptOff === true;
  const step = plan.spreader.rateStepLbPerAc;
  const isLater = field.broadcast === "later" && (split.optimum?.pass ?? true);
  const carriers = spreadCarriers(laid.spread);
  const spread = carriers.map(() => new Float64Array(swaths.areaAc.length));
  const belowLeastLb = new Float64Array(carriers.length);
  const isMeant = carriers.map(() => false);
  if (isLater) {
    const over = (onPiece: Float64Array, k: number): number => Math.max(0, onPiece[k]!) / swaths.areaAc[k]!;
    const least = plan.spreader.leastLbPerAc ?? 0;
    const placed = new Float64Array(carriers.length);
    for (let k = 0; k < swaths.areaAc.length; k++) {
      if (isOff(k)) continue;
      const rates = spreadRates(carriers, over(rest.P2O5.onPiece, k), over(rest.K2O.onPiece, k));
      const meant = spreadRates(carriers, over(rest.P2O5.meantOnPiece, k), over(rest.K2O.meantOnPiece, k));
      let all = 0;
      for (let p = 0; p < placed.length; p++) {
        const isLeft = isCatchUp || meant[p]! >= step / 2;
        isMeant[p] ||= isLeft;
        const isJob = isLeft || rates[p]! >= plan.rig.rateStepLbPerAc;
        placed[p] = isJob && rates[p]! >= step / 2 ? rates[p]! : 0;
        all += placed[p]!;
      }
      for (let p = 0; p < placed.length; p++) {
        const lb = placed[p]! * swaths.areaAc[k]!;
        if (all < least) belowLeastLb[p] = belowLeastLb[p]! + lb;
        else spread[p]![k] = lb;
      }
    }
    const worthLb = (step / 2) * sum(swaths.areaAc);
    for (const [p, lb] of spread.entries()) if (!isMeant[p] && sum(lb) < worthLb) lb.fill(0);
  }
  // A product of which nothing is spread has no map.
  const prescriptions = carriers.flatMap((product, p) => {
    if (!spread[p]!.some((lb) => lb > 0)) return [];
    const bin = laid.bins.find((one) => one.product.id === product.id)?.bin.id ?? spreaderBin(laid, p);
    const of = { product: product.id, bin, analysis: product.grade };
    const rates = stepCarrying(spread[p]!, swaths.areaAc, step);
    return [rateMap(plan, field, "broadcast", of, swaths, { rateLbPerAc: rates }, sum(spread[p]!))];
  });
  const accounts = { P2O5: accountOf("P2O5"), K2O: accountOf("K2O") };
  const each = <Part extends keyof OxideAccount>(part: Part): Record<Oxide, OxideAccount[Part]> => ({
    P2O5: accounts.P2O5[part],
    K2O: accounts.K2O[part],
  });
  return {
    prescriptions,
    shortageLb: each("shortageLb"),
    excessLb: each("excessLb"),
    excludedLb: each("excludedLb"),
    bandedLb: each("bandedLb"),
    gaps: each("gaps"),
    notices: spreaderLeastNotices(
      plan,
      field,
      carriers.flatMap((product, p) =>
        isMeant[p] ? [{ product, belowLb: belowLeastLb[p]!, spreadLb: sum(spread[p]!) }] : [],
      ),
    ),
  };

  function restOf(oxide: Oxide) {
    const needLbPerAc = ratesOf(wanted, oxide);
    const placed = new Float64Array(cells.areaM2.length);
    const meant = new Float64Array(cells.areaM2.length);
    for (const [b, map] of strip.entries()) {
      const share = oxideIn(map.analysis, oxide);
      if (share === 0) continue;
      addTimes(placed, poundsOnCells(map, passes, cells), share);
      addPounds(meant, split.products[b]!.strip, cells.areaM2, share);
    }
    const counts = oxide === "P2O5" ? split.p2o5Counts : null;
    const bandedLb = counts === null ? 0 : sum(placed.map((lb, i) => (lb > 0 ? lb * (counts[i]! - 1) : 0)));
    const restLb = unplacedLb(cells.areaM2, needLbPerAc, placed, counts);
    const meantLb = unplacedLb(cells.areaM2, needLbPerAc, meant, counts);
    return {
      ...gatherFromCells(swaths.overlaps, restLb),
      meantOnPiece: gatherFromCells(swaths.overlaps, meantLb).onPiece,
      bandedLb,
      needLb: sumOver(cells, needLbPerAc),
    };
  }

  function accountOf(oxide: Oxide): OxideAccount {
    const { onPiece, left, bandedLb, needLb } = rest[oxide];
    const brought = new Float64Array(onPiece.length);
    for (const [p, product] of carriers.entries())
      addTimes(brought, spread[p]!, oxideIn(product.grade, oxide));
    // What lies on no piece counts too.
    const [shortOn, overOn] = [excessOver(onPiece, brought, left), excessOver(brought, onPiece, -left)];
    const [short, over] = [sum(shortOn), sum(overOn)];
    const meant = wanted.meant?.[oxide];
    const stripLb = sum(strip.map((map) => map.totalLb * oxideIn(map.analysis, oxide)));
    assertCloses(field, oxide, needLb, stripLb + bandedLb, sum(brought), short, over);
    return {
      shortageLb: short + bandedLb,
      excessLb: over,
      excludedLb: sum(onPiece.map((lb, k) => (lb > 0 && isOff(k) ? lb : 0))),
      bandedLb,
      gaps: { short: gapOf(shortOn, meant?.shortLb), over: gapOf(overOn, meant?.overLb) },
    };
  }

  /** lb/ac of what is left on the pieces, and of what limits, budget, exclusions and credits leave besides. */
  function gapOf(onPiece: Float64Array, besides: Float64Array | null | undefined): Float64Array {
    const gap = perAcre(onPiece, swaths.areaAc);
    if (besides) addTimes(gap, perAcre(gatherFromCells(swaths.overlaps, besides).onPiece, swaths.areaAc), 1);
    return gap;
  }
}

/** A name in place of a bin's for what the spreader alone holds: `S1`, or `X1` where a bin is called so. */
function spreaderBin({ bins }: FieldProducts, place: number): string {
  const isTaken = (id: string): boolean => bins.some(({ bin }) => bin.id.toUpperCase() === id);
  return isTaken(`S${place + 1}`) ? `X${place + 1}` : `S${place + 1}`;
}

function assertCloses(
  field: PlanField,
  nutrient: string,
  need: number,
  strip: number,
  broadcast: number,
  short: number,
  over: number,
): void {
  const gap = strip + broadcast + short - over - need;
  if (!(Math.abs(gap) <= 1e-9 * Math.max(need, strip, 1))) {
    throw new Error(`field ${field.id}: the balance of ${nutrient} is off by ${gap} lb`);
  }
}

function rateMap(
  plan: Plan,
  field: PlanField,
  pass: "strip" | "broadcast",
  of: { readonly product: string; readonly bin: string; readonly analysis: Grade },
  ground: Pieces,
  rates: RatedPieces,
  needLb: number,
): Prescription {
  const code = fieldCodes(plan.fields.map((one) => one.id)).get(field.id)!;
  const stem = fileStem(code, pass, of.bin, of.product);
  const { product, bin, analysis } = of;
  return ratePrescription({
    field: field.id,
    pass,
    bin,
    product,
    analysis,
    stem,
    areaAc: ground.areaAc,
    ...rates,
    needLb,
  });
}

/** A map with its files, on the ground its rates lie on. */
export const writeMap = (plan: Plan, map: Prescription, ground: Pieces): Prescription =>
  writePrescription(map, groundOf(plan, map, ground), plan.date);
