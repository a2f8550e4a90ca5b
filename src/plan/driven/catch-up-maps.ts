import type { Prescription } from "../../prescription/index.ts";
import type { Plan } from "../document/document-types.ts";
import { balanceField } from "../maps/balance-field.ts";
import { broadcastMaps } from "../maps/write-maps.ts";
import type { FieldResult } from "../results/result-types.ts";
import type { AppliedField } from "./applied-types.ts";

/** A planned broadcast map and its catch-up map have one stem but for this. */
const PLANNED = "_BC_";
const CATCH_UP = "_CU_";

/** Stem of the planned broadcast map that a catch-up map takes the place of. */
export const plannedStemOf = (catchUpStem: string): string => catchUpStem.replace(CATCH_UP, PLANNED);

/** Whether a file is of a catch-up map, by its name. */
export const isCatchUpName = (name: string): boolean => name.includes(CATCH_UP);

/**
 * Need less what lies on the ground, on the spreader's cells and in its steps: the next broadcast maps. What is over in one
 * place is not taken off another. A field for which no broadcast was planned gets one.
 */
export function catchUpMaps(
  plan: Plan,
  field: FieldResult,
  onGround: readonly Prescription[],
): AppliedField["catchUp"] {
  const later = { ...field.field, broadcast: "later" as const };
  const { laid, cells, wanted, passes, swaths } = field;
  const { optimum } = field.split;
  // Caught up on whether or not the least-cost split had a second pass.
  const split = optimum ? { ...field.split, optimum: { ...optimum, pass: true } } : field.split;
  const source = {
    plan,
    field: later,
    laid,
    split,
    cells,
    wanted,
    passes,
    strip: onGround,
    swaths,
    isCatchUp: true,
  };
  const made = broadcastMaps(source);
  const prescriptions = made.prescriptions.map((map) => ({
    ...map,
    stem: map.stem.replace(PLANNED, CATCH_UP),
  }));
  const balances = balanceField(field.cells, field.need, field.wanted, onGround, { ...made, prescriptions });
  const voids = field.prescriptions.filter((map) => map.pass === "broadcast").map((map) => map.stem);
  return { prescriptions, balances, voids };
}
