import type { PlacedEntry } from "../../ledger/index.ts";
import { sum } from "../../numeric/index.ts";
import type { Grade } from "../../products/index.ts";
import { numberText } from "../../units/index.ts";
import type { Oxide } from "../document/document-need-types.ts";
import { oxideIn } from "../document/field-products.ts";
import { type MapFigures, OXIDES, oxidePlacedLb } from "./placed-surplus.ts";

/** Pounds of a product with the oxides that they brought by the analysis of the day they were laid. */
type LaidPounds = Pick<PlacedEntry, "lb" | "p2o5Lb" | "k2oLb">;

/** Share of its pounds by which an oxide may differ before the product counts as another mixture (ours). */
const OTHER_SHARE = 0.01;

/**
 * The analysis that a product had on the ground where the ledger's pounds bear another than today's, as of a blend mixed anew
 * since: of what goes beyond them, today's; of both, the mean. Null where it is today's. `placedLb`: all that lies there.
 */
export function analysisAsLaid(
  { analysis }: Pick<MapFigures, "analysis">,
  entered: readonly LaidPounds[],
  placedLb: number,
): Grade | null {
  const enteredLb = sum(entered.map(({ lb }) => lb));
  const allLb = Math.max(enteredLb, placedLb);
  if (!(enteredLb > 0)) return null;
  const percentOf = (oxide: Oxide): number =>
    (100 * (oxidePlacedLb(entered, oxide) + (allLb - enteredLb) * oxideIn(analysis, oxide))) / allLb;
  const laid = { ...analysis, p2o5: percentOf("P2O5"), k2o: percentOf("K2O") };
  const isOther = OXIDES.some((oxide) => {
    const [now, then] = [oxideIn(analysis, oxide), oxideIn(laid, oxide)];
    return Math.abs(then - now) > OTHER_SHARE * Math.max(now, then);
  });
  return isOther ? laid : null;
}

/** `35.2 % P2O5 and 10.4 % K2O`: the oxides of an analysis that it has any of. */
export function oxidesInWords(analysis: Grade): string {
  const own = OXIDES.filter((oxide) => oxideIn(analysis, oxide) > 0);
  return own.map((oxide) => `${numberText(100 * oxideIn(analysis, oxide), 1)} % ${oxide}`).join(" and ");
}
