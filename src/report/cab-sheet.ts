import { inOneLine } from "../errors/index.ts";
import { type FieldFills, type FieldResult, inWorkingOrder, type RunResult } from "../plan/index.ts";
import { counted } from "../units/index.ts";
import { cabField, type RestOfField } from "./cab-field.ts";
import { passesDriven } from "./driving-words.ts";
import { beyondTender } from "./fill-words.ts";
import {
  fillsInWords,
  fillsOfRun,
  firstLoadTable,
  hasFills,
  isStripFinished,
  stopsTable,
} from "./fills-sheet.ts";
import { flagged, htmlDocument, list, paragraph, sheetPage } from "./html.ts";
import { headingText, lineFrame } from "./line-frame.ts";
import { loadOrder } from "./load-order.ts";
import { acresText, lbText } from "./numbers.ts";
import { escapeText } from "./svg.ts";
import { cautionsInWords } from "./take-care.ts";

/** What makes a cab sheet the sheet of a remainder. */
export interface RestWords extends RestOfField {
  /** What was done before: `after pass 24 (30 driven)`. */
  readonly done: string;
}

/**
 * The cab sheet of all fields of a build, in working order, as one HTML document that needs no script and fetches nothing: an
 * index where there is more than one field, then a printed page a field with what goes in which bin, which file, what the display should
 * show, what to do when the file is refused, the catch test, what to check and to mind, the line; law and local rules on
 * the last page. With `rest` it is the sheet of a remainder: the field's page alone, named as such.
 */
export function cabSheet(result: RunResult, rest?: RestWords): string {
  const open = inWorkingOrder(result.plan, result.fields).filter((field) => !isStripFinished(field));
  if (rest !== undefined) {
    const pages = open.map((field) => restPage(result, field, rest));
    return htmlDocument(`${result.plan.name}: remainder`, pages);
  }
  const fills = hasFills(result)
    ? new Map(fillsOfRun(result).map((one) => [one.field.field.id, one.fills]))
    : null;
  const pages = open.flatMap((field, i) => [
    sheetPage(
      result,
      {
        title: field.field.name,
        under: `strip pass, ${acresText(field.checked.areaAc)} ac, ${passesInWords(field)}`,
        sheet: `Cab sheet, page ${i + 1} of ${open.length}`,
        anchor: field.field.id,
        fieldId: field.field.id,
      },
      cabField(result, field),
    ),
    ...(fills === null ? [] : [fillsPage(result, field, fills.get(field.field.id)!)]),
  ]);
  const isAlone = result.fields.length === 1 && result.refused.length === 0 && open.length === 1;
  const index = isAlone ? [] : [indexPage(result, open)];
  return htmlDocument(`${result.plan.name}: cab sheet`, [...index, ...pages, lawPage(result, "Cab sheet")]);
}

function restPage(result: RunResult, field: FieldResult, rest: RestWords): string {
  return sheetPage(
    result,
    {
      title: `${field.field.name}: the remainder`,
      under: `strip pass, what is left ${rest.done}`,
      sheet: "Cab sheet of a remainder",
      anchor: field.field.id,
      fieldId: field.field.id,
    },
    cabField(result, field, rest),
  );
}

/** Rules of places, once, behind everything that the operator needs while driving. */
export function lawPage(result: RunResult, ofSheet: string): string {
  const head = {
    title: result.plan.name,
    under: "law and local rules, in every field",
    sheet: `${ofSheet}, last page`,
  };
  return sheetPage(result, head, list(cautionsInWords()));
}

/** Fields in working order by their page, then those whose strips are done; `open` are those with a page. */
function indexPage(result: RunResult, open: readonly FieldResult[]): string {
  const done = result.fields.filter((field) => !open.includes(field));
  const rows = [...open, ...done].map((field, i) => {
    const { name, crop, id } = field.field;
    const link = i >= open.length ? escapeText(name) : `<a href="#${escapeText(id)}">${escapeText(name)}</a>`;
    const page = i >= open.length ? "" : String(i + 1);
    const files = (["strip", "broadcast"] as const).map((pass) => {
      return `<td data-pass="${pass}">${escapeText(filesInWords(result, field, pass))}</td>`;
    });
    return `<tr data-field="${escapeText(id)}"><td class="n">${page}</td><td>${link}</td><td class="n">${acresText(field.checked.areaAc)}</td><td>${escapeText(crop)}</td>${files.join("")}</tr>`;
  });
  const table = `<table><thead><tr><th class="n">page</th><th>field</th><th class="n">ac</th><th>crop</th><th data-pass="strip">strip files</th><th data-pass="broadcast">the spreader’s files</th></tr></thead><tbody>${rows.join("")}</tbody></table>`;
  const refused = result.refused.map((field) => `${field.field} has no files: ${inOneLine(field)}`);
  const incomplete = result.incomplete === "" ? [] : [`Incomplete: ${result.incomplete}.`];
  return sheetPage(
    result,
    {
      title: result.plan.name,
      under: `season ${result.plan.seasonYear}; ${acresText(result.acres)} ac in ${counted(result.fields.length, "field")}`,
      sheet: "Cab sheet, index",
    },
    flagged([...incomplete, ...refused]) + table + paragraph("Law and local rules: last page."),
  );
}

/** What to load first of a field's pass, each with its pounds. */
export function filesInWords({ plan }: RunResult, field: FieldResult, pass: "strip" | "broadcast"): string {
  const done = field.finished.find((one) => one.pass === pass);
  if (done !== undefined) return `finished ${done.date}, nothing to load`;
  const [first] = loadOrder(plan, field, pass).steps;
  return first === undefined
    ? ""
    : first.files.map(({ name, totalLb }) => `${name} ${lbText(totalLb)} lb`).join("; ");
}

/** Where to fill, on a page of its own behind the field's. */
function fillsPage(result: RunResult, field: FieldResult, fills: FieldFills): string {
  const head = {
    title: field.field.name,
    under: `fills; ${fills.choice}`,
    sheet: "Cab sheet, fills",
    fieldId: field.field.id,
  };
  const doubts = flagged(fills.plan.feasible ? beyondTender(fills) : fills.notices.map((one) => one.message));
  return sheetPage(
    result,
    head,
    doubts + firstLoadTable(field, fills) + stopsTable(fills) + list(fillsInWords(fills)),
  );
}

function passesInWords(field: FieldResult): string {
  const { checked } = field;
  const heading = lineFrame(checked.line).headingDeg;
  const steer = checked.guidance.length > 2 ? "along a curve" : `heading ${headingText(heading)}°`;
  return `${passesDriven(field)}, ${steer}`;
}
