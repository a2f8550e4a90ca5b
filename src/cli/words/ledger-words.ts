import type { FieldStand } from "../../ledger/index.ts";
import { lbText, numberText, textTable, UNKNOWN } from "../../report/index.ts";

/** Where each field stands. */
export function standWords(stands: readonly FieldStand[]): string[] {
  return textTable([
    ["field", "state", "stripped, ac", "lb P2O5", "lb K2O", "placed", "last"],
    ...stands.map((one) => [
      one.fieldId,
      one.frozen ? `${one.state}, frozen` : one.state,
      numberText(one.strippedAc, 1),
      lbText(one.p2o5Lb),
      lbText(one.k2oLb),
      one.placed.map(({ product, pass, lb }) => `${product} ${pass} ${lbText(lb)} lb`).join("; ") || UNKNOWN,
      one.lastDate ?? UNKNOWN,
    ]),
  ]);
}
