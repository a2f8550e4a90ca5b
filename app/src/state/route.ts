import { computed, type ReadonlySignal, signal } from "@preact/signals";

export type SheetName =
  | "farm"
  | "soil"
  | "need"
  | "split"
  | "strips"
  | "fills"
  | "order"
  | "cab-sheet"
  | "applied";

export interface Route {
  readonly sheet: SheetName;
  /** Field id; empty on the farm's sheets. */
  readonly field: string;
  /** What the sheet shows: the test, the oxide, the product; empty for the sheet's first. */
  readonly part: string;
  /** The hash was not understood. */
  readonly unknown: boolean;
}

const FIELD_SHEETS = ["soil", "need", "split", "strips", "fills", "applied"] as const;
const FARM_SHEETS = ["farm", "order", "cab-sheet"] as const;
const isFieldSheet = (word: string): word is (typeof FIELD_SHEETS)[number] =>
  (FIELD_SHEETS as readonly string[]).includes(word);
/** Sheets about the whole farm. */
export const isFarmSheet = (word: string): word is (typeof FARM_SHEETS)[number] =>
  (FARM_SHEETS as readonly string[]).includes(word);

/**
 * `#farm`, `#farm/order`, `#cab-sheet`, `#north-kettle/soil/P`, and `#/soil/P` while no field is open; anything else is
 * the farm with `unknown` set.
 */
export function readHash(hash: string): Route {
  const words = wordsOf(hash);
  const [none, sheetOfNone = "", partOfNone = ""] = words;
  if (none === "" && isFieldSheet(sheetOfNone)) return route(sheetOfNone, "", partOfNone);
  if (none === "") words.shift();
  const [first = "", second = "", third = ""] = words;
  if (first === "" || (first === "farm" && second === "")) return route("farm", "", "");
  if (first === "farm" && isFarmSheet(second)) return route(second, "", "");
  if (isFarmSheet(first) && second === "") return route(first, "", "");
  if (isFieldSheet(second)) return route(second, first, third);
  if (second === "cab-sheet") return route("cab-sheet", first, "");
  return { ...route("farm", "", ""), unknown: true };
}

/** An address that is not written as addresses are is one of an unknown sheet. */
function wordsOf(hash: string): string[] {
  const words = hash.replace(/^#/, "").split("/");
  try {
    return words.map(decodeURIComponent);
  } catch {
    return words;
  }
}

export function writeHash({ sheet, field, part }: Pick<Route, "sheet" | "field" | "part">): string {
  if (sheet === "farm") return "#farm";
  if (sheet === "order") return "#farm/order";
  if (sheet === "cab-sheet") return field === "" ? "#cab-sheet" : `#${encodeURIComponent(field)}/cab-sheet`;
  return `#${encodeURIComponent(field)}/${sheet}${part === "" ? "" : `/${encodeURIComponent(part)}`}`;
}

const route = (sheet: SheetName, field: string, part: string): Route => ({
  sheet,
  field,
  part,
  unknown: false,
});

/** The plat shows the farm's fields, not one of them. */
export const hasFarmPlat = ({ sheet }: Pick<Route, "sheet">): boolean =>
  sheet === "farm" || sheet === "order";

const hash = signal(globalThis.location?.hash ?? "");
globalThis.addEventListener?.("hashchange", () => {
  hash.value = location.hash;
});

export const here: ReadonlySignal<Route> = computed(() => readHash(hash.value));

/** Go to a sheet; back and forward lead here again. */
export function goTo(next: Pick<Route, "sheet"> & Partial<Route>): void {
  const { sheet, field = "", part = "" } = next;
  location.hash = writeHash({ sheet, field, part });
  hash.value = location.hash;
}
