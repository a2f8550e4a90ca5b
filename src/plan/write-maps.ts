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
  stepSegment,
  writePrescription,
} from "../prescription/index.ts";
import { acres } from "../units/index.ts";
import type { Plan, PlanField } from "./document-types.ts";
import { sumNeed } from "./need-sums.ts";
import { oxideShare } from "./oxide-share.ts";
import type { Broadcast, FieldGrid, NeedMap, Pieces, Split } from "./result-types.ts";
import { bringsOxide } from "./split-field.ts";

/**
 * The strip maps, one a bin: each segment's rate is the area-weighted mean of the split over it, stepped. Where
 * the cap is the most in any cell, the products' sum on a segment stays at or below it. Segments that touch ground the
 * strip is kept off get nothing.
 */
export function stripMaps(
  plan: Plan,
  field: PlanField,
  cells: FieldGrid,
  split: Split,
  passes: Pieces,
  touched: Uint8Array,
): Prescription[] {
  const { rateStepLbPerAc } = plan.rig;
  const most = plan.split.capBasis === "most-in-a-cell" ? plan.split.capLbPerAc : Number.POSITIVE_INFINITY;
  const means = split.products.map((product) => meanOver(passes.overlaps, product.strip));
  const stepped = means.map((mean) => new Float64Array(mean.length));
  passes.pieces.forEach((_, k) => {
    if (touched[k] === 1) return;
    const rates = stepSegment(
      means.map((mean) => mean[k]!),
      rateStepLbPerAc,
      most,
    );
    rates.forEach((rate, product) => {
      stepped[product]![k] = rate;
    });
  });
  return split.products.map((product, i) =>
    rateMap(plan, field, "strip", product, passes, stepped[i]!, sumNeed(cells, product.strip)),
  );
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
  touched: Uint8Array,
): Broadcast {
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
      field.broadcast === "later" && touched[k] !== 1 && lb / swaths.areaAc[k]! >= step / 2;
    const spread = onPiece.map((lb, k) => (isSpread(lb, k) ? lb : 0));
    const short = sum([...onPiece.map((lb, k) => (lb > 0 && !isSpread(lb, k) ? lb : 0)), Math.max(0, left)]);
    const over = sum([...onPiece.map((lb) => Math.max(0, -lb)), Math.max(0, -left)]);
    assertCloses(field, nutrient, sumNeed(cells, needLbPerAc) / share, map.totalLb, sum(spread), short, over);
    shortageLb[nutrient] = short * share;
    excessLb[nutrient] = over * share;
    excludedLb[nutrient] = sum(onPiece.map((lb, k) => (lb > 0 && touched[k] === 1 ? lb : 0))) * share;
    if (field.broadcast === "none") continue;
    const rates = stepCarrying(spread, swaths.areaAc, step);
    prescriptions.push(rateMap(plan, field, "broadcast", map, swaths, rates, sum(spread)));
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
  rateLbPerAc: Float64Array,
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
    rateLbPerAc,
    needLb,
  });
}

/** A map with its files, on the ground its rates lie on. */
export const writeMap = (map: Prescription, ground: Pieces, date: string): Prescription =>
  writePrescription(map, { polygons: ground.written, zones: zoneNames(ground) }, date);

/** `12-3` is pass 12, segment 3; further pieces of it are `12-3-2`, `12-3-3`. */
export function zoneNames(ground: Pieces): string[] {
  const seen = new Map<string, number>();
  return ground.pieces.map(({ pass, column }) => {
    const name = `${pass}-${column}`;
    const count = (seen.get(name) ?? 0) + 1;
    seen.set(name, count);
    return count === 1 ? name : `${name}-${count}`;
  });
}
