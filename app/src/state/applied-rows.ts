import { type ReadOutRow, ratioNames } from "#core";
import { appliedShown, chosenLogs } from "./chosen-logs.ts";
import { rate, words } from "./figures.ts";
import { plan } from "./opened.ts";
import { productShown } from "./season-state.ts";

/** What the logs say of a piece of the passes: placed, and how far off the plan. Empty beside the passes. */
export function appliedRows(piece: number): ReadOutRow[] {
  const shown = appliedShown.value;
  if (piece < 0 || productShown.value === null || !shown) return [];
  return shown.products.flatMap(({ product, placedLbPerAc, plannedLbPerAc }): ReadOutRow[] => {
    const [placed, planned] = [placedLbPerAc[piece], plannedLbPerAc[piece]];
    if (placed === undefined || planned === undefined) return [];
    // The log of a blend with several ratios is chosen by the blend's name.
    const blend = plan.value?.blends?.find((one) => ratioNames(one).includes(product))?.id;
    const log = chosenLogs.value.find((one) => [product, blend].includes(one.product))?.name ?? "";
    const row = (what: string, value: string): ReadOutRow => ({
      label: `${product} ${what}`,
      value,
      unit: words().rate,
      source: `log ${log}, mean of the segment`,
    });
    const off = rate(Math.abs(placed - planned));
    const sign = off === "0" ? "" : placed > planned ? "+" : "−";
    return [row("placed", rate(placed)), row("less planned", `${sign}${off}`)];
  });
}
