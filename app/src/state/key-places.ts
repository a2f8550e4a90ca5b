import type { SheetName } from "./route.ts";

/** Where on the page a key of the plan is given: the sheet, and the heading it stands under. */
export interface KeyPlace {
  readonly key: string;
  readonly sheet: SheetName;
  readonly under: string;
}

const TURNS = { sheet: "strips", under: "Turns, lead, delays" } as const;
const ROWS = { sheet: "strips", under: "Rows, steps, spreader" } as const;
const RIG = { sheet: "fills", under: "Rig and tender" } as const;

/** Keys with all that lies below them; the first that fits counts. */
export const PLACES: readonly KeyPlace[] = [
  { key: "seed", sheet: "split", under: "Salt near the seed" },
  { key: "rig.turnRadiusFt", ...TURNS },
  { key: "rig.leadS", ...TURNS },
  { key: "rig.shortestStretchFt", ...TURNS },
  { key: "rig.sections", sheet: "strips", under: "Sections that start and stop alone" },
  { key: "rig.responseS", sheet: "strips", under: "Meter response" },
  { key: "rig.segmentM", sheet: "strips", under: "Segment length" },
  { key: "rig.overlapPercent", sheet: "strips", under: "Overlap" },
  { key: "rig.headlandPasses", sheet: "strips", under: "Headland passes" },
  { key: "rig.rows", ...ROWS },
  { key: "rig.rowSpacingIn", ...ROWS },
  { key: "rig.rateStepLbPerAc", ...ROWS },
  { key: "spreader", ...ROWS },
  { key: "rig.planter", sheet: "strips", under: "Planter on the strips" },
  { key: "planter", sheet: "strips", under: "Planter on the strips" },
  { key: "rig", ...RIG },
  { key: "tender", ...RIG },
  { key: "split", sheet: "split", under: "" },
  { key: "season.start", sheet: "fills", under: "Days and planter" },
  { key: "season.workableDays", sheet: "fills", under: "Days and planter" },
  { key: "season.planters", sheet: "fills", under: "Days and planter" },
  { key: "pricesUsdPerTon", sheet: "order", under: "$ a ton" },
  { key: "order.terms", sheet: "order", under: "On hand and booking" },
  { key: "exclusions", sheet: "strips", under: "Draw ground to keep off" },
  { key: "budget", sheet: "need", under: "What ground below critical wants first" },
];

/** Keys that are given in plan.json alone. */
const FILE_ONLY =
  /^(?:fills|controller|maps|spreader\.products|firstSeasonYear|samplingLimitYears|cropYear|season\.(?!start|workableDays|planters)|order\.(?!terms))/;
/** `rig.work.mph`, and no file such as `order.html`. */
const KEYS =
  /\b(?:seed|rig|tender|spreader|split|season|order|fills|controller|maps)\.(?!(?:html|md|csv|json|zip|shp)\b)[a-zA-Z0-9]+(?:\[\d*\])?(?:\.[a-zA-Z0-9]+)*|\b(?:pricesUsdPerTon|firstSeasonYear|samplingLimitYears|cropYear)\b/g;

/** Keys of the plan that words name, and one that is named as the place of a notice; each once, in their order. */
export function keysIn(words: string, where = ""): string[] {
  const named = words.match(KEYS) ?? [];
  const isKey = PLACES.some(({ key }) => where === key || where.startsWith(`${key}.`));
  // The words are more particular.
  const isSaid = named.some((key) => key === where || key.startsWith(`${where}.`));
  return [...new Set([...named, ...(isKey && !isSaid ? [where] : [])])];
}

/** Words with the plan's keys that the page has a control for left to the way there: `give seed.distanceIn` is `give it`. */
export const withoutKeys = (words: string): string =>
  words.replace(
    new RegExp(`\\b([Gg]ive) (${KEYS.source})(?: in the plan)?`, "g"),
    (all: string, give: string, key: string) => (placeOfKey(key) ? `${give} it` : all),
  );

/** Where a key is given; null: in plan.json. Undefined: no key that anybody gives. */
export function placeOfKey(key: string): KeyPlace | null | undefined {
  if (FILE_ONLY.test(key)) return null;
  return PLACES.find(
    (one) => key === one.key || key.startsWith(`${one.key}.`) || key.startsWith(`${one.key}[`),
  );
}
