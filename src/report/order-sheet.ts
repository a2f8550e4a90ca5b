import { inOneLine } from "../errors/index.ts";
import { sum } from "../numeric/index.ts";
import { coatedInOrderWords, type FieldResult, guidesInUse, type RunResult } from "../plan/index.ts";
import { counted, numberText, roundTo, tons } from "../units/index.ts";
import { mapOf } from "./drawn-field.ts";
import { guideStatusWords, messagesOf } from "./guide-words.ts";
import {
  flagged,
  heading,
  htmlDocument,
  htmlTable,
  labelled,
  list,
  number,
  paragraph,
  sheetPage,
  whole,
} from "./html.ts";
import { analysisOf, laidIn } from "./laid-in.ts";
import { analysisInWords, nitrogenLbPerAc } from "./map-words.ts";
import { acresText, rateText, tonsText } from "./numbers.ts";
import { hasOrderRecord, orderRecordPage } from "./order-record.ts";
import { roundedParts } from "./rounded-parts.ts";
import { blendLines, blendParts } from "./split-lines.ts";
import { cautionsInWords } from "./take-care.ts";

/** A product as shown: whole pounds a pass and tons of all, each rounded by itself, as everywhere. */
interface ShownPounds {
  readonly product: string;
  readonly stripLb: number;
  readonly broadcastLb: number;
  readonly tons: number;
}

/** Blends by their parts, and what they take of each product. */
function blendsOf(result: RunResult): string[] {
  if (result.blends.length === 0) return [];
  const parts = blendParts(result).map(({ product, lb }) => `${product} ${tonsText(lb)} tons`);
  return [
    heading("Blends"),
    ...result.blends.flatMap(blendLines).map(({ label, text }) => labelled(`${label}:`, text)),
    labelled("In the blends:", `${parts.join(", ")}; order these or the blend, not both.`),
  ];
}

/**
 * What the maps take and what to order, as one HTML document: pounds a product and pass for the farm and tons to a tenth;
 * pounds a field, pass and product; the order itself, where the plan has its terms; what each ticket must read; guides with their status; cautions. Says first when fields are missing.
 */
export function orderSheet(result: RunResult): string {
  const products = laidIn(result);
  const shown = products.map((product) => shownPounds(result, product));
  const togetherOf = (part: "stripLb" | "broadcastLb" | "tons") => sum(shown.map((one) => one[part]));
  const cells = (one: Omit<ShownPounds, "product">) => [
    numberText(one.stripLb, 0),
    numberText(one.broadcastLb, 0),
    numberText(one.tons, 1),
  ];
  const order = htmlTable(
    [
      { title: "product" },
      { title: "the ticket must read" },
      ...["in the strip, lb", "broadcast later, lb", "in the maps, tons"].map(number),
    ],
    shown.map((one) => [one.product, analysisInWords(analysisOf(result, one.product)), ...cells(one)]),
    [
      "together",
      "",
      ...cells({
        stripLb: togetherOf("stripLb"),
        broadcastLb: togetherOf("broadcastLb"),
        tons: togetherOf("tons"),
      }),
    ],
  );
  const inside = [
    missing(result),
    order,
    paragraph(
      `What the maps place${finishedWords(result, products)}, tons of 2,000 lb to the nearest tenth; nothing added for overlap, loss or what is on hand. ${hasOrderRecord(result) ? "This is not the order: that is the order record, on its own page." : "Add those before ordering."}`,
    ),
    flagged(coatedInOrderWords(result.plan, result.fields).map((line) => `${line}.`)),
    ...blendsOf(result),
    heading("By field"),
    byField(result, products),
    nitrogen(result),
    heading("Guides"),
    guideTable(result),
    flags(result),
    hasOrderRecord(result)
      ? ""
      : paragraph(
          "Ordered by ______________________     date ______________     checked by ______________________",
        ),
    whole(heading("Take care"), list(cautionsInWords())),
  ].join("");
  const asked = result.fields.length + result.refused.length;
  const worked =
    result.refused.length === 0
      ? counted(asked, "field")
      : `${result.fields.length} of ${counted(asked, "field")} worked out`;
  return htmlDocument(`${result.plan.name}: order`, [
    sheetPage(
      result,
      {
        title: result.plan.name,
        under: `order, season ${result.plan.seasonYear}; ${acresText(result.acres)} ac, ${worked}`,
        sheet: "Order",
      },
      inside,
    ),
    ...(hasOrderRecord(result) ? [orderRecordPage(result)] : []),
  ]);
}

function missing(result: RunResult): string {
  if (result.incomplete === "") return "";
  return flagged([
    `Incomplete: ${result.incomplete}. The tons below leave the others out.`,
    ...result.refused.map((field) => `${field.field}: ${inOneLine(field)}`),
  ]);
}

/** Of the maps' pounds those of finished passes, which have no file any more; empty where none is finished. */
function finishedWords({ fields }: RunResult, products: readonly string[]): string {
  const done = fields.filter(({ finished }) => finished.length > 0);
  if (done.length === 0) return "";
  const lbOf = (product: string): number =>
    sum(
      done.flatMap(({ finished, prescriptions }) =>
        prescriptions
          .filter((map) => map.product === product && finished.some(({ pass }) => pass === map.pass))
          .map(({ totalLb }) => totalLb),
      ),
    );
  const pounds = products.map((product) => `${numberText(lbOf(product), 0)} lb ${product}`);
  return ` (of it ${pounds.join(", ")} in finished passes of ${done.map(({ field }) => field.name).join(", ")}, which have no file any more)`;
}

function shownPounds(result: RunResult, product: string): ShownPounds {
  const lbOf = (pass: "strip" | "broadcast" | "all") =>
    result.totals.find((total) => total.product === product && total.pass === pass)?.lb ?? 0;
  return {
    product,
    stripLb: roundTo(lbOf("strip"), 0),
    broadcastLb: roundTo(lbOf("broadcast"), 0),
    tons: roundTo(tons(lbOf("all")), 1),
  };
}

/** Whole pounds a field, pass and product, and tons; each column adds up to the files' total as shown. */
function byField(result: RunResult, products: readonly string[]): string {
  const lbOf = (field: FieldResult, pass: "strip" | "broadcast", product: string) =>
    mapOf(field, pass, product)?.totalLb ?? 0;
  const columns = products.flatMap((product) => {
    const [strip, broadcast] = (["strip", "broadcast"] as const).map((pass) =>
      result.fields.map((field) => lbOf(field, pass, product)),
    ) as [number[], number[]];
    const both = strip.map((lb, i) => tons(lb + broadcast[i]!));
    return [
      { title: `${product} strip, lb`, parts: roundedParts(strip, 0), decimals: 0 },
      { title: `${product} broadcast, lb`, parts: roundedParts(broadcast, 0), decimals: 0 },
      { title: `${product}, tons`, parts: roundedParts(both, 2), decimals: 2 },
    ];
  });
  const acres = roundedParts(
    result.fields.map((field) => field.checked.areaAc),
    1,
    result.acres,
  );
  const rows = result.fields.map(({ field }, i) => [
    field.name,
    field.crop,
    numberText(acres[i]!, 1),
    ...columns.map((column) => numberText(column.parts[i]!, column.decimals)),
  ]);
  const table = htmlTable(
    [{ title: "field" }, { title: "crop" }, number("ac"), ...columns.map(({ title }) => number(title))],
    rows,
    [
      "farm",
      "",
      acresText(result.acres),
      ...columns.map((column) => numberText(sum(column.parts), column.decimals)),
    ],
  );
  const rounding =
    "Rows are rounded so that columns add up: one may be off by 1 in its last digit from the field's own sheet.";
  return result.fields.length > 1 ? table + paragraph(rounding) : table;
}

function nitrogen(result: RunResult): string {
  const lb = sum(result.fields.map((field) => nitrogenLbPerAc(field) * field.checked.areaAc));
  if (lb === 0) return "";
  return labelled(
    "Nitrogen that comes along:",
    `${rateText(lb / result.acres, "us", 1)} lb N/ac on the average: take it off your nitrogen plan.`,
  );
}

function guideTable(result: RunResult): string {
  return htmlTable(
    [{ title: "guide" }, number("fields"), { title: "status" }],
    guidesInUse(result.fields).map((guide) => [
      guide.title,
      numberText(guide.fields.length, 0),
      guideStatusWords(guide),
    ]),
  );
}

function flags(result: RunResult): string {
  const messages = messagesOf(
    [...result.notices, ...result.fields.flatMap((field) => field.notices)],
    result.fields.map(({ field }) => field.name),
  );
  if (messages.length === 0) return "";
  const shown = messages.slice(0, 12);
  const rest = messages.length - shown.length;
  if (rest > 0) shown.push(`${rest} more; the field sheets and result.json have them all.`);
  return heading(`Flags: ${messages.length}`) + flagged(shown);
}
