import type { Notice } from "../../errors/index.ts";
import { sum } from "../../numeric/index.ts";
import type { Prescription } from "../../prescription/index.ts";
import { LB_PER_TON, numberText } from "../../units/index.ts";
import type { Plan } from "../document/document-types.ts";
import type { FieldResult } from "../results/result-types.ts";

type Mapped = Pick<FieldResult, "prescriptions">;

/** What a micronutrient of so many lb on a ton comes to in the product, percent: `1`, `1.25`. */
export const coatPercentText = (lbPerTon: number): string =>
  numberText((100 * lbPerTon) / LB_PER_TON, 2).replace(/\.?0+$/, "");

/** The coat of what a strip map lays, `Zn 1 %`; empty without one. */
export function coatOfMap({ rig }: Pick<Plan, "rig">, { pass, bin }: Prescription): string {
  if (pass !== "strip") return "";
  const coated = rig.bins.find(({ id }) => id === bin)?.coated ?? [];
  return coated.map(({ element, lbPerTon }) => `${element} ${coatPercentText(lbPerTon)} %`).join(", ");
}

/**
 * Pounds of a product that are to have a coat and pounds that are plain, which one line of the order adds up: a sentence a
 * product, without a full stop at the end. `lbOf`: what counts of a map, lb; its pounds where left out.
 */
export function coatedInOrderWords<F extends Mapped>(
  plan: Pick<Plan, "rig">,
  fields: readonly F[],
  lbOf: (map: Prescription, field: F) => number = (map) => map.totalLb,
): string[] {
  const maps = fields.flatMap((field) =>
    field.prescriptions.map((map) => ({ ...map, coat: coatOfMap(plan, map), lb: lbOf(map, field) })),
  );
  const lb = (value: number): string => numberText(value, 0);
  return [...new Set(maps.map(({ product }) => product))].flatMap((product) => {
    const own = maps.filter((map) => map.product === product);
    const coats = [...new Set(own.map(({ coat }) => coat))].filter((coat) => coat !== "");
    const lbWith = (coat: string): number => sum(own.filter((map) => map.coat === coat).map((map) => map.lb));
    const coated = coats.filter((coat) => lbWith(coat) >= 0.5);
    if (coated.length === 0) return [];
    const parts = coated.map((coat) => `${lb(lbWith(coat))} lb with ${coat} for the strip`);
    const plain = lbWith("") >= 0.5 ? [`${lb(lbWith(""))} lb plain`] : [];
    return [
      `${product}: ${[...parts, ...plain].join(" and ")} stand in one line here: tell the supplier which is to be coated`,
    ];
  });
}

/** The same as notices of the order. */
export const coatedOrderNotices = <F extends Mapped>(
  plan: Pick<Plan, "rig">,
  fields: readonly F[],
  lbOf: (map: Prescription, field: F) => number,
): Notice[] =>
  coatedInOrderWords(plan, fields, lbOf).map((message) => ({
    code: "coated-in-order",
    message,
    where: "order",
  }));
