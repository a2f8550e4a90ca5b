import { type FieldStand, isStripped, LEAST_SHARE, MISS_SHARE } from "../../ledger/index.ts";
import { sum } from "../../numeric/index.ts";
import type { Prescription } from "../../prescription/index.ts";
import type { Oxide } from "../document/document-need-types.ts";
import { oxideIn } from "../document/field-products.ts";

/** What of a map's figures says how much of an oxide it lays. */
export type MapFigures = Pick<Prescription, "pass" | "product" | "totalLb" | "maxLbPerAc" | "analysis">;

/** Share by which the placed pounds may miss the map's before the broadcast maps no longer fit what lies there (ours). */
export const PLACED_TOLERANCE = 0.02;

/**
 * From so many times the most on (or, of the least, so many times less) pounds say nothing of a map any more: driven twice,
 * ground has twice its pounds at most (ours).
 */
const ACRES_TIMES = 2;

/** Share over a map's pounds that neither a meter nor driving twice explains: mistyped, or the plan was changed (ours). */
export const BEYOND_SHARE = 0.2;

export const OXIDES: readonly Oxide[] = ["P2O5", "K2O"];

/** Whether a field's strip pass is done: by a finished line, or by acres, whatever product was laid on them. */
export const isStripDone = (stand: FieldStand): boolean => stand.frozen || isStripped(stand);

/**
 * lb of a strip map that are done on the acres of a pass that is begun: the pounds laid there as far as the map has them on as
 * many acres, else the most or the least that it has. From a fifth beyond that on, which no meter explains, towards the
 * map's mean on those acres, which alone counts from twice it on. Where no log says which acres they are, from a twentieth to a
 * fifth: that just the richest or the leanest were driven is then less likely than another map. Null where the pass is not begun or done, by whatever reach.
 */
export function doneOnAcresLb(
  { pass, product }: MapFigures,
  { placed, stripReach }: FieldStand,
): number | null {
  const reach = stripReach.find((one) => one.product === product);
  if (pass !== "strip" || reach === undefined) return null;
  const own = placed.filter((one) => one.pass === "strip" && one.product === product);
  const laidLb = sum(own.map(({ lb }) => lb));
  const nearestLb = Math.min(reach.mostLb, Math.max(reach.leastLb, laidLb));
  if (nearestLb === laidLb) return laidLb;
  const times = laidLb > nearestLb ? laidLb / nearestLb : nearestLb / laidLb;
  const [from, to] = reach.isLocated ? [BEYOND_SHARE, ACRES_TIMES - 1] : [MISS_SHARE, BEYOND_SHARE];
  const beyond = (times - 1 - from) / (to - from);
  const byAcres = Math.min(1, Math.max(0, beyond));
  return byAcres * reach.meanLb + (1 - byAcres) * nearestLb;
}

/** lb that the ledger has of a map's product: in the strips for a strip map, spread for a broadcast map. */
export const ownLb = (map: MapFigures, { placed }: FieldStand): number =>
  sum(
    placed
      .filter((one) => one.product === map.product && (one.pass === "strip") === (map.pass === "strip"))
      .map((one) => one.lb),
  );

/** lb of an oxide in what is placed, whatever product brought it. */
export const oxidePlacedLb = (
  placed: readonly Pick<FieldStand["placed"][number], "p2o5Lb" | "k2oLb">[],
  oxide: Oxide,
): number => sum(placed.map(({ p2o5Lb, k2oLb }) => (oxide === "P2O5" ? p2o5Lb : k2oLb)));

/** The same of what the ledger has in a field's strips. */
export const oxideInStrips = ({ placed }: FieldStand, oxide: Oxide): number =>
  oxidePlacedLb(
    placed.filter(({ pass }) => pass === "strip"),
    oxide,
  );

/** The same of what it has as spread, as broadcast or catch-up. */
export const oxideSpread = ({ placed }: FieldStand, oxide: Oxide): number =>
  oxidePlacedLb(
    placed.filter(({ pass }) => pass !== "strip"),
    oxide,
  );

/** lb of an oxide that the maps of a pass lay. */
export const oxideOfMaps = (
  prescriptions: readonly MapFigures[],
  pass: MapFigures["pass"],
  oxide: Oxide,
): number =>
  sum(
    prescriptions
      .filter((map) => map.pass === pass)
      .map(({ totalLb, analysis }) => totalLb * oxideIn(analysis, oxide)),
  );

/**
 * lb of an oxide that lie in the strips beyond what the strip maps can count on there: their whole pounds where the pass is
 * done; where it is begun, no more than their highest rate on the acres gone over, or what counts as done there where more lies
 * than they have on as many. 0 within what meters miss by and what driving twice lays.
 */
export function stripSurplusLb(
  prescriptions: readonly MapFigures[],
  stand: FieldStand,
  oxide: Oxide,
): number {
  const maps = prescriptions.filter(({ pass }) => pass === "strip");
  const mostOf = (map: MapFigures): number =>
    isStripDone(stand)
      ? map.totalLb
      : ((stand.notByMaps.some(({ product }) => product === map.product)
          ? doneOnAcresLb(map, stand)
          : null) ?? Math.min(map.totalLb, map.maxLbPerAc * stand.strippedAc));
  const of = (lbOf: (map: MapFigures) => number): number =>
    sum(maps.map((map) => lbOf(map) * oxideIn(map.analysis, oxide)));
  const most = of(mostOf);
  const surplus = oxideInStrips(stand, oxide) - most;
  return surplus > MISS_SHARE * most && surplus > LEAST_SHARE * of(({ totalLb }) => totalLb) ? surplus : 0;
}

/**
 * lb of an oxide that are spread beyond what the broadcast maps lay: strips that are not done need not bring it. 0 within what
 * meters and driving twice explain: no map is made for less.
 */
export function spreadSurplusLb(
  prescriptions: readonly MapFigures[],
  stand: FieldStand,
  oxide: Oxide,
): number {
  const wanted = oxideOfMaps(prescriptions, "broadcast", oxide);
  const surplus = oxideSpread(stand, oxide) - wanted;
  const least = LEAST_SHARE * (wanted + oxideOfMaps(prescriptions, "strip", oxide));
  return surplus > BEYOND_SHARE * wanted && surplus > least ? surplus : 0;
}

/**
 * Share of a map's pounds that need not be laid, where of what the maps of its pass lay so many lb of each oxide lie there
 * already or besides. A product with both oxides is wanted as long as one of them is.
 */
export function shareLaid(
  map: MapFigures,
  prescriptions: readonly MapFigures[],
  thereLb: (oxide: Oxide) => number,
): number {
  const brought = OXIDES.filter((oxide) => oxideIn(map.analysis, oxide) > 0);
  if (brought.length === 0) return 0;
  const shares = brought.map((oxide) => {
    const wantedLb = oxideOfMaps(prescriptions, map.pass, oxide);
    return wantedLb > 0 ? thereLb(oxide) / wantedLb : 1;
  });
  return Math.min(1, ...shares);
}
