import type { Notice } from "../../errors/index.ts";
import { type FieldStand, isStripped, LEAST_SHARE, MISS_SHARE } from "../../ledger/index.ts";
import { sum } from "../../numeric/index.ts";
import type { OrderMap } from "../../order/index.ts";
import { numberText } from "../../units/index.ts";
import { oxideIn } from "../document/field-products.ts";
import type { FieldResult } from "../results/result-types.ts";
import {
  doneOnAcresLb,
  type MapFigures,
  ownLb,
  oxideInStrips,
  oxidePlacedLb,
  shareLaid,
  spreadSurplusLb,
  stripSurplusLb,
} from "./placed-surplus.ts";

type Prescribed = Pick<FieldResult, "field" | "prescriptions">;

const LEFT_BY_REMAINDER =
  "`remainder` works out what is left on the ground, by the logs or by the pass that is done";

/** Less than that prints as nothing. */
const LEAST_LB = 0.5;
const LEAST_AC = 0.05;

/**
 * lb of a map still to place: its pounds less those that the ledger has of the product (of strips that are begun, no more and no
 * less than the map has on as many acres), and less its share of the acres whose
 * strips got another product in its place. A finished pass wants nothing more; what one pass brought beyond its own maps is
 * not to place by the other, nor is what other products brought that were spread.
 */
export function stillToPlaceLb(
  map: MapFigures,
  prescriptions: readonly MapFigures[],
  stand: FieldStand | undefined,
): number {
  if (stand === undefined) return map.totalLb;
  if (map.pass === "broadcast") {
    if (stand.isSpreadFinished) return 0;
    const elsewhereLb = inStripsLb(map, prescriptions, stand) + byOthersLb(map, prescriptions, stand);
    return Math.max(0, map.totalLb - elsewhereLb - ownLb(map, stand));
  }
  if (stand.frozen) return 0;
  const left = leftForStripsLb(map, prescriptions, stand);
  return left - Math.min(left, spreadForStripsLb(map, prescriptions, stand));
}

/** lb of a strip map less what is done of it and the acres that another product has. */
function leftForStripsLb(map: MapFigures, prescriptions: readonly MapFigures[], stand: FieldStand): number {
  const otherAc = sum(inItsPlace(map, prescriptions, stand).map((one) => one.areaAc));
  const share = otherAc === 0 ? 0 : Math.min(1, otherAc / stand.toStripAc);
  return Math.max(0, map.totalLb * (1 - share) - doneLb(map, stand));
}

const doneLb = (map: MapFigures, stand: FieldStand): number => doneOnAcresLb(map, stand) ?? ownLb(map, stand);

/** lb of a strip map that are spread already, beyond all that the broadcast maps lay. */
const spreadForStripsLb = (
  map: MapFigures,
  prescriptions: readonly MapFigures[],
  stand: FieldStand,
): number =>
  map.totalLb * shareLaid(map, prescriptions, (oxide) => spreadSurplusLb(prescriptions, stand, oxide));

/** lb of a strip map that it would lay although they are spread: 0 where its pass is finished. */
export function stripTooMuchLb(
  map: MapFigures,
  prescriptions: readonly MapFigures[],
  stand: FieldStand,
): number {
  if (map.pass !== "strip" || stand.frozen) return 0;
  return Math.min(leftForStripsLb(map, prescriptions, stand), spreadForStripsLb(map, prescriptions, stand));
}

/** lb of a broadcast map that lie in the strips already: beyond all that is taken off the strip maps. */
function inStripsLb(map: MapFigures, prescriptions: readonly MapFigures[], stand: FieldStand): number {
  const strips = prescriptions.filter(({ pass }) => pass === "strip");
  const share = shareLaid(map, prescriptions, (oxide) => {
    if (stripSurplusLb(prescriptions, stand, oxide) === 0) return 0;
    const takenOff = strips.map(
      (one) =>
        (one.totalLb - (stand.frozen ? 0 : leftForStripsLb(one, prescriptions, stand))) *
        oxideIn(one.analysis, oxide),
    );
    return Math.max(0, oxideInStrips(stand, oxide) - sum(takenOff));
  });
  return share * map.totalLb;
}

/** Products spread in a field that none of its broadcast maps has. */
const spreadOthers = (prescriptions: readonly MapFigures[], { placed }: FieldStand): FieldStand["placed"] => {
  const mapped = prescriptions.filter(({ pass }) => pass === "broadcast").map(({ product }) => product);
  return placed.filter((one) => one.pass !== "strip" && !mapped.includes(one.product));
};

/** lb of a broadcast map in whose place others were spread, by the oxide that they brought. */
function byOthersLb(map: MapFigures, prescriptions: readonly MapFigures[], stand: FieldStand): number {
  const others = spreadOthers(prescriptions, stand);
  if (others.length === 0) return 0;
  return map.totalLb * shareLaid(map, prescriptions, (oxide) => oxidePlacedLb(others, oxide));
}

/**
 * Products that no strip map of the field has and that bring a nutrient of this one, with the acres of the strips that they
 * have and this map's product does not: not above the acres stripped.
 */
function inItsPlace(
  map: MapFigures,
  prescriptions: readonly MapFigures[],
  { placed, strippedAc }: FieldStand,
): readonly { readonly product: string; readonly areaAc: number }[] {
  if (map.pass !== "strip") return [];
  const strips = placed.filter((one) => one.pass === "strip");
  const mapped = prescriptions.filter(({ pass }) => pass === "strip").map(({ product }) => product);
  const others = strips.filter(
    (one) =>
      !mapped.includes(one.product) &&
      ((one.p2o5Lb > 0 && oxideIn(map.analysis, "P2O5") > 0) ||
        (one.k2oLb > 0 && oxideIn(map.analysis, "K2O") > 0)),
  );
  const ownAc = sum(strips.filter(({ product }) => product === map.product).map((one) => one.areaAc));
  const openAc = Math.max(0, strippedAc - ownAc);
  const allAc = sum(others.map((one) => one.areaAc));
  const share = allAc > openAc ? openAc / allAc : 1;
  return others.map(({ product, areaAc }) => ({ product, areaAc: areaAc * share }));
}

/**
 * What lies beyond a strip map's reach by more than meters miss by, what counts of the map, and where what is left on the ground
 * is to be had; empty where nothing does.
 */
function beyondInWords(map: MapFigures, stand: FieldStand, leftLb: number): string {
  const reach = stand.stripReach.find(({ product }) => product === map.product);
  const [laidLb, countLb] = [ownLb(map, stand), doneLb(map, stand)];
  const offLb = Math.abs(laidLb - countLb);
  if (reach === undefined || offLb <= MISS_SHARE * countLb || offLb <= LEAST_SHARE * map.totalLb) return "";
  const lb = (value: number): string => `${numberText(value, 0)} lb`;
  const isLess = laidLb < countLb;
  const isOne = reach.mostLb - reach.leastLb < 1;
  const bound = isLess ? `${lb(reach.leastLb)} at least` : `${lb(reach.mostLb)} at most`;
  const why = isLess
    ? "a meter that laid less or a plan changed since does that"
    : "a meter that laid more, ground driven twice or a plan changed since does that";
  const left = [map.totalLb - reach.mostLb, map.totalLb - reach.leastLb].map((one) => lb(Math.max(0, one)));
  const span = isOne ? "" : ` (${left.join(" to ")}, by which acres those are)`;
  const lacks = isLess ? `; ${lb(offLb)} lack on the acres done, which no map and no order has` : "";
  return `by the ledger ${lb(laidLb)} ${map.product} lie where this plan's strip map has ${isOne ? lb(countLb) : bound} on as many acres (${why}): ${lb(countLb)} of the map count as done and ${lb(leftLb)} as left${span}; ${LEFT_BY_REMAINDER}${lacks}`;
}

/**
 * Strips that the ledger has done and of which pounds still count, acres that got another product than today's map, and
 * pounds of a broadcast map that lie in the strips already.
 */
export function stillToPlaceNotices(
  { field, prescriptions }: Prescribed,
  maps: readonly OrderMap[],
  stand: FieldStand | undefined,
): Notice[] {
  if (stand === undefined) return [];
  const notices: Notice[] = [];
  const add = (code: string, message: string): void => {
    notices.push({ code, message: `${field.name}: ${message}`, where: field.id });
  };
  const lb = (value: number): string => `${numberText(value, 0)} lb`;
  const spreadMaps = stand.isSpreadFinished ? [] : prescriptions.filter(({ pass }) => pass === "broadcast");
  for (const map of spreadMaps) {
    const gone = Math.min(map.totalLb - ownLb(map, stand), inStripsLb(map, prescriptions, stand));
    if (gone >= LEAST_LB)
      add(
        "placed-for-broadcast",
        `by the ledger more lies in its strips than its strip maps have: ${lb(gone)} of the ${lb(map.totalLb)} ${map.product} of its broadcast map do not count as to place`,
      );
    const others = Math.min(map.totalLb - ownLb(map, stand), byOthersLb(map, prescriptions, stand));
    if (others >= LEAST_LB) {
      const names = spreadOthers(prescriptions, stand).map(({ product }) => product);
      add(
        "spread-other-product",
        `by the ledger ${[...new Set(names)].join(", ")} was spread, not the ${map.product} of its broadcast map: ${lb(others)} of its ${lb(map.totalLb)} do not count as to place`,
      );
    }
  }
  if (stand.frozen) return notices;
  const strips = prescriptions.filter(({ pass }) => pass === "strip");
  const leftOf = ({ stem }: Prescribed["prescriptions"][number]): number =>
    maps.find(({ id }) => id === stem)?.lb ?? 0;
  for (const map of strips) {
    const spread = stripTooMuchLb(map, prescriptions, stand);
    if (spread >= LEAST_LB)
      add(
        "spread-for-strip",
        `by the ledger more is spread than its broadcast maps have: ${lb(spread)} of the ${lb(map.totalLb)} ${map.product} of its strip map do not count as to place`,
      );
    const beyond = beyondInWords(map, stand, leftForStripsLb(map, prescriptions, stand));
    if (beyond !== "") add("placed-by-acres", beyond);
    const others = inItsPlace(map, prescriptions, stand).filter(({ areaAc }) => areaAc >= LEAST_AC);
    const gone = Math.max(0, map.totalLb - doneLb(map, stand)) - leftForStripsLb(map, prescriptions, stand);
    if (others.length === 0 || gone < LEAST_LB) continue;
    const acres = numberText(sum(others.map((one) => one.areaAc)), 1);
    const names = others.map(({ product }) => product).join(", ");
    add(
      "placed-other-product",
      `by the ledger ${acres} of ${numberText(stand.areaAc, 1)} ac got ${names} in the strip, not the ${map.product} of this plan's map: ${lb(gone)} of the map do not count as to place there, at its mean rate; ${LEFT_BY_REMAINDER}`,
    );
  }
  const rest = strips.filter((map) => leftOf(map) >= LEAST_LB);
  if (isStripped(stand) && rest.length > 0) {
    const what = rest.map((map) => `${lb(leftOf(map))} of ${map.product}`).join(" and ");
    add(
      "stripped-not-finished",
      `its strips are done by acres, and ${what} still count as to place; if it is done: \`ledger --finish ${field.id}\``,
    );
  }
  return notices;
}
