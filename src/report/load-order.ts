import { beyondController, type FieldResult, type Plan, smallRateInWords } from "../plan/index.ts";
import { type Extra, FALLBACK_MARK, type Prescription } from "../prescription/index.ts";
import { capital, counted, numberText } from "../units/index.ts";
import { loadedMaps } from "./loaded-maps.ts";
import { stemOf } from "./map-words.ts";
import { acresText } from "./numbers.ts";

/** A form of a map that a controller may be given. */
export type LoadForm = NonNullable<NonNullable<Plan["controller"]>["loads"]>[number];

/** What to pick on the display for one map, with its own figures. */
export interface FileToLoad {
  readonly map: Prescription;
  /** Name of the files without ending, or of the task. */
  readonly name: string;
  readonly totalLb: number;
  readonly leastLbPerAc: number;
  readonly mostLbPerAc: number;
  /** Acres that the file covers: the field's and, of a plain fallback, its holes'. */
  readonly areaAc: number;
  /** Acres of holes in it that have rate 0. */
  readonly holesAc: number;
  /** Acres of the field's own that are kept clear and have rate 0 in it, where no other ground may have a 0. */
  readonly keptClearAc: number;
  /** It has a rate 0 on ground or, of a task, anywhere; holes and what is kept clear aside. */
  readonly hasZero: boolean;
}

/** One form of all maps of a pass. */
export interface LoadStep {
  readonly form: LoadForm;
  readonly files: readonly FileToLoad[];
  /** What the form is, and what is different from the map. */
  readonly words: string;
}

/** What to load of one field's maps of a pass, the form that will load first. */
export interface LoadOrder {
  readonly steps: readonly LoadStep[];
  /** Why a form that was written is not to be loaded, or comes later; empty where nothing is to be said. */
  readonly doubts: readonly string[];
}

/**
 * The forms of a pass in the order to try them: what the controller loads as typed, or the maps and of what was written the
 * fallback and one version of task data. A map beyond what the controller takes comes behind its fallback; a form
 * with a rate 0 is left out where the controller must not get one.
 */
export function loadOrder(plan: Plan, field: FieldResult, pass: Prescription["pass"]): LoadOrder {
  const maps = field.prescriptions.filter((map) => map.pass === pass && map.files.size > 0);
  if (maps.length === 0) return { steps: [], doubts: [] };
  const stems = new Set(maps.map((map) => map.stem));
  const extras = field.extras.filter((extra) => extra.stems.some((stem) => stems.has(stem)));
  const all = formsOf(plan, extras).map((form) => stepOf(plan, form, maps, extras));
  const ground = pass === "strip" ? field.passes : field.swaths;
  const beyond = [...new Set(maps.flatMap((map) => beyondController(plan, map, ground)))].join("; ");
  const told = all.map((step) =>
    isMapItself(step) && beyond !== "" ? { ...step, words: `${step.words} (${beyond})` } : step,
  );
  const steps = beyond === "" ? told : fallbackFirst(told);
  const isAlone = beyond !== "" && steps.length === 1 && isMapItself(steps[0]!);
  const doubts = isAlone ? [`May be refused: ${beyond}`] : [];
  if (!mustNotGetZero(plan, extras)) return { steps, doubts };
  const more = smallRateDoubts(plan, field, pass);
  const safe = fallbackFirst(steps).filter(({ files }) => files.every((file) => !file.hasZero));
  if (safe.length === steps.length) return { steps: safe, doubts: [...doubts, ...zeroDoubts(safe), ...more] };
  const bad = steps.flatMap(({ files }) => files.filter((file) => file.hasZero));
  const names = [...new Set(bad.map(({ name }) => name))].join(", ");
  const never = `Never load ${names}: a rate 0 is in it, which this controller must not get`;
  return {
    steps: safe,
    doubts: [...zeroDoubts(safe), ...more, never],
  };
}

/** What the files lay beyond the maps, where it was said of the field: of a remainder's it is not, whose worked ground has the small rate too. */
const smallRateDoubts = (plan: Plan, field: FieldResult, pass: Prescription["pass"]): string[] => {
  const words = smallRateInWords(plan, field, pass);
  const isSaid = field.notices.some(({ message }) => message === `${field.field.name}: ${words}`);
  return isSaid ? [capital(words)] : [];
};

/** The map's own polygons, in lb/ac or in kg/ha. */
const isMapItself = ({ form }: LoadStep): boolean => form === "shapefile" || form === "kg-ha";

/** Holes and ground kept clear at 0 in files for a controller that must not get a 0: nothing may be laid there, so somebody has to stop the meters. */
function zeroDoubts(steps: readonly LoadStep[]): string[] {
  const all = steps.flatMap(({ files }) => files);
  const holed = all.filter(({ holesAc }) => holesAc > 0);
  const clear = all.filter(({ keptClearAc }) => keptClearAc > 0);
  const names = (files: readonly FileToLoad[]): string =>
    [...new Set(files.map(({ name }) => name))].join(" and ");
  return [
    ...holed
      .slice(0, 1)
      .map(
        ({ holesAc }) =>
          `Holes of the field, ${acresText(holesAc)} ac, have rate 0 in ${names(holed)}, and this controller must not get a 0: do not drive into one with the meters on; stop them by hand before it`,
      ),
    ...clear
      .slice(0, 1)
      .map(
        ({ keptClearAc }) =>
          `Ground that is kept clear, ${acresText(keptClearAc)} ac, has rate 0 in ${names(clear)}, and this controller must not get a 0: do not drive onto it with the meters on; stop them by hand before it`,
      ),
  ];
}

/** Forms that the stick takes, in their usual order. */
function formsOf({ controller }: Plan, extras: readonly Extra[]): LoadForm[] {
  const isThere = (form: LoadForm): boolean =>
    form === "shapefile" || extras.some((extra) => extra.form === form);
  const said = controller?.loads;
  const order: readonly LoadForm[] = ["shapefile", "kg-ha", "fallback", "taskdata-4", "taskdata-3"];
  return said === undefined
    ? usualForms(isThere)
    : order.filter((form) => said.includes(form) && isThere(form));
}

/** What a controller is given that nothing is said of: the maps and, of what was written, the fallback and one version of task data, 4 before 3. */
export function usualForms(isThere: (form: LoadForm) => boolean): LoadForm[] {
  const tasks = (["taskdata-4", "taskdata-3"] as const).find(isThere);
  const usual: LoadForm[] = ["shapefile", "fallback", ...(tasks ? [tasks] : [])];
  return usual.filter(isThere);
}

const fallbackFirst = (steps: readonly LoadStep[]): LoadStep[] => [
  ...steps.filter(({ form }) => form === "fallback"),
  ...steps.filter(({ form }) => form !== "fallback"),
];

/** Whether the controller must not get a rate 0, by the plan or by what the other forms were written for. */
export const mustNotGetZero = (plan: Plan, extras: readonly Extra[]): boolean =>
  plan.controller?.zeroRate === "small" || extras.some((extra) => extra.smallRateLbPerAc !== undefined);

function stepOf(
  plan: Plan,
  form: LoadForm,
  maps: readonly Prescription[],
  extras: readonly Extra[],
): LoadStep {
  if (form === "shapefile" || form === "kg-ha") {
    const { fileOf } = loadedMaps(plan);
    const files = maps.map((map) => ({
      map,
      name: fileOf(map),
      totalLb: map.totalLb,
      leastLbPerAc: map.minLbPerAc,
      mostLbPerAc: map.maxLbPerAc,
      areaAc: map.areaAc,
      holesAc: 0,
      keptClearAc: 0,
      hasZero: map.minLbPerAc === 0,
    }));
    return { form, files, words: form === "kg-ha" ? "the map in kg/ha" : "the map" };
  }
  const own = maps.map((map) => {
    const extra = extras.find((one) => one.form === form && one.stems.includes(map.stem))!;
    const which = extra.stems.indexOf(map.stem);
    const file: FileToLoad = {
      map,
      name: extra.task ?? `${stemOf(map)}${FALLBACK_MARK}`,
      totalLb: extra.totalLb[which]!,
      leastLbPerAc: extra.leastLbPerAc[which]!,
      mostLbPerAc: extra.mostLbPerAc[which]!,
      areaAc: map.areaAc + (extra.holesAc ?? 0),
      holesAc: extra.holesAc ?? 0,
      keptClearAc: extra.keptClearAc ?? 0,
      hasZero: extra.leastLbPerAc[which] === 0 || extra.sendsZero === true,
    };
    return { file, shapes: extra.shapes, changeLb: extra.changeLb[which]! };
  });
  const files = own.map(({ file }) => file);
  if (form !== "fallback") return { form, files, words: "the task, in the folder TASKDATA" };
  const plain = own.map(({ shapes, changeLb }) => {
    const lb = Math.abs(changeLb);
    const more = changeLb < 0 ? "less" : "more";
    return `${counted(shapes, "polygon")}, ${lb < 0.05 ? "the same pounds" : `${numberText(lb, 1)} lb ${more}`}`;
  });
  return { form, files, words: `the plain fallback (${plain.join("; ")})` };
}
