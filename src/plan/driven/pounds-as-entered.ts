import { type LedgerEntry, stripEntries } from "../../ledger/index.ts";
import { sum } from "../../numeric/index.ts";
import type { FieldResult } from "../results/result-types.ts";
import type { ProductPounds } from "./applied-types.ts";
import { SAME_TYPED_GROUND_SHARE } from "./as-entered.ts";

/**
 * Pounds that the ledger has of a product without a log, none of which are given: lines that were typed or weighed, on as many
 * acres as the rig drove by the logs of others (`covered`; the whole field without any). Lines out of a log tell where little or
 * nothing was laid, and do not count without it.
 */
export function poundsAsEntered(
  { field, prescriptions, passes }: FieldResult,
  ledger: readonly LedgerEntry[],
  given: readonly { readonly product: string }[],
  covered: Float64Array,
): readonly ProductPounds[] {
  const lines = stripEntries(ledger, field.id);
  const drivenAc = sum(passes.areaAc.map((ac, k) => ac * covered[k]!));
  return prescriptions.flatMap(({ pass, product }): ProductPounds[] => {
    if (pass !== "strip" || given.some((one) => one.product === product)) return [];
    const own = lines.filter((line) => line.product === product);
    if (own.length === 0 || own.some(({ log, span }) => log !== undefined || span !== undefined)) return [];
    const areaAc = sum(own.map((line) => line.areaAc));
    if (Math.abs(areaAc - drivenAc) > SAME_TYPED_GROUND_SHARE * drivenAc) return [];
    return [{ product, lb: sum(own.map(({ lb }) => lb)), from: "ledger" }];
  });
}
