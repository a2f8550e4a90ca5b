import type { Plan } from "../plan/index.ts";
import type { LoadForm } from "../report/index.ts";
import { numberText } from "../units/index.ts";
import type { BuiltMap } from "./built-maps.ts";
import { loadedIn } from "./load-words.ts";
import type { StickPass } from "./no-sticks.ts";
import { isTaskData } from "./place-map.ts";
import { type StickMap, sheetsOfEarlier } from "./stick-json.ts";

/** A field of the build with maps for the stick's machine, as it stands on the stick. */
export interface SheetField {
  readonly id: string;
  readonly name: string;
  /** Forms of this build's maps of it that are on the stick; none where it is not on it, or is of an earlier plan. */
  readonly forms: readonly LoadForm[];
  /** Its maps on the stick where they are of an earlier plan; else none. */
  readonly earlier: readonly StickMap[];
}

/** The fields of a pass's maps. Of one that was not written again the stick has files alone, no task. */
export function sheetFields(
  plan: Plan,
  maps: readonly BuiltMap[],
  onStick: readonly StickMap[],
  formsOf: (map: BuiltMap) => readonly LoadForm[],
  isWritten: (field: string) => boolean,
): SheetField[] {
  const firsts = new Map(maps.toReversed().map((map) => [map.field, map]));
  return [...firsts].map(([id, map]) => {
    const own = onStick.filter(({ field }) => field === id);
    const earlier = own.some(({ ofEarlierPlan }) => ofEarlierPlan) ? own : [];
    const isHere = own.length > 0 && earlier.length === 0;
    return {
      id,
      name: plan.fields.find((field) => field.id === id)?.name ?? id,
      forms: isHere ? formsOf(map).filter((form) => isWritten(id) || !isTaskData(form)) : [],
      earlier,
    };
  });
}

/**
 * The build's sheet as the stick's: of each field the forms that are on the stick; a field that is not on it without its pages, and one whose maps
 * there are of an earlier plan with those maps in their place.
 */
export function asOnStick(
  cab: string,
  pass: StickPass,
  fields: readonly SheetField[],
  forms: readonly LoadForm[],
): string {
  const byId = new Map(fields.map((field) => [field.id, field]));
  const withForms = (html: string, here: readonly LoadForm[]): string =>
    html.replaceAll(/<li data-form="([^"]+)">.*?<\/li>/gs, (step, form) =>
      here.some((one) => one === form) ? step : "",
    );
  const seen = new Set<string>();
  const pages = cab.replaceAll(/<section class="page"[^>]*>.*?<\/section>\n?/gs, (page) => {
    const id = /^<section[^>]* data-field="([^"]*)"/.exec(page)?.[1];
    const field = id === undefined ? undefined : byId.get(id);
    if (field === undefined) return withForms(page, forms);
    if (field.forms.length > 0) return withForms(page, field.forms);
    const isFirst = !seen.has(field.id);
    seen.add(field.id);
    return isFirst && field.earlier.length > 0 ? earlierPage(page, pass, field) : "";
  });
  return pages.replaceAll(/<tr data-field="([^"]*)">.*?<\/tr>/gs, (row, id) => {
    const field = byId.get(id);
    if (field === undefined || field.forms.length > 0) return row;
    const words =
      field.earlier.length === 0
        ? "not on this stick"
        : `of an earlier plan: ${field.earlier.map((map) => `${nameOf(map)} ${poundsOf(map)} lb`).join("; ")}`;
    const told = row.replace(/(<td data-pass="[^"]*">).*?(<\/td>)/s, `$1${plain(words)}$2`);
    return field.earlier.length > 0
      ? told
      : told.replace(/<td class="n">\d*<\/td>/, '<td class="n"></td>').replace(/<a [^>]*>(.*?)<\/a>/s, "$1");
  });
}

/** What is loaded first, by its path on the stick, with that file's own pounds. */
const nameOf = ({ load, name }: StickMap): string => load?.name ?? name;
const poundsOf = ({ load, totalLb }: StickMap): string => numberText(load?.totalLb ?? totalLb, 0);

/** The field's page with its head, and in place of the new map's figures those of the files that are on the stick. */
function earlierPage(page: string, pass: StickPass, { name, earlier }: SheetField): string {
  const head = page.slice(0, page.indexOf("</header>") + "</header>".length);
  const rows = earlier.map((map) => {
    const least = map.load === undefined ? "" : numberText(map.load.minLbPerAc, 0);
    const cells = [loadedIn(pass, map.bin), map.product, nameOf(map)].map(
      (text) => `<td>${plain(text)}</td>`,
    );
    const numbers = [poundsOf(map), least].map((text) => `<td class="n">${text}</td>`);
    return `<tr>${[...cells, ...numbers].join("")}</tr>`;
  });
  const titles = ["load in", "product", "file"].map((title) => `<th>${title}</th>`).join("");
  const words =
    `The maps of ${name} on this stick are of an earlier plan: the field is marked as loaded or done, and they were not written again. ` +
    `What was printed with them holds: passes, rates and checks are on ${sheetsOfEarlier(earlier).join(", ")}.`;
  const reckoned =
    pass === "strip"
      ? " This build's fills and broadcast maps reckon with its new strip maps, which are not on this stick."
      : "";
  return (
    `${head}<div class="flag"><p><b>${plain(`${words}${reckoned}`)}</b></p></div>` +
    `<table><thead><tr>${titles}<th class="n">lb</th><th class="n">least, lb/ac</th></tr></thead><tbody>${rows.join("")}</tbody></table></section>\n`
  );
}

/** Text inside an element. */
export const plain = (text: string): string =>
  text.replaceAll("&", "&amp;").replaceAll("<", "&lt;").replaceAll(">", "&gt;");
