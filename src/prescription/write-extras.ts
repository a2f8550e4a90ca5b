import type { MultiPolygon } from "../geo/index.ts";
import type { Extra, ExtraForm, ExtraGround } from "./extra.ts";
import { type FallbackLimits, writeFallback } from "./fallback.ts";
import { REMAINDER, remainderOf } from "./file-stem.ts";
import { csvExtra, kgHaExtra, kmlExtra } from "./looking-extras.ts";
import type { Prescription } from "./prescription.ts";
import { type TaskFrame, taskDataExtra } from "./task-data-extra.ts";

export interface ExtraWants {
  readonly forms: readonly ExtraForm[];
  readonly limits: Omit<FallbackLimits, "stepLbPerAc">;
  readonly taskRates: TaskFrame["rates"];
  readonly always?: NonNullable<TaskFrame["always"]>;
  readonly date: string;
}

/** The field as the extra forms name it. */
interface ExtraField {
  /** Place in the plan, from 1: numbers of fields and tasks follow from it. */
  readonly number: number;
  readonly name: string;
  /** Short code, as file names begin. */
  readonly code: string;
  readonly farm: string;
  readonly areaM2: number;
  readonly boundary: MultiPolygon;
  /** The plan's products in bin order, and others that the maps lay. */
  readonly products: readonly string[];
}

/** Metres of a grid cell each way, about. */
const TASK_CELL_M = 10;

/**
 * The extra forms of one field's maps of one pass, in the order of the forms wanted. The bins of a strip rig are worked in
 * one go and so share a task, a rate a product; a spreader brings one product at a time, a task each.
 */
export function writeExtras(
  maps: readonly Prescription[],
  ground: ExtraGround,
  field: ExtraField,
  stepLbPerAc: number,
  wants: ExtraWants,
): Extra[] {
  const tasks = inTasks(maps);
  return wants.forms.flatMap((form): Extra[] => {
    if (form === "kg-ha") return maps.map((map) => kgHaExtra(map, ground, wants.date));
    if (form === "kml") return maps.map((map) => kmlExtra(map, ground));
    if (form === "csv") return maps.map((map) => csvExtra(map, ground));
    if (form === "fallback") {
      const limits = { ...wants.limits, stepLbPerAc };
      return maps.map((map) => writeFallback(map, ground, limits, wants.date));
    }
    return tasks.map((own) =>
      taskDataExtra(own, ground, frameOf(form === "taskdata-4" ? 4 : 3, own, field, wants)),
    );
  });
}

/** What of a task's maps its name tells. */
type NamedOfTask = Pick<Prescription, "pass" | "product" | "stem">;

/** The maps of one pass as tasks take them. */
function inTasks<T extends NamedOfTask>(maps: readonly T[]): (readonly T[])[] {
  if (maps.length === 0) return [];
  return maps[0]!.pass === "strip" ? [maps] : maps.map((map) => [map]);
}

/** Names of the tasks of a field's maps of one pass, whether task data is written or not. `code` is the field's, as file names begin. */
export const taskNames = (maps: readonly NamedOfTask[], code: string): string[] =>
  inTasks(maps).map((own) => nameOfTask(own, code));

/** As the files' names tell what is left of a field from the whole of it. */
function nameOfTask(maps: readonly NamedOfTask[], code: string): string {
  const { pass, product, stem } = maps[0]!;
  if (pass === "broadcast") return `${code} broadcast ${product}`;
  const what = remainderOf(stem) === null ? "strip" : REMAINDER;
  return `${code} ${what} ${maps.map((map) => map.product).join(" ")}`;
}

function frameOf(
  version: 3 | 4,
  maps: readonly Prescription[],
  field: ExtraField,
  wants: ExtraWants,
): TaskFrame {
  const { pass, product, stem } = maps[0]!;
  const isStrip = pass === "strip";
  const place = isStrip ? 0 : 1 + field.products.indexOf(product);
  return {
    version,
    number: field.number * 10 + place,
    name: nameOfTask(maps, field.code),
    folder: isStrip ? `${field.code}_ST` : stem,
    farm: field.farm,
    field: {
      number: field.number,
      name: field.name,
      areaM2: field.areaM2,
      boundary: field.boundary,
    },
    products: field.products,
    rates: wants.taskRates,
    cellM: TASK_CELL_M,
    ...(wants.always ? { always: wants.always } : {}),
  };
}
