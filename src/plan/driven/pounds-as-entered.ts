import { sum } from "../../numeric/index.ts";
import type { FieldResult } from "../results/result-types.ts";
import type { EnteredLine, ProductPounds } from "./applied-types.ts";
import { acOf, isWithoutLog, lbOf, SAME_TYPED_GROUND_SHARE } from "./entered-lines.ts";

/**
 * Pounds that the ledger has of a product without a log, none of which are given: lines that were typed or weighed, on as many
 * acres as the rig drove by the logs of others (`covered`; the whole field without any). `lines`: of the strip pass. Lines out of a log tell where little or
 * nothing was laid, and do not count without it.
 */
export function poundsAsEntered(
  { prescriptions, passes }: FieldResult,
  lines: readonly EnteredLine[],
  given: readonly { readonly product: string }[],
  covered: Float64Array,
): readonly ProductPounds[] {
  const drivenAc = sum(passes.areaAc.map((ac, k) => ac * covered[k]!));
  return prescriptions.flatMap(({ pass, product }): ProductPounds[] => {
    if (pass !== "strip" || given.some((one) => one.product === product)) return [];
    const own = lines.filter((line) => line.product === product);
    if (own.length === 0 || !own.every(isWithoutLog)) return [];
    if (Math.abs(acOf(own) - drivenAc) > SAME_TYPED_GROUND_SHARE * drivenAc) return [];
    return [{ product, lb: lbOf(own), from: "ledger" }];
  });
}
