import { inOneLine } from "../errors/index.ts";
import type { FieldFills, FieldResult, RunResult } from "../plan/index.ts";
import { counted, numberText } from "../units/index.ts";
import { CATCH_SPEEDS, catchTest } from "./catch-test.ts";
import { passWidthText } from "./drawn-field.ts";
import { drivingWords, leadWords } from "./driving-words.ts";
import { fillsInWords, fillsOfRun, firstLoadTable, hasFills, isStripped, stopsTable } from "./fills-sheet.ts";
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
} from "./html.ts";
import { layerIds, layerOf } from "./layers.ts";
import { legend } from "./legend.ts";
import { headingText, lineFrame } from "./line-frame.ts";
import { loadedMaps } from "./loaded-maps.ts";
import { analysisInWords, binInWords, flatRate, stemOf, stepOf } from "./map-words.ts";
import { acresText, lbText, rateText } from "./numbers.ts";
import { plat } from "./plat.ts";
import { escapeText } from "./svg.ts";
import { beforeMoving, cautionsInWords, takeCare } from "./take-care.ts";

/**
 * The cab sheet of all fields of a build as one HTML document that needs no script and fetches nothing: an index,
 * then a printed page a field with what goes in which bin, which file, what the display should show, what to do
 * when the file is refused, the line, the catch test, what to check and what to mind.
 */
export function cabSheet(result: RunResult): string {
  const open = result.fields.filter((field) => !isStripped(field));
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
      },
      fieldPage(result, field),
    ),
    ...(fills === null ? [] : [fillsPage(result, field, fills.get(field.field.id)!)]),
  ]);
  return htmlDocument(`${result.plan.name}: cab sheet`, [indexPage(result), ...pages]);
}

function indexPage(result: RunResult): string {
  const { fileOf } = loadedMaps(result.plan);
  const rows = result.fields.map((field) => {
    const { name, crop, id } = field.field;
    const done = field.finished.find(({ pass }) => pass === "strip");
    if (done !== undefined) {
      const text = `finished ${done.date}, nothing to load`;
      return `<tr><td>${escapeText(name)}</td><td class="n">${acresText(field.checked.areaAc)}</td><td>${escapeText(crop)}</td><td>${text}</td></tr>`;
    }
    const files = field.prescriptions
      .filter((map) => map.pass === "strip")
      .map((map) => `${fileOf(map)} ${lbText(map.totalLb)} lb`);
    const link = `<a href="#${escapeText(id)}">${escapeText(name)}</a>`;
    return `<tr><td>${link}</td><td class="n">${acresText(field.checked.areaAc)}</td><td>${escapeText(crop)}</td><td>${escapeText(files.join("; "))}</td></tr>`;
  });
  const table = `<table><thead><tr><th>field</th><th class="n">ac</th><th>crop</th><th>strip files</th></tr></thead><tbody>${rows.join("")}</tbody></table>`;
  const refused = result.refused.map((field) => `${field.field} has no files: ${inOneLine(field)}`);
  const incomplete = result.incomplete === "" ? [] : [`Incomplete: ${result.incomplete}.`];
  return sheetPage(
    result,
    {
      title: result.plan.name,
      under: `season ${result.plan.seasonYear}; ${acresText(result.acres)} ac in ${counted(result.fields.length, "field")}`,
      sheet: "Cab sheet, index",
    },
    flagged([...incomplete, ...refused]) +
      table +
      heading("Take care, in every field") +
      list(cautionsInWords()),
  );
}

/** Where to fill, on a page of its own behind the field's. */
function fillsPage(result: RunResult, field: FieldResult, fills: FieldFills): string {
  const head = {
    title: field.field.name,
    under: `fills; ${fills.choice}`,
    sheet: "Cab sheet, fills",
  };
  const doubts = fills.plan.feasible ? "" : flagged(fills.notices.map((one) => one.message));
  return sheetPage(
    result,
    head,
    doubts + firstLoadTable(fills) + stopsTable(fills) + list(fillsInWords(fills)),
  );
}

function passesInWords({ driving, checked }: FieldResult): string {
  const heading = lineFrame(checked.line).headingDeg;
  const headland =
    driving.headlandPasses === 0 ? "" : `${numberText(driving.headlandPasses, 0)} headland and `;
  const steer = checked.guidance.length > 2 ? "along a curve" : `heading ${headingText(heading)}°`;
  return `${headland}${numberText(driving.passes, 0)} passes, ${steer}`;
}

/** The plat of a usual cab sheet, px; the page holds 985. */
const PLAT_HIGH = 286;

function fieldPage(result: RunResult, field: FieldResult): string {
  const { plan } = result;
  const ids = layerIds(plan, field).filter((id) => id.startsWith("strip/"));
  const layer = layerOf(plan, field, ids[0]!);
  const id = `cab-${field.field.id}`;
  const lead = leadWords(plan);
  const tries = orderToTry(result, field);
  // What is said beyond the usual takes its room from the plat, so that the sheet stays one page.
  const height = PLAT_HIGH - (lead === "" ? 0 : 44) - (tries === "" ? 0 : 24);
  const drawing = plat(plan, field, layer, {
    width: 430,
    height,
    inset: { left: 36, top: 32, right: 44, bottom: 66 },
    id,
    inks: "black",
    lineAB: true,
    passNumbers: true,
    workingOrder: true,
    frame: false,
  });
  const key = legend(layer, { id: `${id}-key`, width: 240, inks: "black", frame: false });
  const driven = drivingWords(plan, field);
  const { column, unit, meaning } = loadedMaps(plan);
  return [
    `<div class="columns"><div class="drawing">${drawing}</div><div>${key}</div></div>${labelled("Line and order:", driven.join(" "))}`,
    heading("Files, a stick for each machine"),
    filesTable(result, field),
    `<p>${emptyMaps(field)}Least, mean and most in ${unit}; <b>flat</b> when the file is refused. Column <b>${column}</b>, unit <b>${unit}</b>: ${meaning}. <b>Default rate 0, outside the field 0. Position lost: both meters stop; stop the rig.</b></p>`,
    lead === "" ? "" : `<p><b>${escapeText(lead)}</b></p>`,
    tries,
    `<div class="columns small"><div>${heading("Catch test before the first pass")}${catchTable(result, field)}${heading("Before moving")}${list(checks(result, field), "ol")}</div>`,
    `<div>${heading("Take care")}${list(takeCare(field))}</div></div>`,
  ].join("");
}

function filesTable(result: RunResult, field: FieldResult): string {
  const { system, fileOf } = loadedMaps(result.plan);
  return htmlTable(
    [
      { title: "load in" },
      { title: "product" },
      { title: "ticket must read, %" },
      { title: "file" },
      ...["lb", "least", "mean", "most", "flat"].map(number),
    ],
    field.prescriptions.map((map) => [
      binInWords(map),
      map.product,
      analysisInWords(map.analysis),
      fileOf(map),
      lbText(map.totalLb),
      rateText(map.minLbPerAc, system),
      rateText(map.meanLbPerAc, system, 1),
      rateText(map.maxLbPerAc, system),
      rateText(flatRate(map, stepOf(result.plan, map)), system),
    ]),
  );
}

/** What to load one after the other while the display refuses; empty where only the maps were written. */
function orderToTry({ plan }: RunResult, field: FieldResult): string {
  const strips = field.prescriptions.filter((map) => map.pass === "strip").map(stemOf);
  const { loads } = plan.controller ?? {};
  const of = (start: "fallback" | "taskdata") =>
    field.extras.filter(
      ({ form, stems }) =>
        form.startsWith(start) &&
        (loads === undefined || loads.some((one) => one === form)) &&
        stems.some((stem) => strips.includes(stem)),
    );
  const fallbacks = of("fallback").map(({ shapes, changeLb }) => {
    const lb = Math.abs(changeLb[0]!);
    const more = changeLb[0]! < 0 ? "less" : "more";
    return `${counted(shapes, "polygon")}, ${lb < 0.05 ? "the same pounds" : `${numberText(lb, 1)} lb ${more}`}`;
  });
  const fallback =
    fallbacks.length === 0 ? [] : [`the plain fallback, F behind the name (${fallbacks.join("; ")})`];
  const map =
    plan.controller?.zeroRate === "small" ||
    of("fallback").some(({ smallRateLbPerAc }) => smallRateLbPerAc !== undefined)
      ? [...fallback, "the map as named"]
      : ["the map as named", ...fallback];
  const tasks = of("taskdata").length > 0 ? ["the folder TASKDATA, if the display takes it"] : [];
  const steps = [...map, ...tasks, "the flat rate"];
  if (steps.length === 2) return "";
  const { startLbPerAc = 0, positionLostLbPerAc = 0, outOfFieldLbPerAc = 0 } = plan.controller ?? {};
  const typed =
    tasks.length > 0 && startLbPerAc + positionLostLbPerAc + outOfFieldLbPerAc > 0
      ? ` TASKDATA sends, as typed in the plan: ${startLbPerAc} lb/ac at the start, ${positionLostLbPerAc} when the position is lost, ${outOfFieldLbPerAc} outside the field.`
      : "";
  const order = steps.map((step, k) => `${k + 1} ${step}`).join("; ");
  return paragraph(`Order to try: ${order}.${typed}`);
}

/** Bins that have nothing to do in this field, as a bold beginning; empty where each has. */
function emptyMaps(field: FieldResult): string {
  const empty = field.prescriptions.filter((map) => map.pass === "strip" && map.maxLbPerAc === 0);
  const words = empty.map((map) => `Nothing comes from the ${binInWords(map)}: its file is 0 everywhere.`);
  return words.length === 0 ? "" : `<b>${escapeText(words.join(" "))}</b> `;
}

function catchTable(result: RunResult, field: FieldResult): string {
  const { system, unit } = loadedMaps(result.plan);
  const maps = field.prescriptions.filter((map) => map.pass === "strip" && map.maxLbPerAc > 0);
  const rows = maps.map((map) => {
    const flat = flatRate(map, result.plan.rig.rateStepLbPerAc);
    const rate = flat > 0 ? flat : map.maxLbPerAc;
    const pounds = CATCH_SPEEDS.map((mph) => {
      const { allRowsLb, oneRowLb } = catchTest(result.plan, rate, mph);
      return `${numberText(allRowsLb, 1)} / ${numberText(oneRowLb, 2)}`;
    });
    return [`${map.product} at ${rateText(rate, system)}`, ...pounds, "____"];
  });
  return (
    htmlTable(
      [{ title: `rate in ${unit}` }, ...CATCH_SPEEDS.map((mph) => number(`${mph} mph`)), { title: "caught" }],
      rows,
    ) +
    paragraph(
      "lb in one minute, all rows / one row, at the rate named. All rows within 5 % of their mean (Sumner, Univ. Georgia), or set the meter again.",
    )
  );
}

function checks(result: RunResult, field: FieldResult): string[] {
  const strips = field.prescriptions.filter((map) => map.pass === "strip");
  const { system, unit } = loadedMaps(result.plan);
  const least = strips.map((map) => `${map.product} ${rateText(map.minLbPerAc, system)}`).join(", ");
  return beforeMoving(
    unit,
    least,
    `${passWidthText(result.plan)} ft, ${result.plan.rig.rows} rows`,
    acresText(field.checked.areaAc),
  );
}
