import type { FieldStand, LedgerEntry } from "../../ledger/index.ts";
import { lbText, textTable } from "../../report/index.ts";
import { numberText, UNKNOWN } from "../../units/index.ts";

/** Where each field stands. */
export function standWords(stands: readonly FieldStand[]): string[] {
  return textTable([
    ["field", "state", "stripped, ac", "lb P2O5", "lb K2O", "placed", "last"],
    ...stands.map((one) => [
      one.fieldId,
      `${one.state}${one.frozen ? ", frozen" : ""}${one.missing.length > 0 ? ` (no ${one.missing.join(", ")})` : ""}`,
      numberText(one.strippedAc, 1),
      lbText(one.p2o5Lb),
      lbText(one.k2oLb),
      one.placed.map(({ product, pass, lb }) => `${product} ${pass} ${lbText(lb)} lb`).join("; ") || UNKNOWN,
      one.lastDate ?? UNKNOWN,
    ]),
  ]);
}

/** Every line of the ledger; those that were taken back say so. */
export const entryLines = (entries: readonly LedgerEntry[]): string[] =>
  entries.map((entry) => {
    const by = entries.find((one) => one.kind === "void" && one.voids === entry.number);
    return by === undefined ? entryWords(entry) : `${entryWords(entry)} - taken back by line ${by.number}`;
  });

/** One line of the ledger. */
export function entryWords(entry: LedgerEntry): string {
  return `  ${entry.number}  ${entry.date}  ${eventWords(entry)}`;
}

function eventWords(entry: LedgerEntry): string {
  switch (entry.kind) {
    case "loaded":
      return `${entry.fieldId}: ${entry.map} put on the stick${entry.revision === "" ? "" : `, revision ${entry.revision}`}`;
    case "placed":
      return `${entry.fieldId}: ${lbText(entry.lb)} lb ${entry.product} ${entry.pass} on ${numberText(entry.areaAc, 1)} ac (${entry.from})`;
    case "finished":
      return `${entry.fieldId}: ${entry.pass} finished, frozen`;
    case "yield":
      return `${entry.fieldId}: ${numberText(entry.buPerAc, 1)} bu/ac ${entry.crop}`;
    case "micronutrient-lost":
      return `${entry.fieldId}: ${numberText(entry.areaAc, 1)} ac without ${entry.nutrient}`;
    case "void":
      return `line ${entry.voids} taken back: ${entry.why}`;
  }
}
