import type { Notice } from "../../errors/index.ts";
import { type LedgerEntry, stripEntries } from "../../ledger/index.ts";
import type { Prescription } from "../../prescription/index.ts";
import type { FieldResult } from "../results/result-types.ts";
import { analysisAsLaid, oxidesInWords } from "../stands/analysis-as-laid.ts";

/** Maps as they lie on the ground, each with the analysis that its product had when it was laid, by the ledger; where that is not today's it is told. */
export function mapsAsLaid(
  { field }: FieldResult,
  onGround: readonly Prescription[],
  ledger: readonly LedgerEntry[],
): { readonly maps: readonly Prescription[]; readonly notices: readonly Notice[] } {
  const lines = stripEntries(ledger, field.id);
  const laid = onGround.map((map) => {
    const entered = lines.filter(({ product }) => product === map.product);
    return { map, asLaid: analysisAsLaid(map, entered, map.totalLb) };
  });
  return {
    maps: laid.map(({ map, asLaid }) => (asLaid === null ? map : { ...map, analysis: asLaid })),
    notices: laid.flatMap(({ map: { product, analysis }, asLaid }): Notice[] => {
      if (asLaid === null) return [];
      const message = `${product}: by the ledger it was laid with ${oxidesInWords(asLaid)}, and it has ${oxidesInWords(analysis)} in the plan now; what lies there is reckoned as the ledger has it, in the mean where both were; where just the analysis was mistyped and is right now, take the line back (\`ledger --void\`) and enter it anew`;
      return [{ code: "analysis-changed", message, where: field.id }];
    }),
  };
}
