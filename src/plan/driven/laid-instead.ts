import { sum } from "../../numeric/index.ts";
import type { Prescription } from "../../prescription/index.ts";
import { LB_PER_TON } from "../../units/index.ts";
import { SAME_LB } from "../maps/small-rate.ts";
import type { FieldResult } from "../results/result-types.ts";

/** What a product brings in the place of another, on what is left. */
export interface LaidInstead {
  readonly stem: string;
  readonly product: string;
  readonly inPlaceOf: string;
  /** The oxide that the old product is laid for. */
  readonly oxide: "P2O5" | "K2O";
  readonly broughtLb: number;
  /** What the old product was to bring there, by its map times the share asked for. */
  readonly wantedLb: number;
  /** Rates are as given, not worked out from the oxide. */
  readonly isRateGiven: boolean;
  /** Micronutrients coated on the old product that do not go with the new one: pounds that its map was to bring there. */
  readonly coatLost: readonly { readonly element: string; readonly lb: number }[];
  /** lb of the old product's other oxide that the new one does not bring there; null where it brings it. */
  readonly oxideLost: { readonly oxide: "P2O5" | "K2O"; readonly lb: number } | null;
}

/** What a map of what is left, `areaAc` of each piece, brings in the place of the planned one; `share`: of the planned rates. */
export function laidInstead(
  field: FieldResult,
  map: Prescription,
  planned: Prescription,
  areaAc: readonly number[] | Float64Array,
  { share = 1, isRateGiven }: { readonly share: number | undefined; readonly isRateGiven: boolean },
): LaidInstead {
  const oxide = oxideOf(planned);
  const other = oxide === "p2o5" ? "k2o" : "p2o5";
  const lbOf = ({ rateLbPerAc }: Prescription): number =>
    sum(rateLbPerAc.map((rate, k) => rate * areaAc[k]!));
  const [laidLb, plannedLb] = [lbOf(map), share * lbOf(planned)];
  const lostLb = (plannedLb * planned.analysis[other] - laidLb * map.analysis[other]) / 100;
  const coatOn = planned.product === map.product ? [] : coatOf(field, planned);
  return {
    stem: map.stem,
    product: map.product,
    inPlaceOf: planned.product,
    oxide: nameOf(oxide),
    broughtLb: (laidLb * map.analysis[oxide]) / 100,
    wantedLb: (plannedLb * planned.analysis[oxide]) / 100,
    isRateGiven,
    coatLost: coatOn.map(({ element, lbPerTon }) => ({ element, lb: (plannedLb * lbPerTon) / LB_PER_TON })),
    oxideLost: lostLb < SAME_LB ? null : { oxide: nameOf(other), lb: lostLb },
  };
}

const nameOf = (oxide: "p2o5" | "k2o"): "P2O5" | "K2O" => (oxide === "p2o5" ? "P2O5" : "K2O");

/** The oxide that a map's product has most of. */
export const oxideOf = ({ analysis }: Prescription): "p2o5" | "k2o" =>
  analysis.p2o5 >= analysis.k2o ? "p2o5" : "k2o";

/** What is coated on a map's product in its bin. */
const coatOf = ({ laid }: FieldResult, { bin, product }: Pick<Prescription, "bin" | "product">) =>
  laid.bins.find((one) => one.bin.id === bin && one.product.id === product)?.bin.coated ?? [];
