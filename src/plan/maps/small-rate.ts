import type { Notice } from "../../errors/index.ts";
import { sum } from "../../numeric/index.ts";
import type { Prescription } from "../../prescription/index.ts";
import { numberText } from "../../units/index.ts";
import type { Plan } from "../document/document-types.ts";
import { wantedForms } from "../document/wanted-forms.ts";
import type { FieldResult } from "../results/result-types.ts";

/** Pounds that no scale tells apart. */
export const SAME_LB = 0.5;

/** What of a field's result tells what its files lay where the maps have 0. */
export type SmallRateField = Pick<FieldResult, "field" | "prescriptions" | "passes"> &
  Partial<Pick<FieldResult, "finished" | "extras" | "swaths">>;

/**
 * lb/ac that the file to load of a map lays where the map has 0: of a controller that must not get a 0 the plain fallback's
 * small rate; 0 where the fallback is not what is loaded.
 */
export function smallRateOf(plan: Plan, map: Prescription, extras: FieldResult["extras"] = []): number {
  const { loads, zeroRate, smallRateLbPerAc = 0 } = plan.controller ?? {};
  if (loads !== undefined && !loads.includes("fallback")) return 0;
  const written = extras.find(({ form, stems }) => form === "fallback" && stems.includes(map.stem));
  if (written !== undefined) return written.smallRateLbPerAc ?? 0;
  return zeroRate === "small" && wantedForms(plan).includes("fallback") ? smallRateLbPerAc : 0;
}

/** The rate that is laid on piece `k` of a map: the map's, or where that is 0 the small one; ground kept clear gets nothing. */
export const laidLbPerAc = (
  map: Pick<Prescription, "rateLbPerAc">,
  piece: { readonly keptOff?: true },
  k: number,
  smallLbPerAc: number,
): number => (map.rateLbPerAc[k] === 0 && piece.keptOff !== true ? smallLbPerAc : map.rateLbPerAc[k]!);

/** lb that the file to load of a map lays beyond the map, by the small rate in place of 0; 0 of a finished pass. */
function beyondMapLb(plan: Plan, field: SmallRateField, map: Prescription): number {
  const small = smallRateOf(plan, map, field.extras);
  if (small === 0 || field.finished?.some(({ pass }) => pass === map.pass)) return 0;
  const ground = map.pass === "strip" ? field.passes : field.swaths;
  return ground === undefined
    ? 0
    : sum(
        ground.pieces.map(
          (piece, k) => (laidLbPerAc(map, piece, k, small) - map.rateLbPerAc[k]!) * ground.areaAc[k]!,
        ),
      );
}

/** lb that a file with `smallLbPerAc` in place of 0 lays beyond its strip map on the ground that is left, `leftAc` acres of each piece. */
export const beyondMapOnLeftLb = (
  { passes }: Pick<FieldResult, "passes">,
  map: Pick<Prescription, "rateLbPerAc">,
  leftAc: Float64Array,
  smallLbPerAc: number,
): number =>
  sum(
    passes.pieces.map(
      (piece, k) => (laidLbPerAc(map, piece, k, smallLbPerAc) - map.rateLbPerAc[k]!) * leftAc[k]!,
    ),
  );

/** What the files to load of a pass lay beyond its maps, in words; empty where they lay nothing beyond them. */
export function smallRateInWords(plan: Plan, field: SmallRateField, pass: Prescription["pass"]): string {
  const more = field.prescriptions.flatMap((map) => {
    const lb = map.pass === pass ? beyondMapLb(plan, field, map) : 0;
    return lb < SAME_LB ? [] : [{ map, lb }];
  });
  if (more.length === 0) return "";
  const pounds = more.map(({ map, lb }) => `${numberText(lb, 0)} lb of ${map.product}`).join(" and ");
  const small = smallRateOf(plan, more[0]!.map, field.extras);
  const whose = pass === "strip" ? "fills hold them, the order does not" : "the order does not hold them";
  return `the ${pass === "strip" ? "strip" : "spreader's"} files lay ${pounds} more than the maps, by ${small} lb/ac in place of 0; ${whose}`;
}

/** The same as notices, one a pass. */
export function smallRateNotices(
  plan: Plan,
  field: SmallRateField,
  passes: readonly Prescription["pass"][] = ["strip", "broadcast"],
): Notice[] {
  return passes.flatMap((pass): Notice[] => {
    const words = smallRateInWords(plan, field, pass);
    const { id, name } = field.field;
    return words === "" ? [] : [{ code: "small-rate-beyond-map", message: `${name}: ${words}`, where: id }];
  });
}

/** Pounds of each product that the files to load of several fields lay beyond what is counted of their maps; `leftShare` of a map is still to place. */
export function smallRateOfFarm<F extends SmallRateField>(
  plan: Plan,
  fields: readonly F[],
  leftShare: (field: F, map: Prescription) => number = () => 1,
): Notice[] {
  const all = fields.flatMap((field) =>
    field.prescriptions.map((map) => ({
      name: field.field.name,
      product: map.product,
      lb: leftShare(field, map) * beyondMapLb(plan, field, map),
    })),
  );
  return [...new Set(all.map(({ product }) => product))].flatMap((product): Notice[] => {
    const own = all.filter((one) => one.product === product);
    const lb = sum(own.map((one) => one.lb));
    if (lb < SAME_LB) return [];
    const byField = [...new Set(own.map(({ name }) => name))].flatMap((name) => {
      const there = sum(own.filter((one) => one.name === name).map((one) => one.lb));
      return there < SAME_LB ? [] : [`${name} ${numberText(there, 0)}`];
    });
    const message = `${product}: the files to load lay ${numberText(lb, 0)} lb more than the maps have, by the small rate in place of 0 (${byField.join(", ")}); the order does not hold them: have them at hand`;
    return [{ code: "small-rate-beyond-order", message, where: "order" }];
  });
}
