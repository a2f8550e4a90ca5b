import { sum } from "../numeric/index.ts";
import {
  type FieldFills,
  type FieldResult,
  fillPlan,
  inWorkingOrder,
  missingRigKeys,
  type Plan,
  type RunResult,
  tenderPlaces,
} from "../plan/index.ts";
import { counted, numberText, UNKNOWN } from "../units/index.ts";
import { assumedInWords, unconfirmedInWords } from "./assumed-words.ts";
import { passesDriven } from "./driving-words.ts";
import { fillPlat } from "./fill-plat.ts";
import { beyondTender, unfilledInWords, waitInWords, waitsInWords } from "./fill-words.ts";
import { flagged, heading, htmlDocument, htmlTable, list, number, paragraph, sheetPage } from "./html.ts";
import { withCoat } from "./map-words.ts";
import { binWords, meterPage } from "./meter-page.ts";
import { acresText, hourText, lbText, type UnitSystem, unitWords } from "./numbers.ts";
import { wholeStopsInWords } from "./stand-words.ts";
import { escapeText } from "./svg.ts";
import { weightChart } from "./weight-chart.ts";

/** Whether the plan tells enough of the rig for the sheets of fills and season. */
export const hasFills = (result: RunResult): boolean => missingRigKeys(result.plan).length === 0;

/** The ledger says that its strip pass is done. */
export const isStripFinished = ({ finished }: FieldResult): boolean =>
  finished.some(({ pass }) => pass === "strip");

/** Fill plans of the fields that are not done, in working order. */
export const fillsOfRun = (
  result: RunResult,
): { readonly field: FieldResult; readonly fills: FieldFills }[] =>
  inWorkingOrder(result.plan, result.fields)
    .filter((field) => !isStripFinished(field))
    .map((field) => ({
      field,
      fills: fillPlan(result.plan, field, { places: tenderPlaces(result.plan, field) }),
    }));

/**
 * Where to fill, as one HTML document: a page a field for the operator (plat with numbered stops, what each bin's scale
 * should read, what to load, a blank for what it said), a page a field for the tender (place, time, pounds per product),
 * and the catch-test sheet. Needs no script and fetches nothing; black alone.
 */
export function fillsSheet(result: RunResult): string {
  const all = fillsOfRun(result);
  const pages = all.flatMap(({ field, fills }, i) => [
    sheetPage(
      result,
      {
        title: field.field.name,
        under: `fills, ${acresText(field.checked.areaAc)} ac, ${passesDriven(field)}`,
        sheet: `Fill sheet, field ${i + 1} of ${all.length}`,
        anchor: field.field.id,
      },
      fieldPage(result, field, fills),
    ),
  ]);
  const tender = sheetPage(
    result,
    { title: result.plan.name, under: "for the tender: place, time, pounds", sheet: "Tender sheet" },
    paragraph(FIRST_LOADS) + all.map(({ field, fills }) => tenderPart(result, field, fills)).join(""),
  );
  const meter = sheetPage(
    result,
    { title: result.plan.name, under: "catch test, density, ticket", sheet: "Catch-test sheet" },
    meterPage(result),
  );
  return htmlDocument(`${result.plan.name}: fills`, [...pages, tender, meter]);
}

/** Stops with figures per bin, and a blank for the scale. */
export function stopsTable(fills: FieldFills): string {
  const binColumns = fills.bins.flatMap((bin) => [
    number(`${kept(binWords(bin))}: scale reads`),
    number("load"),
    number("then reads"),
    { title: "scale said" },
  ]);
  return htmlTable(
    [
      number("stop"),
      number("after pass"),
      number("driven"),
      { title: "at" },
      ...binColumns,
      number("ac since"),
      number("min since"),
      number("waits, min"),
    ],
    fills.stops.map((stop) => [
      String(stop.number),
      stop.passName,
      numberText(stop.passesDone, 0),
      kept(stop.at),
      ...fills.bins.flatMap((_, b) => [
        lbText(stop.scaleBeforeLb[b]!),
        lbText(stop.loadLb[b]!),
        lbText(stop.scaleAfterLb[b]!),
        "______",
      ]),
      acresText(stop.acres),
      numberText(stop.workMinutes, 0),
      stop.waitMinutes === null ? UNKNOWN : numberText(stop.waitMinutes, 0),
    ]),
  );
}

/** lb that can be metered of each bin before the first pass; full bins where there is no plan. */
const begunLb = ({ plan, usableLb }: FieldFills): readonly number[] =>
  plan.feasible ? plan.startLb : usableLb;

const BINS_HOLD =
  "What the bins hold of the same product from the field before counts: load what the scales lack.";

const FIRST_LOADS =
  "First loads are for bins with nothing in them but what cannot be metered out: less what they hold of the same product from the field before.";

/** What the bins hold before the first pass. */
export function firstLoadTable(field: FieldResult, fills: FieldFills): string {
  const begun = begunLb(fills);
  const table = htmlTable(
    [
      { title: "before the first pass" },
      ...["scale should read, lb", "of it stays in", "field takes", "left in it at the end"].map(number),
    ],
    fills.bins.map((bin, b) => [
      `${binWords(bin)}${withCoat(field, bin.id)}`,
      fills.fieldLb[b] === 0 ? "nothing needed" : lbText(begun[b]! + fills.residualLb[b]!),
      lbText(fills.residualLb[b]!),
      lbText(fills.fieldLb[b]!),
      fills.endScaleLb === null || fills.fieldLb[b] === 0 ? UNKNOWN : lbText(fills.endScaleLb[b]!),
    ]),
  );
  return table + paragraph(BINS_HOLD);
}

/** The plan of fills in a few lines. */
export function fillsInWords(fills: FieldFills, system: UnitSystem = "us"): string[] {
  const { plan } = fills;
  const units = unitWords(system);
  const area = system === "us" ? "acres" : units.area;
  const acPerFill = `${fills.acPerFill === null ? UNKNOWN : acresText(fills.acPerFill, system)} ${area} a fill`;
  const first =
    fills.firstEmptyBin === null ? "" : ` ${binWords(fills.bins[fills.firstEmptyBin]!)} is empty first.`;
  const overlap = `The ${system === "us" ? "pounds" : "kilograms"} hold ${numberText(100 * fills.overlapShare, 1)} % for overlap, as the order does.`;
  if (!plan.feasible) return [`${acPerFill}.${first}`, overlap];
  return [
    `${acPerFill}.${first} ${counted(fills.stops.length, "stop")}; ${fills.choice}.`,
    waitInWords(fills),
    ...waitsInWords(fills, system),
    `Kept back in each bin: ${plan.reserveLb.map((lb, b) => `${binWords(fills.bins[b]!)} ${lbText(lb, system)} ${units.mass}`).join("; ")}. ${overlap}`,
    ...unfilledInWords(fills, fills.bins.map(binWords), system),
    "If the scale differs from its figure by more than what is kept back, plan on from there.",
  ].filter((line) => line !== "");
}

function fieldPage(result: RunResult, field: FieldResult, fills: FieldFills): string {
  const drawing = fillPlat(result.plan, field, fills, {
    width: 430,
    height: 350,
    inset: { left: 36, top: 32, right: 44, bottom: 66 },
    id: `fills-${field.field.id}`,
    inks: "black",
    lineAB: true,
    passNumbers: true,
    frame: false,
    next: 0,
  });
  const charts = fills.bins
    .map(
      (bin, b) =>
        `${paragraph(binWords(bin))}${weightChart(fills, { width: 240, height: 120, inks: "black", bin: b })}`,
    )
    .join("");
  return [
    flagged(begunInWords(result, field)),
    flagged(
      fills.notices
        .filter(({ code }) => !fills.plan.feasible || code === "small-rate-beyond-map")
        .map((one) => one.message),
    ),
    `<div class="columns"><div class="drawing">${drawing}</div><div>${heading("On the scale, pass by pass")}${charts}</div></div>`,
    firstLoadTable(field, fills),
    heading("Stops"),
    flagged(beyondTender(fills)),
    fills.stops.length === 0 ? paragraph(fills.plan.feasible ? "No stop." : "No plan.") : stopsTable(fills),
    list(fillsInWords(fills)),
    unconfirmedWords(fills.assumed, result.plan.rig.bins),
    paragraph(
      "Engine off and all at rest before anyone reaches into a bin, meter or auger. No filling beside wells or inlets; sweep up spills. Mask and goggles at the tender.",
    ),
  ].join("");
}

/** What must be known of a field of which the ledger has strips: its stops are not those of the rest. */
function begunInWords({ stands }: RunResult, { field }: FieldResult): string[] {
  const stand = stands.find((one) => one.fieldId === field.id);
  const words = wholeStopsInWords(
    field.name,
    stand,
    `plan on from where the rig stands (\`fills\` with --field ${field.id} --done-after N --bin-lb what the scales show)`,
  );
  return words === "" ? [] : [`${words}.`];
}

function tenderPart(result: RunResult, field: FieldResult, fills: FieldFills): string {
  const { stops, bins } = fills;
  const begun = begunLb(fills);
  const all = bins.map((_, b) => begun[b]! + sum(stops.map((stop) => stop.loadLb[b]!)));
  return (
    heading(`${field.field.name}: ${fills.choice}`) +
    flagged(begunInWords(result, field)) +
    flagged(beyondTender(fills)) +
    htmlTable(
      [
        number("stop"),
        { title: "place" },
        number("after pass"),
        number("h:min from the start"),
        ...bins.map((bin) => number(`${bin.product}${withCoat(field, bin.id)}, lb`)),
        { title: "tender" },
        { title: "gave" },
      ],
      [
        ["first load", "", "", "", ...begun.map((lb) => lbText(lb)), "", "______"],
        ...stops.map((stop, s) => [
          String(stop.number),
          stop.at,
          stop.passName,
          stop.arriveHour === null ? UNKNOWN : hourText(stop.arriveHour),
          ...stop.loadLb.map((lb) => lbText(lb)),
          fills.times?.stops[s]?.tenderId ?? UNKNOWN,
          "______",
        ]),
      ],
      ["all", "", "", "", ...all.map((lb) => lbText(lb)), "", ""],
    )
  );
}

/** Numbers with hyphens and two words that stay on one line. */
const kept = (text: string): string => text.replaceAll("-", "\u2011").replaceAll(" ", "\u00a0");

/** Unconfirmed figures, in one line of small print; empty when there are none. */
export function unconfirmedWords(assumed: FieldFills["assumed"], bins: Plan["rig"]["bins"]): string {
  const words = unconfirmedInWords(assumed, (one) => assumedInWords(one, bins));
  return words === "" ? "" : `<p class="small">${escapeText(`${words}.`)}</p>`;
}
