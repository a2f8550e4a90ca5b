import type { Oxide } from "../document/document-need-types.ts";
import { oxideIn } from "../document/field-products.ts";
import { ratesOf } from "../document/oxide-rates.ts";
import { onCells, sumOver } from "../results/field-sums.ts";
import type { MeantGaps, Wanted, WantedParts } from "../results/need-result-types.ts";
import type { FieldGrid, Split } from "../results/result-types.ts";

/**
 * What a field wants whose strips are done by one cut of the budget and of which what is left to the spreader is cut lower: on
 * each cell as by the lower cut, and no less than the split has in the strip. As it was where there is no lower cut.
 */
export function wantedToSpread(cells: FieldGrid, wanted: Wanted, lower: Wanted | null, split: Split): Wanted {
  if (lower === null) return wanted;
  const P2O5 = oxideToSpread("P2O5", cells, wanted, lower, split);
  const K2O = oxideToSpread("K2O", cells, wanted, lower, split);
  return {
    ...{ p2o5LbPerAc: P2O5.lbPerAc, k2oLbPerAc: K2O.lbPerAc, P2O5: P2O5.parts, K2O: K2O.parts },
    meant: { P2O5: P2O5.meant, K2O: K2O.meant },
    notices: wanted.notices,
  };
}

function oxideToSpread(
  oxide: Oxide,
  cells: FieldGrid,
  wanted: Wanted,
  lower: Wanted,
  split: Split,
): { readonly lbPerAc: Float64Array; readonly parts: WantedParts; readonly meant: MeantGaps } {
  const [whole, cut] = [ratesOf(wanted, oxide), ratesOf(lower, oxide)];
  const counts = oxide === "P2O5" ? split.p2o5Counts : null;
  const inStrip = new Float64Array(whole.length);
  for (const { strip, analysis } of split.products)
    for (let cell = 0; cell < inStrip.length; cell++)
      inStrip[cell] = inStrip[cell]! + strip[cell]! * oxideIn(analysis, oxide) * (counts?.[cell] ?? 1);
  const lbPerAc = whole.map((rate, cell) => Math.max(cut[cell]!, Math.min(rate, inStrip[cell]!)));
  const off = (cell: number): number => whole[cell]! - lbPerAc[cell]!;
  const { shortLb, overLb } = wanted.meant[oxide];
  const offLb = onCells(cells, off);
  const parts = wanted[oxide];
  return {
    lbPerAc,
    parts: {
      ...parts,
      wantedLb: sumOver(cells, (cell) => lbPerAc[cell]!),
      overBudgetLb: parts.overBudgetLb + sumOver(cells, off),
    },
    meant: { shortLb: offLb.map((lb, cell) => lb + (shortLb?.[cell] ?? 0)), overLb },
  };
}
