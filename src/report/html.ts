import type { RunResult } from "../plan/index.ts";
import { escapeText } from "./svg.ts";
import { textFaces, titleFaces } from "./tokens.ts";

/** Fits letter and A4 with margins of 9 and 12 mm: 700 px wide, 985 px high. Black alone. */
const style = `
@page{margin:9mm 12mm}
*{box-sizing:border-box}
body{margin:0;background:#fff;color:#000;font:13px/1.38 ${textFaces};font-variant-numeric:tabular-nums lining-nums}
.page{width:700px;max-width:100%;margin:0 auto;padding:14px 0 22px;break-after:page}
.page:last-child{break-after:auto}
@media print{.page{padding:0}a{color:#000;text-decoration:none}}
header{display:flex;justify-content:space-between;gap:16px;border-bottom:5px double #000;padding-bottom:6px;margin-bottom:10px}
header .right{text-align:right;font-size:12px;flex:none}
h1{font:bold 28px/1.1 ${titleFaces};margin:0 0 2px}
h2{font:bold 15px/1.2 ${titleFaces};margin:10px 0 4px;break-after:avoid}
p{margin:0 0 6px}
ul,ol{margin:0 0 6px;padding-left:20px}
li{margin:0 0 2px}
table{border-collapse:collapse;width:100%;margin:0 0 8px}
th{font-weight:normal;font-size:12px;text-align:left;vertical-align:bottom;border-bottom:1.2px solid #000;padding:2px 8px 3px 0}
td{border-bottom:.7px solid #777;padding:2.5px 8px 2.5px 0;vertical-align:top}
th.n,td.n{text-align:right}
td.n{white-space:nowrap}
th:last-child,td:last-child{padding-right:0}
tr.sum td{font-weight:bold;border-top:1.2px solid #000;border-bottom:4px double #000}
tr{break-inside:avoid}
.columns{display:flex;gap:24px;align-items:flex-start}
.columns>*{flex:1 1 0;min-width:0}
.flag{border-left:4px solid #000;padding:2px 0 2px 10px;margin:0 0 8px}
.blank{min-width:56px}
.load{font-size:12px}
.load td:nth-child(-n+2){white-space:nowrap}
.columns>.drawing{flex:0 0 430px}
.small{font-size:12px}
.big{font:bold 34px/1 ${titleFaces}}
svg{display:block;max-width:100%;height:auto}
@media screen and (max-width:720px){
.page{padding:12px}.columns{display:block}table{display:block;overflow-x:auto}td{white-space:nowrap}
.wide,.wide tbody,.wide tr{display:block;width:100%}.wide thead{display:none}
.wide tr{border-bottom:1.2px solid #000;padding:4px 0}
.wide td{display:flex;gap:16px;justify-content:space-between;border:0;padding:1px 0;white-space:normal;text-align:right}
.wide td:before{content:attr(data-of);text-align:left}
}
.mark{display:inline-block;vertical-align:-1px}
.keep{white-space:nowrap}
.whole{break-inside:avoid}
`
  .trim()
  .replaceAll("\n", "");

/** The mark: berms in section. */
const mark =
  '<svg class="mark" xmlns="http://www.w3.org/2000/svg" viewBox="0 0 34 14" width="34" height="14" aria-hidden="true">' +
  '<path d="M1 12h3l4-9h3l4 9h3l4-9h3l4 9h4" fill="none" stroke="#000" stroke-width="1.6"/></svg> bermplan';

/** One HTML document: an inline style, no script, nothing fetched. `pages` are made by `sheetPage`. */
export function htmlDocument(title: string, pages: readonly string[]): string {
  return (
    `<!DOCTYPE html>\n<html lang="en"><head><meta charset="utf-8"/>` +
    `<meta name="viewport" content="width=device-width, initial-scale=1"/>` +
    `<title>${escapeText(title)}</title><style>${style}</style></head>\n<body>\n${pages.join("\n")}\n</body></html>\n`
  );
}

interface PageHead {
  readonly title: string;
  readonly under: string;
  /** `Cab sheet, page 1 of 3`. */
  readonly sheet: string;
  /** Where links inside the document lead to. */
  readonly anchor?: string;
  /** Id of the field that the page is about, so that a stick's sheet can leave it out. */
  readonly fieldId?: string;
}

/** A page with its head: title, what it shows, which sheet, which plan and which day. `inside` is HTML. */
export function sheetPage(result: RunResult, head: PageHead, inside: string): string {
  const anchor = head.anchor === undefined ? "" : ` id="${escapeText(head.anchor)}"`;
  const about = head.fieldId === undefined ? "" : ` data-field="${escapeText(head.fieldId)}"`;
  return (
    `<section class="page"${anchor}${about}><header><div><h1>${escapeText(head.title)}</h1><div>${escapeText(head.under)}</div></div>` +
    `<div class="right"><div>${escapeText(head.sheet)}</div><div>plan ${planMark(result)}, ${escapeText(result.plan.date)}</div>` +
    `<div>${mark}</div></div></header>${inside}</section>`
  );
}

/** The first eight digits of the plan's hash, in fours. */
const planMark = (result: RunResult): string =>
  `${result.planSha256.slice(0, 4)} ${result.planSha256.slice(4, 8)}`;

/** A column's heading; numbers stand to the right. */
interface Column {
  readonly title: string;
  readonly isNumber?: boolean;
  /** Its texts stand in one line. */
  readonly isKept?: boolean;
}

/** The heading of a column of numbers. */
export const number = (title: string): Column => ({ title, isNumber: true });

/** Tables with more columns than this stand on a narrow screen as a list, each cell behind its heading. */
const NARROW_COLUMNS = 6;

/** A table of texts; `sum` is the last line, under a double rule; `marks` are attributes of the rows. */
export function htmlTable(
  columns: readonly Column[],
  rows: readonly (readonly string[])[],
  sum?: readonly string[],
  marks?: readonly string[],
): string {
  const isWide = columns.length > NARROW_COLUMNS;
  const cell = (tag: string, text: string, column: number, isBody = false) => {
    const { title = "", isNumber = false, isKept = false } = columns[column] ?? {};
    const of = isWide && isBody ? ` data-of="${escapeText(title)}"` : "";
    return `<${tag}${isNumber ? ' class="n"' : isKept ? ' class="keep"' : ""}${of}>${escapeText(text)}</${tag}>`;
  };
  const line = (cells: readonly string[], name: string) => {
    if (cells.length !== columns.length)
      throw new Error(`${cells.length} cells under ${columns.length} headings`);
    return `<tr${name}>${cells.map((text, k) => cell("td", text, k, true)).join("")}</tr>`;
  };
  const head = columns.map(({ title }, k) => cell(title === "" ? "td" : "th", title, k)).join("");
  const body = rows.map((cells, k) => line(cells, marks?.[k] ? ` ${marks[k]}` : "")).join("");
  const foot = sum ? line(sum, ' class="sum"') : "";
  return `<table${isWide ? ' class="wide"' : ""}><thead><tr>${head}</tr></thead><tbody>${body}${foot}</tbody></table>`;
}

export const paragraph = (text: string): string => `<p>${escapeText(text)}</p>`;

/** A bold beginning, then the rest. */
export const labelled = (label: string, text: string): string =>
  `<p><b>${escapeText(label)}</b> ${escapeText(text)}</p>`;

export const heading = (text: string): string => `<h2>${escapeText(text)}</h2>`;

/** A part that stands on one page where it can. */
export const whole = (...parts: readonly string[]): string => `<div class="whole">${parts.join("")}</div>`;

export const flagged = (texts: readonly string[]): string =>
  texts.length === 0 ? "" : `<div class="flag">${texts.map(paragraph).join("")}</div>`;

export const list = (texts: readonly string[], tag: "ul" | "ol" = "ul"): string =>
  `<${tag} class="small">${texts.map((text) => `<li>${escapeText(text)}</li>`).join("")}</${tag}>`;
