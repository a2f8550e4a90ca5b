import { type FieldStand, LEAST_SHARE, SHORT_SHARE } from "../../ledger/index.ts";
import { sum } from "../../numeric/index.ts";
import { numberText } from "../../units/index.ts";
import type { Oxide } from "../document/document-need-types.ts";
import { oxideIn } from "../document/field-products.ts";
import { analysisAsLaid, oxidesInWords } from "./analysis-as-laid.ts";
import {
  type MapFigures,
  OXIDES,
  oxideInStrips,
  oxideOfMaps,
  oxidePlacedLb,
  oxideSpread,
  PLACED_TOLERANCE,
  shareLaid,
  stripSurplusLb,
} from "./placed-surplus.ts";

/** Products of which another weight lies in the strip than the maps have: `10,525 lb 11-52-0 (the maps have 9,727)`. */
export function otherWeights(prescriptions: readonly MapFigures[], stand: FieldStand): string[] {
  const maps = prescriptions.filter(({ pass }) => pass === "strip");
  const placed = stand.placed.filter(({ pass }) => pass === "strip");
  // Of a pass that is finished nothing more is laid by its maps, and the order has none of it.
  const lacks = (lb: number): string =>
    stand.frozen && lb > 0 ? `: ${numberText(lb, 0)} lack, which the order does not hold` : "";
  const least = LEAST_SHARE * sum(maps.map(({ totalLb }) => totalLb));
  return [...new Set([...maps, ...placed].map(({ product }) => product))].flatMap((product) => {
    const planned = sum(maps.filter((one) => one.product === product).map(({ totalLb }) => totalLb));
    const there = sum(placed.filter((one) => one.product === product).map(({ lb }) => lb));
    const made = maps.find((one) => one.product === product);
    const own = placed.filter((one) => one.product === product);
    const mixed = made === undefined ? null : otherMixture(made, prescriptions, own, stand);
    if (mixed !== null) return mixed;
    const isMore = made === undefined || there >= planned;
    if (made !== undefined && isMore && isSpread(prescriptions, stand)) return [];
    const open = isMore ? 1 : 1 - shareMadeUp(made, prescriptions, stand);
    const offLb = open * Math.abs(there - planned);
    const shortLb = made === undefined ? 0 : oxideLackLb(made, prescriptions, stand);
    const lackLb = shortLb > PLACED_TOLERANCE * planned ? Math.min(open * (planned - there), shortLb) : 0;
    return offLb > PLACED_TOLERANCE * planned && offLb > least
      ? [`${numberText(there, 0)} lb ${product} (the maps have ${numberText(planned, 0)}${lacks(lackLb)})`]
      : [];
  });
}

/**
 * A product that was laid with another analysis than it has now, as a blend mixed anew since: its pounds say nothing, their
 * oxides do. Null where it was not; empty where they fit, what a catch-up brought with them.
 */
function otherMixture(
  made: MapFigures,
  maps: readonly MapFigures[],
  own: FieldStand["placed"],
  stand: FieldStand,
): string[] | null {
  const { product, analysis, totalLb } = made;
  const there = sum(own.map(({ lb }) => lb));
  const laid = analysisAsLaid({ analysis }, own, there);
  if (laid === null) return null;
  const open = 1 - shareMadeUp(made, maps, stand);
  const off = OXIDES.map((oxide) => {
    const planned = totalLb * oxideIn(analysis, oxide);
    const lacks = planned - oxidePlacedLb(own, oxide);
    const lb = lacks > 0 ? open * lacks : isSpread(maps, stand) ? 0 : lacks;
    return { oxide, lb: Math.abs(lb) > PLACED_TOLERANCE * planned ? lb : 0 };
  });
  if (off.every(({ lb }) => lb === 0)) return [];
  const lacks = off
    .filter(({ lb }) => stand.frozen && lb > 0)
    .map(({ oxide, lb }) => `${numberText(lb, 0)} lb ${oxide}`);
  const held = lacks.length === 0 ? "" : `: ${lacks.join(" and ")} lack, which the order does not hold`;
  return [
    `${numberText(there, 0)} lb ${product} with ${oxidesInWords(laid)} (the maps have ${numberText(totalLb, 0)} with ${oxidesInWords(analysis)}${held})`,
  ];
}

/** lb of a product that bring what the strips lack of its oxides, whatever product brought the rest; of two the greater. */
function oxideLackLb({ analysis }: MapFigures, maps: readonly MapFigures[], stand: FieldStand): number {
  const own = OXIDES.filter((oxide) => oxideIn(analysis, oxide) > 0);
  const lack = own.map(
    (oxide) => (oxideOfMaps(maps, "strip", oxide) - oxideInStrips(stand, oxide)) / oxideIn(analysis, oxide),
  );
  return Math.max(0, ...lack);
}

/** Whether all that the broadcast maps lay is spread, or lies in the strips beyond their maps: nothing is to be changed any more. */
export function isSpread(maps: readonly MapFigures[], stand: FieldStand): boolean {
  const there = (oxide: Oxide): number => stripSurplusLb(maps, stand, oxide) + oxideSpread(stand, oxide);
  return (
    stand.placed.some(({ pass }) => pass !== "strip") &&
    maps.filter(({ pass }) => pass === "broadcast").every((map) => shareLaid(map, maps, there) >= SHORT_SHARE)
  );
}

/** Share of what a finished strip pass lacks of a map's oxides that a catch-up brought, beyond all that the broadcast maps lay. */
function shareMadeUp({ analysis }: MapFigures, maps: readonly MapFigures[], stand: FieldStand): number {
  if (!stand.frozen) return 0;
  const shares = OXIDES.filter((oxide) => oxideIn(analysis, oxide) > 0).flatMap((oxide) => {
    const lacksLb = oxideOfMaps(maps, "strip", oxide) - oxideInStrips(stand, oxide);
    const besideLb = oxideSpread(stand, oxide) - oxideOfMaps(maps, "broadcast", oxide);
    return lacksLb > 0 ? [Math.max(0, besideLb) / lacksLb] : [];
  });
  return shares.length === 0 ? 0 : Math.min(1, ...shares);
}
