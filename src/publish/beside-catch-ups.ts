import { isCatchUpName } from "../plan/index.ts";
import type { StickPass } from "./no-sticks.ts";

/** What stands beside a set. */
export interface Beside {
  /** Catch-up maps of other fields, on the spreader's stick: to be loaded, each for its own field. */
  readonly catchUps: readonly string[];
  /** What is not to be loaded. */
  readonly others: readonly string[];
}

/** Parts what stands beside a set of a pass, as `besideSet` names it. Catch-up maps of the set's own fields are refused before. */
export function besideParts(pass: StickPass, beside: readonly string[]): Beside {
  const isCatchUp = (one: string): boolean => pass === "broadcast" && isCatchUpName(one);
  return {
    catchUps: beside.filter((one) => isCatchUp(one) && /\.shp$/i.test(one)),
    others: beside.filter((one) => !isCatchUp(one)),
  };
}
