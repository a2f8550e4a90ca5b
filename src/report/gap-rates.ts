import { sum } from "../numeric/index.ts";
import { spreadToCells } from "../prescription/index.ts";
import { acres } from "../units/index.ts";
import type { DrawnField } from "./drawn-field.ts";

/** Which side of the need: what it stays short by, or what lies over it. */
export type GapSide = "short" | "over";
/** Id of a gap layer, such as `short/P2O5`. */
export type GapId = `${GapSide}/${"P2O5" | "K2O"}`;

/** Every `GapId`, short before over. */
export const GAP_IDS: readonly GapId[] = ["short/P2O5", "short/K2O", "over/P2O5", "over/K2O"];

/** A cell up to here is taken as even with its need, lb oxide/ac. */
const EVEN_LB_PER_AC = 0.5;

/** How far a field's cells stay short of the need, or lie over it. */
export interface GapRates {
  /** lb oxide/ac over the field's cells, 0 where it is even; NaN outside. */
  readonly lbPerAc: Float64Array;
  /** lb oxide in the field, what was taken as even included. */
  readonly lb: number;
}

/** What the need and both passes before the spreader's steps leave, given from the spreader's cells to the field's. */
export function gapRates({ gaps, swaths, cells }: DrawnField, id: GapId): GapRates {
  const [side, oxide] = id.split("/") as [GapSide, "P2O5" | "K2O"];
  const onSwath = gaps[oxide][side].map((lbPerAc, k) => lbPerAc * swaths.areaAc[k]!);
  const onCell = spreadToCells(swaths.overlaps, onSwath, cells.areaM2.length);
  const lbPerAc = cells.areaM2.map((areaM2, i) => {
    if (!(areaM2 > 0)) return Number.NaN;
    const rate = onCell[i]! / acres(areaM2);
    return rate > EVEN_LB_PER_AC ? rate : 0;
  });
  return { lbPerAc, lb: sum(onSwath) };
}

/** Found once for the gaps of a result, which more than one drawing asks for. */
const shown = new WeakMap<DrawnField["gaps"], readonly GapId[]>();

/** The sides of the need on which the field has anything to show: over half a pound an acre on some cell. */
export function gapIdsOf(field: DrawnField): readonly GapId[] {
  const known = shown.get(field.gaps);
  if (known !== undefined) return known;
  const found = GAP_IDS.filter((id) => {
    const [side, oxide] = id.split("/") as [GapSide, "P2O5" | "K2O"];
    return field.gaps[oxide][side].some((lbPerAc) => lbPerAc > 0) && hasAny(gapRates(field, id));
  });
  shown.set(field.gaps, found);
  return found;
}

const hasAny = ({ lbPerAc }: GapRates): boolean => lbPerAc.some((rate) => rate > 0);
