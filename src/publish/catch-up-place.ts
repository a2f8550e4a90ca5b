import type { Plan } from "../plan/index.ts";
import { FALLBACK_MARK, KG_HA_MARK } from "../prescription/index.ts";
import { counted, numberText } from "../units/index.ts";
import type { BuiltMap } from "./built-maps.ts";

/** The forms of a catch-up map: folder, what is behind its name, unit of the rates. */
const FORMS = {
  shapefile: { folder: "prescriptions/broadcast", mark: "", unit: "lb/ac" },
  "kg-ha": { folder: "extras/kg-ha", mark: KG_HA_MARK, unit: "kg/ha" },
  fallback: { folder: "extras/fallback", mark: FALLBACK_MARK, unit: "lb/ac" },
} as const;
type Form = keyof typeof FORMS;

/** Where the files to copy by hand of a set of catch-up maps are, and what to know of them. */
export interface CatchUpPlace {
  /** Folders of the set, in words; empty where no form of it is one that the controller takes. */
  readonly from: string;
  /** Names and units, to go on from “onto an empty stick”; empty where the folder holds the maps alone. */
  readonly which: string;
  /** Sentences: what is never to be loaded and why, and what to do where nothing can be. */
  readonly said: readonly string[];
}

const firstFormOf = (map: BuiltMap): Form | undefined =>
  map.load.find((form): form is Form => form in FORMS && (form === "shapefile" || form in map.extras));

/** What to copy of catch-up maps: the form of each that its controller is to be given first. `plan` is the one they are of. */
export function catchUpPlace(plan: Plan, maps: readonly BuiltMap[]): CatchUpPlace {
  const placed = maps.flatMap((map) => {
    const form = firstFormOf(map);
    return form === undefined ? [] : [{ map, form, name: `${map.stem}${FORMS[form].mark}` }];
  });
  if (placed.length === 0) return { from: "", which: "", said: [withoutForm(maps)] };
  const forms = [...new Set(placed.map(({ form }) => form))];
  const namesOf = (form: Form): string =>
    placed
      .filter((one) => one.form === form)
      .map(({ name }) => name)
      .join(", ");
  const lists = forms.map(
    (form) =>
      `${namesOf(form)}${forms.length > 1 ? ` of ${FORMS[form].folder}` : ""}, rates in ${FORMS[form].unit}`,
  );
  return {
    from: forms.map((form) => FORMS[form].folder).join(" and "),
    which: forms.length === 1 && forms[0] === "shapefile" ? "" : `: ${lists.join("; ")}`,
    said: [
      ...neverWords(placed.map(({ map }) => map)),
      ...unitWords(plan, forms),
      ...nameWords(
        plan,
        placed.map(({ name }) => name),
      ),
    ],
  };
}

/** The maps with a 0 whose fallback was written because the controller must not get one. */
function neverWords(maps: readonly BuiltMap[]): string[] {
  const bad = maps.filter((map) => map.smallRateLbPerAc !== null && map.minLbPerAc === 0);
  if (bad.length === 0) return [];
  const names = bad.flatMap(({ stem, extras }) => [
    stem,
    ...(extras["kg-ha"] === undefined ? [] : [`${stem}${KG_HA_MARK}`]),
  ]);
  return [`Never load ${names.join(", ")}: a rate 0 is in it, which this controller must not get.`];
}

function unitWords({ controller }: Plan, forms: readonly Form[]): string[] {
  if (forms.includes("kg-ha")) return ["The other files of the set are in lb/ac: never load them as kg/ha."];
  const loads = controller?.loads ?? [];
  const isInKgHa = loads.includes("kg-ha") && !loads.includes("shapefile") && !loads.includes("fallback");
  return isInKgHa ? ["No form in kg/ha is without a 0: set the display to lb/ac before loading."] : [];
}

/** What its controller wants of names and folders, where the names of the set are longer. */
function nameWords({ controller }: Plan, names: readonly string[]): string[] {
  const { nameLength, folder, oneMapAFolder } = controller ?? {};
  const where = [
    ...(folder === undefined ? [] : [`in its folder ${folder}`]),
    ...(oneMapAFolder === true ? ["each map in a folder of its own"] : []),
  ];
  const put = where.length === 0 ? [] : [`Put them ${where.join(", ")}.`];
  if (nameLength === undefined || names.every((name) => name.length <= nameLength)) return put;
  return [
    `This controller takes names of ${counted(nameLength, "letter")}: give all files of a map one shorter name, no two maps the same, and write down which is which.`,
    ...put,
  ];
}

/** A controller that takes tasks alone: no catch-up is written as one. */
function withoutForm(maps: readonly BuiltMap[]): string {
  const pounds = maps.map(
    ({ stem, product, totalLb }) => `${stem} ${numberText(totalLb, 0)} lb of ${product}`,
  );
  const isFallback = maps.every(({ extras }) => extras.fallback !== undefined);
  const { folder } = FORMS[isFallback ? "fallback" : "shapefile"];
  return `This controller takes task data alone (controller.loads), and no catch-up is written as task data: spread it flat by its pounds (${pounds.join(", ")}), or copy ${folder}, rates in lb/ac, for a display that takes shapefiles.`;
}
