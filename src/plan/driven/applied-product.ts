import { cleanLog, type MappedLog, mapLog, mapLogShapes, reconcileTickets } from "../../applied/index.ts";
import { InputError } from "../../errors/index.ts";
import { sum } from "../../numeric/index.ts";
import type { Plan } from "../document/document-types.ts";
import type { FieldResult } from "../results/result-types.ts";
import type { AppliedProduct, EnteredLine, ProductLog } from "./applied-types.ts";
import {
  asEntered,
  asEnteredNotices,
  type Cover,
  enteredWork,
  hasOtherPounds,
  shownWork,
} from "./as-entered.ts";
import { lagOfLog, readingsForLag } from "./lag-of-log.ts";
import { logDoubts, refuseNothing } from "./log-doubts.ts";
import { logOfProduct } from "./log-of-product.ts";
import { logsInField, poundsOfPieces, readingsElsewhere, readingsInPlane } from "./readings-in-plane.ts";

/**
 * What a log makes of its product in a field: cleaned, mapped onto the pieces, held against map and scale. Without tickets the
 * pounds of the ledger's lines (`lines`, of the product in the strip pass) count for the readings that they are of. Throws
 * `log-elsewhere`, `product-of-log`, `log-gives-nothing`, what `reconcileTickets` throws.
 */
export function appliedProduct(
  plan: Plan,
  field: FieldResult,
  given: ProductLog,
  lines: readonly EnteredLine[] = [],
): AppliedProduct {
  const { product, log, tickets, isTyped = false } = given;
  const { passes } = field;
  const map = field.prescriptions.find((one) => one.pass === "strip" && one.product === product)!;
  const own = logOfProduct(log, product);
  const { near: points, far } = readingsInPlane(field, own);
  if (logsInField(field, [given]).length === 0) {
    throw new InputError(
      "log-elsewhere",
      `none of the ${log.points.length} readings of ${product} lies in ${field.field.name}`,
      "Choose the log of this field, or the field of this log.",
    );
  }
  const clean = cleanLog(points, { of: product });
  refuseNothing(field, given, clean);
  const mapped = mappedOnto(plan, field, clean.pieces);
  const isKept = (k: number): boolean => passes.pieces[k]!.keptOff !== true;
  const areaOf = (share: (k: number) => number): number =>
    sum(passes.pieces.map((_, k) => (isKept(k) ? share(k) * passes.areaAc[k]! : 0)));
  const covers: Cover = (pieces) => {
    const { segments } = pieces.length === clean.pieces.length ? mapped : mappedOnto(plan, field, pieces);
    return {
      lb: sum(segments.map((one) => one.placedLb)),
      areaAc: areaOf((k) => 1 - segments[k]!.skippedShare),
    };
  };
  // The scale weighs what went out over the whole log, wherever it lies.
  const farLb = poundsOfPieces(cleanLog(far, { of: product }).pieces);
  const found =
    tickets === undefined ? null : reconcileTickets({ ...tickets, loggedLb: mapped.loggedLb + farLb });
  const typed = plan.fills?.meterFactor;
  const weighed = isTyped ? "typed" : "tickets";
  const from = found === null ? (typed === undefined ? "none" : "plan") : found.mayRescale ? weighed : "none";
  const ownFactor = from === weighed ? found!.meterFactor : from === "plan" ? typed! : 1;
  const work = shownWork(field, lines, own);
  const groups = found !== null ? [] : enteredWork(field, lines, work, points, clean.pieces, covers);
  const isByLedger = hasOtherPounds(groups, ownFactor);
  const placedLb = isByLedger
    ? mappedOnto(plan, field, asEntered(clean.pieces, groups, ownFactor)).segments.map((one) => one.placedLb)
    : mapped.segments.map((one) => ownFactor * one.placedLb);
  const plannedLb = passes.pieces.map((_, k) => map.rateLbPerAc[k]! * passes.areaAc[k]!);
  const skippedShare = Float64Array.from(mapped.segments, (one) => one.skippedShare);
  // Ground that only readings of 0 cover is what is skipped without them, less what is with them.
  const laying = clean.pieces.filter((piece) => piece.lbPerAc > 0);
  const laid = laying.length === clean.pieces.length ? mapped : mappedOnto(plan, field, laying);
  const hasRate = (k: number): boolean => map.rateLbPerAc[k]! > 0;
  const overlappedShare = Float64Array.from(mapped.segments, (one) => one.overlappedShare);
  const lag = lagOfLog(field, map, clean.points);
  return {
    product,
    bin: map.bin,
    stem: map.stem,
    readings: clean.points.length,
    plannedLb: map.totalLb,
    loggedLb: mapped.loggedLb,
    insideLb: mapped.insideLb,
    outsideLb: mapped.outsideLb,
    tickets: found,
    meterFactor: isByLedger && mapped.insideLb > 0 ? sum(placedLb) / mapped.insideLb : ownFactor,
    meterFactorFrom: isByLedger ? "ledger" : from,
    shown: work.shown,
    entered: groups.flatMap((one) => one.lines),
    placedLb: sum(placedLb),
    placedLbPerAc: Float64Array.from(placedLb, (lb, k) => lb / passes.areaAc[k]!),
    missingLb: sum(placedLb.map((lb, k) => Math.max(0, plannedLb[k]! - lb))),
    overLb: sum(placedLb.map((lb, k) => Math.max(0, lb - plannedLb[k]!))),
    skippedShare,
    overlappedShare,
    coveredAc: areaOf((k) => 1 - skippedShare[k]!),
    nothingLaidAc: areaOf((k) => (hasRate(k) ? laid.segments[k]!.skippedShare - skippedShare[k]! : 0)),
    skippedAc: areaOf((k) => skippedShare[k]!),
    overlappedAc: areaOf((k) => overlappedShare[k]!),
    lag,
    notices: [
      ...logDoubts(field, given, readingsForLag(clean.points), lag.explained),
      ...readingsElsewhere(field, product, far, farLb, found !== null),
      ...clean.notices.map((one) => ({
        ...one,
        message: `${product}: ${one.message}`,
        where: `${field.field.id}: ${one.where}`,
      })),
      ...(found?.notices ?? []),
      ...asEnteredNotices(field, product, groups, ownFactor),
    ],
  };
}

/** On the lattice of straight passes where they are one; else onto the pieces as they are. */
function mappedOnto(
  plan: Plan,
  { passes }: FieldResult,
  pieces: Parameters<typeof mapLogShapes>[0],
): MappedLog {
  const [a, b] = passes.along;
  const isLattice =
    passes.along.length === 2 &&
    passes.headlandPasses === 0 &&
    passes.pieces.every((piece) => piece.keptOff !== true);
  const segments = passes.pieces.map(({ pass, column, polygon, areaM2 }) => ({
    pass,
    column,
    polygon,
    areaM2,
  }));
  if (!isLattice) return mapLogShapes(pieces, segments);
  return mapLog({ pieces, segments, line: [a!, b!], widthM: passes.widthM, segmentM: plan.rig.segmentM });
}
