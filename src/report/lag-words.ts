import type { AppliedProduct } from "../plan/index.ts";
import { numberText } from "../units/index.ts";

/** Share of the rates' spread under which a lag says nothing (ours). */
const LEAST_EXPLAINED = 0.05;

/** How late the meter follows the map by its log, or why that is not known. */
export function lagInWords({ readings, explained, lagSeconds, isOfOtherMap }: AppliedProduct["lag"]): string {
  if (isOfOtherMap)
    return "lag not found: the log's target rates are not this plan's map's, as of one driven by maps of before";
  if (readings === 0) return "lag not found: the log has no times, or the map no changes";
  if (explained < LEAST_EXPLAINED) return "lag not found: the map explains nothing of the rates' spread";
  return `the meter follows the map ${numberText(lagSeconds, 1)} s late (explains ${numberText(100 * explained, 0)} % of the rates' spread)`;
}
