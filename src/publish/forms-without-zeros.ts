import type { ZeroRate } from "../plan/index.ts";
import { KG_HA_MARK } from "../prescription/index.ts";
import type { LoadForm } from "../report/index.ts";
import type { BuiltMap } from "./built-maps.ts";

const leastOf = (map: BuiltMap, form: LoadForm): number =>
  form === "shapefile" || form === "kg-ha"
    ? map.minLbPerAc
    : (map.extraFigures[form]?.minLbPerAc ?? map.minLbPerAc);

/**
 * The forms of a map that go on a stick: for a controller that must not get a rate 0 those alone in which no map of its field
 * has ground with 0, as the cab sheet has it (`loadOrder`); holes aside, where nothing may be laid. Else all.
 */
export function formsWithoutZeros(
  zeroRate: ZeroRate,
  maps: readonly BuiltMap[],
  forms: readonly LoadForm[],
): (map: BuiltMap) => readonly LoadForm[] {
  if (zeroRate.does !== "small") return () => forms;
  const isSafe = (field: string, form: LoadForm): boolean =>
    maps.every((map) => map.field !== field || leastOf(map, form) > 0);
  const byField = new Map<string, readonly LoadForm[]>();
  for (const { field } of maps) {
    if (!byField.has(field))
      byField.set(
        field,
        forms.filter((form) => isSafe(field, form)),
      );
  }
  return (map) => byField.get(map.field)!;
}

/** What is left out and has ground with 0, each name once: a map by `nameOf` with the mark of its form, else the task. */
export function namesWithZeros(
  maps: readonly BuiltMap[],
  forms: readonly LoadForm[],
  formsOf: (map: BuiltMap) => readonly LoadForm[],
  nameOf: (map: BuiltMap, mark: string) => string,
): string[] {
  const names = maps.flatMap((map) => {
    const bad = forms.filter((form) => !formsOf(map).includes(form) && leastOf(map, form) === 0);
    return bad.map((form) => {
      if (form === "shapefile" || form === "kg-ha") return nameOf(map, form === "kg-ha" ? KG_HA_MARK : "");
      return `task “${map.extraFigures[form]?.task ?? map.stem}”`;
    });
  });
  return [...new Set(names)];
}
