import { InputError } from "../errors/index.ts";
import type { Plan, ZeroRate } from "../plan/index.ts";
import { KG_HA_MARK } from "../prescription/index.ts";
import type { LoadForm } from "../report/index.ts";
import type { BuiltMap } from "./built-maps.ts";
import { isTaskData } from "./place-map.ts";

/** Whether a form of a map has a rate 0 in it; holes aside, where nothing may be laid. Of a task also its default and the rates off the field. */
const hasZero = (map: BuiltMap, form: LoadForm): boolean => {
  if (form === "shapefile" || form === "kg-ha") return map.minLbPerAc === 0;
  const figures = map.extraFigures[form];
  return (figures?.minLbPerAc ?? map.minLbPerAc) === 0 || (isTaskData(form) && figures?.sendsZero !== false);
};

/**
 * The forms of a map that go on a stick: for a controller that must not get a rate 0 those alone in which no map of its field
 * and no task has one, as the cab sheet has it (`loadOrder`); holes aside, where nothing may be laid. Else all.
 */
export function formsWithoutZeros(
  zeroRate: ZeroRate,
  maps: readonly BuiltMap[],
  forms: readonly LoadForm[],
): (map: BuiltMap) => readonly LoadForm[] {
  if (zeroRate.does !== "small") return () => forms;
  const isSafe = (field: string, form: LoadForm): boolean =>
    maps.every((map) => map.field !== field || !hasZero(map, form));
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

/** What is left out and has a rate 0, each name once: a map by `nameOf` with the mark of its form, else the task. */
export function namesWithZeros(
  maps: readonly BuiltMap[],
  forms: readonly LoadForm[],
  formsOf: (map: BuiltMap) => readonly LoadForm[],
  nameOf: (map: BuiltMap, mark: string) => string,
): string[] {
  const names = forms.flatMap((form) => {
    const bad = maps.filter((map) => !formsOf(map).includes(form) && hasZero(map, form));
    return bad.map((map) =>
      form === "shapefile" || form === "kg-ha"
        ? nameOf(map, form === "kg-ha" ? KG_HA_MARK : "")
        : `task “${map.extraFigures[form]?.task ?? map.stem}”`,
    );
  });
  return [...new Set(names)];
}

/**
 * Throws `zero-rate-not-built` where a controller that must not get a rate 0 would get one, or nothing: what it loads of a map has a 0, and
 * no fallback with the small rate there goes on the stick.
 */
export function requireNoZeros(
  zeroRate: ZeroRate,
  controller: Plan["controller"],
  maps: readonly BuiltMap[],
  formsOf: (map: BuiltMap) => readonly LoadForm[],
): void {
  if (zeroRate.does !== "small") return;
  const { lbPerAc } = zeroRate;
  const isSafe = (map: BuiltMap): boolean =>
    formsOf(map).length > 0 &&
    (map.minLbPerAc > 0 || (formsOf(map).includes("fallback") && map.smallRateLbPerAc === lbPerAc));
  const bad = maps.filter((map) => !isSafe(map));
  const [first] = [...bad.filter((map) => map.minLbPerAc === 0), ...bad];
  if (first === undefined) return;
  const what =
    first.minLbPerAc === 0 ? "has ground with a rate 0" : "has a rate 0 in its task data, off the field";
  const message = `${first.stem} ${what}, and no fallback with ${lbPerAc} lb/ac there goes on the stick.`;
  const loads = controller?.loads;
  const takesFallback = loads === undefined || loads.includes("fallback");
  const isInKgHa = loads?.includes("kg-ha") === true;
  const remedy = takesFallback
    ? `Put “fallback” among the plan's extras, build with --answer zero-rate=small:${lbPerAc}, and write the stick then.`
    : isInKgHa
      ? `No form in kg/ha is without a 0: put “fallback” in place of “kg-ha” in controller.loads of the plan, set the display to lb/ac, build with --answer zero-rate=small:${lbPerAc}, and write the stick then.`
      : `Put “fallback” into controller.loads of the plan, build with --answer zero-rate=small:${lbPerAc}, and write the stick then.`;
  throw new InputError("zero-rate-not-built", message, remedy);
}
