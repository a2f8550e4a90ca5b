import { sum } from "../numeric/index.ts";
import type { FieldResult, RunResult, SoilMap, TestName } from "../plan/index.ts";
import { RATE_COLUMN } from "../prescription/index.ts";
import { counted, numberText } from "../units/index.ts";
import { mapOf } from "./drawn-field.ts";
import type { GapSide } from "./gap-rates.ts";
import { cropInWords, guideInWords, messagesOf } from "./guide-words.ts";
import { heading, htmlDocument, htmlTable, labelled, list, number, paragraph, sheetPage } from "./html.ts";
import type { Layer } from "./layer.ts";
import { layerIds, layerOf, testInWords } from "./layers.ts";
import { type LeftOut, leaveOneOutChart, wrongSide } from "./leave-one-out-chart.ts";
import { legend } from "./legend.ts";
import { binInWords, nitrogenLbPerAc, stemOf } from "./map-words.ts";
import { reasonsInWords } from "./need-lines.ts";
import { acresText, lbText, rateText, tonsText } from "./numbers.ts";
import { oddsBelowCritical } from "./odds.ts";
import { plat } from "./plat.ts";
import { oxideText } from "./rate-layers.ts";
import { shownBalance } from "./rounded-parts.ts";
import { careLines, splitLines } from "./split-lines.ts";

const PLAT = { width: 700, height: 480 };

/**
 * The field's sheets as one HTML document: a page a soil test, a need and a product's map, each with plat, legend and
 * acres, how it was computed, totals, guide and its status; then how the soil maps came about, step by step, and a
 * page of totals, files and flags. Black alone.
 */
export function fieldSheet(result: RunResult, field: FieldResult): string {
  const ids = layerIds(result.plan, field).filter((id) => id !== "strip/all");
  const steps = stepsPage(field);
  const count = ids.length + (steps === "" ? 1 : 2);
  const pages = ids.map((id, i) => {
    const layer = layerOf(result.plan, field, id);
    const name = `${field.field.id}-${i}`;
    const drawing = plat(result.plan, field, layer, {
      ...PLAT,
      id: name,
      inks: "black",
      passNumbers: layer.draws === "passes",
      lineAB: layer.draws === "passes",
      workingOrder: layer.draws === "passes",
    });
    const key = legend(layer, { id: `${name}-key`, width: 338, inks: "black", frame: false });
    return sheetPage(
      result,
      {
        title: field.field.name,
        under: `${layer.title}, ${layer.unit}; ${acresText(field.checked.areaAc)} ac`,
        sheet: `Field sheets, page ${i + 1} of ${count}`,
      },
      `${drawing}<div class="columns"><div>${key}${paragraph(signsInWords(layer))}${leftOutChart(field, layer)}</div><div>${wordsOf(result, field, layer)}</div></div>`,
    );
  });
  const made =
    steps === ""
      ? []
      : [
          sheetPage(
            result,
            {
              title: field.field.name,
              under: `from the samples to the soil maps; ${acresText(field.checked.areaAc)} ac`,
              sheet: `Field sheets, page ${count - 1} of ${count}`,
            },
            steps,
          ),
        ];
  const last = sheetPage(
    result,
    {
      title: field.field.name,
      under: `totals, files and flags; ${acresText(field.checked.areaAc)} ac`,
      sheet: `Field sheets, page ${count} of ${count}`,
    },
    totalsPage(result, field),
  );
  return htmlDocument(`${field.field.name}: field sheets`, [...pages, ...made, last]);
}

/** How to read the marks of the working order. */
const ORDER_SIGNS =
  "Arrows: the way passes are driven. Ringed numbers: what is worked first, second and so on, where it is entered.";

/** The steps from the samples to each map, each a sentence with its figures; empty where nothing was kriged. */
function stepsPage({ maps }: FieldResult): string {
  return (["P", "K", "CEC"] as const)
    .flatMap((test) => {
      const decisions = maps[test]?.decisions ?? [];
      const sentences = decisions.map(({ sentence }) => sentence);
      return sentences.length === 0 ? [] : [heading(`Soil ${test}`) + list(sentences, "ol")];
    })
    .join("");
}

/** How to read the signs of a layer in black. */
function signsInWords(layer: Layer): string {
  if (layer.draws === "passes") return `Heavier rule, more; hairline, least; dotted, nothing. ${ORDER_SIGNS}`;
  if (layer.draws === "dots") return "Larger dot, more; blank, nothing.";
  if (layer.id.startsWith("soil/"))
    return "Closer rules, more. Dots: samples, values as reported; rings, left out.";
  return "Heavier rule, more; blank, nothing.";
}

function wordsOf(result: RunResult, field: FieldResult, layer: Layer): string {
  const [kind, name] = layer.id.split("/") as [string, string];
  if (kind === "soil") return soilWords(result, field, layer, name as "P" | "K" | "CEC");
  if (kind === "need") return needWords(field, layer, name as "P2O5" | "K2O");
  if (kind === "short" || kind === "over") return gapWords(field, layer, kind);
  return mapWords(field, layer, kind as "strip" | "broadcast", name);
}

function soilWords(result: RunResult, field: FieldResult, layer: Layer, test: "P" | "K" | "CEC"): string {
  const map = field.maps[test]!;
  const text = (value: number) => numberText(value, test === "CEC" ? 1 : 0);
  const odds = test === "CEC" ? null : oddsBelowCritical(result.plan, field, test);
  return [
    heading("How it was computed"),
    paragraph(`${testInWords(field, test)}. Method: ${map.method}. ${leftOutWords(map, layer)}`),
    map.noPattern ? labelled("No reliable pattern at this spacing:", "a flat rate is as good.") : "",
    labelled(
      "Over the field:",
      `least ${text(layer.least)}, mean ${text(layer.mean)}, most ${text(layer.most)} ${layer.unit}.`,
    ),
    layer.critical ? labelled("Broken line:", `critical level ${layer.critical.text}.`) : "",
    odds
      ? labelled(
          `Below ${odds.level}?`,
          `likely (8 in 10) ${numberText(odds.likelyBelowAc, 1)} ac, cannot say ${numberText(odds.cannotSayAc, 1)} ac, likely above ${numberText(odds.likelyAboveAc, 1)} ac.`,
        )
      : "",
    leftOutSides(map, layer),
    test === "CEC" ? "" : labelled("Guide:", guideInWords(field)),
  ].join("");
}

/** The error of the map's method, beside the others' where they were tried. */
function leftOutWords(map: SoilMap, layer: Layer): string {
  const left = map.leaveOneOut;
  if (!left) return "";
  const error = (value: number) => numberText(value, 1);
  const tried = map.table?.methods.slice(1) ?? [];
  const inverse = tried.filter((one) => one.method.startsWith("inverse"));
  const best = inverse.toSorted((a, b) => a.rootMeanSquare - b.rootMeanSquare).slice(0, 1);
  const others = [...best, ...tried.filter((one) => !inverse.includes(one))].map(
    (one) =>
      `${error(one.rootMeanSquare)} for ${one.method.replace(/(inverse distance) (\d)/, "$1 (power $2)")}`,
  );
  const beside = others.length === 0 ? "" : ` against ${others.join(" and ")}`;
  return `Each of the ${map.samples} samples left out in turn: error ${error(left.rmse)} ${layer.unit}${beside}; bias ${error(left.meanError)}.`;
}

function leftOutOf(map: SoilMap | undefined, layer: Layer): LeftOut | null {
  if (!map?.leaveOneOut) return null;
  const { observed, estimate } = map.leaveOneOut;
  const level = layer.critical?.everywhere ?? null;
  return { observed, estimate, unit: layer.unit, ...(level === null ? {} : { criticalLevel: level }) };
}

/** Each sample left out, drawn below the legend of a soil test. */
function leftOutChart(field: FieldResult, layer: Layer): string {
  if (!layer.id.startsWith("soil/")) return "";
  const data = leftOutOf(field.maps[layer.id.slice(5) as TestName], layer);
  return data ? leaveOneOutChart(data, { width: 338, height: 130, inks: "black" }) : "";
}

function leftOutSides(map: SoilMap, layer: Layer): string {
  const data = leftOutOf(map, layer);
  const wrong = data ? wrongSide(data) : null;
  return wrong ? paragraph(wrong.text) : "";
}

function needWords(field: FieldResult, layer: Layer, nutrient: "P2O5" | "K2O"): string {
  const balance = field.balances.find((one) => one.nutrient === nutrient);
  const oxide = oxideText(nutrient);
  const figures = field.need.figures[nutrient];
  return [
    heading("Need"),
    labelled(
      `${rateText(layer.mean, "us", 1)} lb ${oxide}/ac`,
      `on the average; least ${rateText(layer.least)}, most ${rateText(layer.most)}; ${lbText(balance?.needLb ?? layer.lb!)} lb ${oxide} in the field.`,
    ),
    labelled("One rate for the whole field:", `${rateText(figures.flatLbPerAc, "us", 1)} lb ${oxide}/ac.`),
    labelled("Crop and yield goal:", `${cropInWords(field)}.`),
    labelled("Guide:", guideInWords(field)),
    flagsOf(messagesOf(field.need.notices, [field.field.name])),
  ].join("");
}

function gapWords(field: FieldResult, layer: Layer, side: GapSide): string {
  const { hasNone } = layer.classes;
  const acres = sum(hasNone ? layer.classAreas.slice(1) : layer.classAreas);
  const reasons = field.balanceReasons[layer.id.endsWith("/P2O5") ? "P2O5" : "K2O"];
  const banded = reasons.bandedLb;
  const of = reasonsInWords({ ...reasons, bandedLb: 0 }, side);
  return [
    heading(side === "short" ? "Not covered" : "More than needed"),
    labelled(
      `${lbText(layer.lb!)} lb in the field;`,
      `${numberText(acres, 1)} ac by more than half a lb/ac, most ${rateText(layer.most, "us", 1)} ${layer.unit}.`,
    ),
    paragraph(
      "The need against credits, strip and broadcast on the spreader's cells, before the spreader's steps.",
    ),
    of === "" ? "" : paragraph(`Of it ${of}.`),
    side === "short" && banded > 0.5
      ? paragraph(`What the band factor leaves out, ${lbText(banded)} lb, is not in it.`)
      : "",
    side === "short"
      ? paragraph("What stays short draws the soil down: test again before the next crop.")
      : paragraph(
          "More than the need is money in the ground, and phosphorus near the surface can leave with water: keep to your nutrient plan and local rules.",
        ),
  ].join("");
}

function mapWords(field: FieldResult, layer: Layer, pass: "strip" | "broadcast", product: string): string {
  const map = mapOf(field, pass, product)!;
  return [
    heading("In the file"),
    labelled(`${lbText(map.totalLb)} lb of ${product},`, `${tonsText(map.totalLb, "us", 2)} tons.`),
    paragraph(
      `Least ${rateText(map.minLbPerAc)}, mean ${rateText(map.meanLbPerAc, "us", 1)}, most ${rateText(map.maxLbPerAc)} lb ${product}/ac of whole field.`,
    ),
    labelled("File:", `${stemOf(map)}, ${counted(map.polygons, "piece")}, for the ${binInWords(map)}.`),
    paragraph(`Column ${RATE_COLUMN}, lb/ac. Outside the field 0. ${layer.unit} on this map.`),
    pass === "strip"
      ? paragraph("Line A-B dashed and dotted; numbers at the ends of the passes.")
      : paragraph("Brought later by the spreader, on its own cells."),
  ].join("");
}

const flagsOf = (messages: readonly string[]): string =>
  messages.length === 0 ? "" : `<div class="flag small">${messages.map(paragraph).join("")}</div>`;

function totalsPage(result: RunResult, field: FieldResult): string {
  const balances = field.balances.map((balance) => {
    const shown = shownBalance(balance);
    const { need, strip, broadcast, credits, shortage, excess, rounding } = shown;
    return [
      `${oxideText(balance.nutrient)}, lb`,
      ...[need, strip, broadcast, credits, shortage, excess, rounding].map((value) => numberText(value, 0)),
    ];
  });
  const maps = field.prescriptions.map((map) => [
    stemOf(map),
    binInWords(map),
    map.product,
    numberText(map.polygons, 0),
    rateText(map.minLbPerAc),
    rateText(map.meanLbPerAc, "us", 1),
    rateText(map.maxLbPerAc),
    lbText(map.totalLb),
    tonsText(map.totalLb, "us", 2),
  ]);
  const messages = messagesOf(field.notices, [field.field.name]);
  const { split } = field;
  return [
    heading("Balance"),
    htmlTable(
      [
        { title: "" },
        ...["need", "in the strip", "broadcast later", "credits", "short", "over need", "rounding"].map(
          number,
        ),
      ],
      balances,
    ),
    paragraph(
      "Need = in the strip + broadcast later + credits + short − over need − rounding. Strip and broadcast are what the files place.",
    ),
    heading("Files"),
    htmlTable(
      [
        { title: "file" },
        { title: "for" },
        { title: "product" },
        ...["pieces", "least", "mean", "most lb/ac", "lb", "tons"].map(number),
      ],
      maps,
    ),
    ...[...splitLines(result.plan, split), ...careLines(field.care)].map(({ label, text }) =>
      labelled(`${label}:`, text),
    ),
    labelled(
      "Nitrogen that comes along:",
      `${rateText(nitrogenLbPerAc(field), "us", 1)} lb N/ac on the average: take it off your nitrogen plan.`,
    ),
    labelled("Crop and yield goal:", `${cropInWords(field)}.`),
    labelled("Guide:", guideInWords(field)),
    heading(messages.length === 0 ? "Flags: none" : `Flags: ${messages.length}`),
    flagsOf(messages),
  ].join("");
}
