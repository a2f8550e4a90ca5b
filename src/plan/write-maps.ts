import type { Notice } from "../errors/index.ts";
import { sum } from "../numeric/index.ts";
import {
  fieldCodes,
  fileStem,
  gatherFromCells,
  meanOver,
  type Prescription,
  ratePrescription,
  spreadToCells,
  stepCarrying,
  writePrescription,
} from "../prescription/index.ts";
import { acres } from "../units/index.ts";
import type { Plan, PlanField } from "./document-types.ts";
import type { LaidPasses } from "./drive-result-types.ts";
import { groundOf } from "./map-ground.ts";
import { sumNeed } from "./need-sums.ts";
import { oxideShare } from "./oxide-share.ts";
import type { Broadcast, FieldGrid, NeedMap, Pieces, Split } from "./result-types.ts";
import { bringsOxide } from "./split-field.ts";
import { type RatedPieces, stripRates } from "./strip-rates.ts";

/** The strip maps with what is to be said of them. */
export interface StripMaps {
  readonly maps: readonly Prescription[];
  readonly notices: readonly Notice[];
}

/**
 * The strip maps, one a bin: each segment's rate is the area-weighted mean of the split over it, stepped, or where the plan
 * wants it that of its stretch. Where the cap is the most in any cell, the products' sum on a segment stays at or below
 * it. Segments that are kept off get nothing.
 */
export function stripMaps(
  plan: Plan,
  field: PlanField,
  cells: FieldGrid,
  split: Split,
  passes: LaidPasses,
): StripMaps {
  const most = plan.split.capBasis === "most-in-a-cell" ? plan.split.capLbPerAc : Number.POSITIVE_INFINITY;
  const means = split.products.map((product) => meanOver(passes.overlaps, product.strip));
  const made = stripRates(plan, field, passes, means, most);
  const maps = split.products.map((product, i) =>
    rateMap(plan, field, "strip", product, passes, made.maps[i]!, sumNeed(cells, product.strip)),
  );
  return { maps, notices: made.notices };
}

/**
 * The broadcast maps: what each oxide's need leaves after the strip files, on the spreader's cells, stepped with
 * the remainder carried on. Where the strip brings more than was needed the spreader brings nothing and the
 * surplus is named as excess; what is left below half a step of the spreader, or in a field that gets no
 * broadcast, is named as shortage; so is what cells that touch ground the spreader is kept off do not get.
 */
export function broadcastMaps(
  plan: Plan,
  field: PlanField,
  cells: FieldGrid,
  wanted: Pick<NeedMap, "p2o5LbPerAc" | "k2oLbPerAc">,
  passes: Pieces,
  strip: readonly Prescription[],
  swaths: Pieces,
): Broadcast {
  const isOff = (k: number) => swaths.pieces[k]!.keptOff === true;
  const shortageLb = { P2O5: 0, K2O: 0 };
  const excessLb = { P2O5: 0, K2O: 0 };
  const excludedLb = { P2O5: 0, K2O: 0 };
  const prescriptions: Prescription[] = [];
  for (const nutrient of ["P2O5", "K2O"] as const) {
    const needLbPerAc = nutrient === "P2O5" ? wanted.p2o5LbPerAc : wanted.k2oLbPerAc;
    const map = strip.find((one) => bringsOxide(one.product) === nutrient);
    if (!map) {
      shortageLb[nutrient] = sumNeed(cells, needLbPerAc);
      continue;
    }
    const share = oxideShare(map.product, nutrient);
    const placed = placedOn(cells, passes, map);
    const restLb = cells.areaM2.map((areaM2, i) =>
      areaM2 > 0 ? (needLbPerAc[i]! / share) * acres(areaM2) - placed[i]! : 0,
    );
    const { onPiece, left } = gatherFromCells(swaths.overlaps, restLb);
    const step = plan.spreader.rateStepLbPerAc;
    const isSpread = (lb: number, k: number) =>
      field.broadcast === "later" && !isOff(k) && lb / swaths.areaAc[k]! >= step / 2;
    const spread = onPiece.map((lb, k) => (isSpread(lb, k) ? lb : 0));
    const short = sum([...onPiece.map((lb, k) => (lb > 0 && !isSpread(lb, k) ? lb : 0)), Math.max(0, left)]);
    const over = sum([...onPiece.map((lb) => Math.max(0, -lb)), Math.max(0, -left)]);
    assertCloses(field, nutrient, sumNeed(cells, needLbPerAc) / share, map.totalLb, sum(spread), short, over);
    shortageLb[nutrient] = short * share;
    excessLb[nutrient] = over * share;
    excludedLb[nutrient] = sum(onPiece.map((lb, k) => (lb > 0 && isOff(k) ? lb : 0))) * share;
    if (field.broadcast === "none") continue;
    const rates = stepCarrying(spread, swaths.areaAc, step);
    prescriptions.push(rateMap(plan, field, "broadcast", map, swaths, { rateLbPerAc: rates }, sum(spread)));
  }
  return { prescriptions, shortageLb, excessLb, excludedLb };
}

/** lb of product that the strip file puts on each cell. */
function placedOn(cells: FieldGrid, passes: Pieces, map: Prescription): Float64Array {
  const lb = map.rateLbPerAc.map((rate, k) => rate * passes.areaAc[k]!);
  return spreadToCells(passes.overlaps, lb, cells.areaM2.length);
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
  if (Math.abs(gap) > 1e-9 * Math.max(need, strip, 1)) {
    throw new Error(`field ${field.id}: the balance of ${nutrient} is off by ${gap} lb of product`);
  }
}

function rateMap(
  plan: Plan,
  field: PlanField,
  pass: "strip" | "broadcast",
  of: { readonly product: string; readonly bin: string },
  ground: Pieces,
  rates: RatedPieces,
  needLb: number,
): Prescription {
  const code = fieldCodes(plan.fields.map((one) => one.id)).get(field.id)!;
  const stem = fileStem(code, pass, of.bin, of.product);
  const { product, bin } = of;
  return ratePrescription({
    field: field.id,
    pass,
    bin,
    product,
    stem,
    areaAc: ground.areaAc,
    ...rates,
    needLb,
  });
}

/** A map with its files, on the ground its rates lie on. */
export const writeMap = (plan: Plan, map: Prescription, ground: Pieces): Prescription =>
  writePrescription(map, groundOf(plan, map, ground), plan.date);
