import type { Plan } from "../document/document-types.ts";
import { tenderPlaces } from "../fills/fill-cases.ts";
import { fillPlan } from "../fills/fill-plan.ts";
import type { FieldResult } from "../results/result-types.ts";
import { missingRigKeys } from "../rig/rig-figures.ts";
import type { FieldWorkDone, RemainderOfField } from "./remainder-maps.ts";

/** A bin that holds another product than the remainder's map of it lays. */
export interface BinToEmpty {
  readonly bin: string;
  readonly holds: string;
  readonly next: string;
  /** What its scale shows by the stops as they were planned; null where these are not known. */
  readonly scaleLb: number | null;
}

/** Bins to empty before a remainder with other products begins. */
export function binsToEmpty(
  plan: Plan,
  field: FieldResult,
  done: FieldWorkDone,
  { instead, prescriptions }: Pick<RemainderOfField, "instead" | "prescriptions">,
): BinToEmpty[] {
  if (instead.length === 0) return [];
  const isKnown = done.by === "pass" && done.doneAfter > 0 && missingRigKeys(plan).length === 0;
  const fills = isKnown ? fillPlan(plan, field, { places: tenderPlaces(plan, field) }) : null;
  return instead.map(({ stem, product, inPlaceOf }) => {
    const { bin } = prescriptions.find((map) => map.stem === stem)!;
    const b = fills?.bins.findIndex(({ id }) => id === bin) ?? -1;
    const leftLb = done.by === "pass" ? (fills?.passes[done.doneAfter - 1]?.leftLb?.[b] ?? null) : null;
    return {
      bin,
      holds: inPlaceOf,
      next: product,
      scaleLb: leftLb === null ? null : Math.max(0, leftLb) + fills!.residualLb[b]!,
    };
  });
}
