import { sum } from "../numeric/index.ts";
import type { OptimumField, OptimumInput, StripWorth } from "./split-optimum-types.ts";

/**
 * What one more pound in the strip is worth under the mean rate, else what it costs in time; and what stands in its way; mean
 * over the fields by area. `mostPerLb`: where need or a floor is short, the most that a pound can be worth by prices; more is
 * the price of the shortage itself, which nobody typed, and no $ are told. Null where nothing is short.
 */
export function stripWorth(
  input: OptimumInput,
  fields: readonly OptimumField[],
  targetPrice: number,
  mostPerLb: number | null,
): StripWorth {
  const areaAc = sum(fields.map((field) => field.areaAc));
  const inAll = sum(fields.map((field) => field.dollarsPerStripLb * field.areaAc)) / areaAc;
  const byTender = sum(fields.filter((field) => field.bound === "tender").map((field) => field.areaAc));
  const rate = input.meanStripLbPerAcMost !== undefined && targetPrice > 0;
  // Under the mean rate one more lb brings what it brings less its time.
  const dollarsPerLb = rate ? targetPrice : inAll;
  const limit = dollarsPerLb <= 0 ? "none" : rate ? "mean rate" : byTender * 2 >= areaAc ? "tender" : "rig";
  if (mostPerLb !== null && dollarsPerLb > mostPerLb) {
    const words = `brings need that is short, and that has no price; the limit is the ${limit}`;
    return { dollarsPerLb: null, limit, words };
  }
  return { dollarsPerLb, limit, words: worthInWords(dollarsPerLb, limit) };
}

function worthInWords(dollarsPerLb: number, limit: StripWorth["limit"]): string {
  if (limit === "none") return "$0 a pound; nothing limits the strip";
  if (limit !== "mean rate") return `Costs $${dollarsPerLb.toFixed(3)} in time; the limit is the ${limit}`;
  return `$${dollarsPerLb.toFixed(3)} a pound; the limit is the ${limit}`;
}
