import { acresText } from "../report/index.ts";
import { numberText } from "../units/index.ts";
import type { StickPass } from "./no-sticks.ts";
import type { StickMap } from "./stick-json.ts";

/** What a map of the pass is loaded in: `bin L`, or the spreader. */
export const loadedIn = (pass: StickPass, bin: string): string =>
  pass === "strip" ? `bin ${bin}` : "spreader";

/**
 * What of a map of the pass is to be loaded first, by the name it has on the stick, and its figures:
 * `bin L, 11-52-0, 5,681 lb, least 5 lb/ac`.
 */
export function loadFirstInWords(
  pass: StickPass,
  map: StickMap,
): { readonly name: string; readonly figures: string } {
  const load = map.load ?? { form: "shapefile", ...map, minLbPerAc: null };
  const { form, name, totalLb, minLbPerAc } = load;
  const { holesAc = 0, keptClearAc = 0 } = map.load ?? {};
  const holes = holesAc === 0 ? "" : `, 0 in its holes (${acresText(holesAc)} ac)`;
  const clear = keptClearAc === 0 ? "" : `, 0 on ground kept clear (${acresText(keptClearAc)} ac)`;
  const least = minLbPerAc === null ? "" : `, least ${numberText(minLbPerAc, 0)} lb/ac${holes}${clear}`;
  return {
    name: form.startsWith("taskdata") ? `TASKDATA, task “${name}”` : name,
    figures: `${loadedIn(pass, map.bin)}, ${map.product}, ${numberText(totalLb, 0)} lb${least}`,
  };
}
