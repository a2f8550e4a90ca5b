import { InputError } from "../errors/index.ts";
import { type FieldResult, isCatchUpName, type Plan, plannedStemOf } from "../plan/index.ts";
import { fieldCodes, taskNames } from "../prescription/index.ts";
import type { BuiltMap } from "./built-maps.ts";
import { catchUpPlace } from "./catch-up-place.ts";
import { namedOnStick, shortNamesOf } from "./stick-names.ts";

type Pass = "strip" | "broadcast";

/**
 * What is to be deleted so that a field's maps of a pass are not laid besides others, in words that go on from “delete”: the stems in any form, the
 * tasks where task data is loaded, tasks alone where nothing else is; and how the names begin on a stick where they are short.
 * Where names are too short for any stick there is none to name. `loaded` are names under which the ledger has maps of the field
 * as loaded: those that are no longer the plan's are to be deleted too.
 */
export function toDelete(
  plan: Plan,
  field: FieldResult,
  pass: Pass,
  loaded: readonly string[] = [],
): { what: string; onStick: string } {
  const own = field.prescriptions.filter((map) => map.pass === pass);
  const loads = plan.controller?.loads ?? ["shapefile", ...(plan.extras ?? [])];
  const isTask = (form: string): boolean => form.startsWith("taskdata");
  const code = fieldCodes(plan.fields.map(({ id }) => id)).get(field.field.id)!;
  const tasks = loads.some(isTask) ? taskNames(own, code) : [];
  const named = `${tasks.length === 1 ? "the task" : "the tasks"} ${tasks.map((name) => `“${name}”`).join(" and ")}`;
  const others = loadedOtherwise(plan, field, own, loaded);
  const and = others.length === 0 ? "" : `, and what the ledger has as loaded before: ${others.join(", ")},`;
  if (loads.every(isTask)) return { what: `${named}${and}`, onStick: "" };
  const maps = `${own.map(({ stem }) => stem).join(" and ")}, in any form`;
  return {
    what: tasks.length === 0 ? `${maps}${and || ","}` : `${maps}, and ${named}${and}`,
    onStick: onStickWords(shortOrNone(() => shortNamesOf(plan, field.field.id, field.prescriptions, pass))),
  };
}

/** Those of the names of loaded maps that none of a field's maps has on a stick, each once, without the letter of the revision. */
function loadedOtherwise(
  plan: Plan,
  field: FieldResult,
  own: readonly { readonly stem: string }[],
  loaded: readonly string[],
): string[] {
  const isOf = loadedAs(plan, field);
  const others = loaded.filter((name) => name !== "" && !own.some(({ stem }) => isOf(stem, name)));
  return [...new Set(others.map((name) => name.replace(/_[A-Z]{1,2}$/, "")))];
}

/**
 * Whether a name that the ledger has as loaded is that of a map of the field, by its stem: the stem itself, or what a stick of the plan's
 * build makes of it, short where the controller's names are.
 */
export function loadedAs(plan: Plan, field: FieldResult): (stem: string, name: string) => boolean {
  const [onStick] = shortOrNone(() => [namedOnStick(plan, field.field.id, field.prescriptions)]);
  return (stem, name) => name === stem || onStick?.(stem, name) === true;
}

function shortOrNone<T>(names: () => T[]): T[] {
  try {
    return names();
  } catch (error) {
    if (error instanceof InputError && error.code === "names-too-short") return [];
    throw error;
  }
}

const onStickWords = (short: readonly string[]): string =>
  short.length === 0 ? "" : `; on a stick and the display their names begin with ${short.join(" and ")}`;

/**
 * What to do with a folder of catch-up maps, which no stick is written from; null where the maps are a build's. `taken` are the planned
 * maps whose place they take, by stem; null where it is not known, and all that could be are named.
 */
export function catchUpByHand(
  dir: string,
  plan: Plan,
  maps: readonly BuiltMap[],
  taken: readonly string[] | null,
): string | null {
  if (maps.length === 0 || maps.some(({ stem }) => !isCatchUpName(stem))) return null;
  const { from, which, said } = catchUpPlace(plan, maps);
  const copy = from === "" ? [] : [`Copy the files of ${dir}/${from} by hand onto an empty stick${which}.`];
  const planned = maps
    .map((map) => ({ ...map, stem: plannedStemOf(map.stem) }))
    .filter(({ stem }) => taken?.includes(stem) ?? true);
  if (planned.length === 0) return [...copy, ...said].join(" ");
  const fields = [...new Set(planned.map(({ field }) => field))];
  const own = (id: string) => planned.filter(({ field }) => field === id);
  const short = shortOrNone(() => fields.flatMap((id) => shortNamesOf(plan, id, own(id), "broadcast")));
  const place = `Their place is that of ${planned.map(({ stem }) => stem).join(", ")}, in any form: delete those from the display first${onStickWords(short)}.`;
  return [...copy, ...said, place].join(" ");
}
