import {
  beyondMapOnLeftLb,
  type FieldResult,
  type Plan,
  type RunResult,
  spreadAlreadyInWords,
  spreadTooMuchInWords,
  stripTooMuchInWords,
} from "../plan/index.ts";
import type { Prescription } from "../prescription/index.ts";
import { KG_PER_LB, numberText } from "../units/index.ts";
import { catchSpeeds, catchTest } from "./catch-test.ts";
import { passWidthText } from "./drawn-field.ts";
import { drivingWords, leadWords } from "./driving-words.ts";
import { flagged, heading, htmlTable, labelled, list, number, paragraph } from "./html.ts";
import { layerIds, layerOf } from "./layers.ts";
import { legend } from "./legend.ts";
import { type FileToLoad, type LoadOrder, loadOrder, mustNotGetZero } from "./load-order.ts";
import { loadedMaps } from "./loaded-maps.ts";
import {
  analysisInWords,
  binInWords,
  coatInWords,
  flatRate,
  openAcres,
  stemOf,
  stepOf,
} from "./map-words.ts";
import { lbText, rateIn, rateText, type UnitSystem } from "./numbers.ts";
import { plat } from "./plat.ts";
import { standInWords } from "./stand-words.ts";
import { escapeText } from "./svg.ts";
import { beforeMoving, takeCare } from "./take-care.ts";

/** The plat of a usual cab sheet, px; the page holds 985. */
const PLAT_HIGH = 290;
/** The least that it is drawn in, px; less where there is more than one paragraph with a mark. */
const PLAT_LEAST = { usual: 170, flags: 150 };
/** What stands beyond the usual, px: the order to try, a paragraph with a mark, a map more than two. */
const HIGH = { tries: 84, flag: 34, row: 20 };

/** What the page of a remainder says besides. */
export interface RestOfField {
  readonly leftAc: number;
  /** Acres left of each piece of the passes, 0 where it is worked. */
  readonly areaAc: Float64Array;
  /** What the operator must know of these files, a paragraph each. */
  readonly said: readonly string[];
}

/** What the operator needs of one field, on one page: what to load, the checks and the cautions, then the plat and the line. */
export function cabField(result: RunResult, field: FieldResult, rest?: RestOfField): string {
  const { plan } = result;
  const said = rest?.said ?? [];
  const ids = layerIds(plan, field).filter((id) => id.startsWith("strip/"));
  const layer = layerOf(plan, field, ids[0]!);
  const id = `cab-${field.field.id}`;
  const lead = leadWords(plan);
  const order = loadOrder(plan, field, "strip");
  const tries = orderToTry(result, order);
  const stand = rest === undefined ? result.stands.find((one) => one.fieldId === field.field.id) : undefined;
  const ofStand =
    stand === undefined ? [] : [standInWords(field.field.name, stand), stripTooMuchInWords(field, stand)];
  const doubts = [...ofStand, ...spreadDoubts(result, field), ...order.doubts].filter(
    (words) => words !== "",
  );
  const flags = [...said, ...doubts.map((words) => `${words}.`)];
  // What is said beyond the usual takes its room from the plat, so that the sheet stays one page.
  const height =
    PLAT_HIGH -
    (lead === "" ? 0 : 44) -
    (tries.length > 0 ? HIGH.tries : 0) -
    HIGH.flag * flags.length -
    HIGH.row * Math.max(0, field.prescriptions.length - 2) -
    // Kilograms beside the pounds leave less width: each map takes a second line.
    (loadedMaps(plan).system === "metric" ? HIGH.row * field.prescriptions.length : 0);
  const drawing = plat(plan, field, layer, {
    width: 430,
    height: Math.max(height, flags.length > 1 ? PLAT_LEAST.flags : PLAT_LEAST.usual),
    inset: { left: 36, top: 32, right: 44, bottom: 66 },
    id,
    inks: "black",
    lineAB: true,
    passNumbers: true,
    workingOrder: true,
    frame: false,
  });
  const key = legend(layer, { id: `${id}-key`, width: 240, inks: "black", frame: false });
  const line = labelled("Line and order:", drivingWords(plan, field).join(" "));
  return [
    said.length === 0 && flags.length < 2 ? flagged(flags) : `<div class="small">${flagged(flags)}</div>`,
    heading("What to load, a stick for each machine"),
    `<div class="load">${filesTable(result, field, field.prescriptions, rest)}</div>`,
    tries.length === 0
      ? unitWords(result, field, order)
      : `<div class="columns small"><div>${unitWords(result, field, order)}</div><div><b>Order to try:</b><ol>${tries.join("")}</ol></div></div>`,
    lead === "" ? "" : `<p><b>${escapeText(lead)}</b></p>`,
    `<div class="columns small"><div>${heading("Catch test before the first pass")}${catchTable(result, field, rest?.leftAc)}${heading("Before moving")}${list(checks(result, field, order), "ol")}</div>`,
    `<div>${heading("Take care")}${list(takeCare(field, rest?.areaAc, plan))}</div></div>`,
    said.length === 0
      ? `<div class="columns"><div class="drawing">${drawing}</div><div>${key}</div></div>${line}`
      : `<div class="columns"><div class="drawing">${drawing}</div><div class="small">${line}${paragraph("The thicker a line the more is laid; dots or no line: worked, or nothing to lay. Mean and flat are over what is left.")}</div></div>`,
  ].join("");
}

/** What the spreader's maps would lay besides what the ledger has in the strips and as spread. */
export function spreadDoubts({ stands }: RunResult, field: FieldResult): string[] {
  const stand = stands.find((one) => one.fieldId === field.field.id);
  if (stand === undefined) return [];
  return [spreadTooMuchInWords(field, stand), spreadAlreadyInWords(field, stand)].filter(
    (words) => words !== "",
  );
}

/** A row a map, marked with its pass; what will load first, with its own figures. */
export function filesTable(
  result: RunResult,
  field: FieldResult,
  maps: readonly Prescription[],
  rest?: Pick<RestOfField, "leftAc" | "areaAc">,
): string {
  const { plan } = result;
  const { system, unit } = loadedMaps(plan);
  const firstStep = {
    strip: loadOrder(plan, field, "strip").steps[0],
    broadcast: loadOrder(plan, field, "broadcast").steps[0],
  };
  const isTask = maps.length > 0 && firstStep[maps[0]!.pass]?.form.startsWith("taskdata") === true;
  /** Pounds of a file on what is left: of a fallback its small rate too, where the map has 0. */
  const leftLb = (map: Prescription, areaAc: Float64Array): number => {
    const isFallback = firstStep[map.pass]?.form === "fallback";
    const own = field.extras.find(({ form, stems }) => form === "fallback" && stems.includes(map.stem));
    const small = isFallback ? (own?.smallRateLbPerAc ?? 0) : 0;
    return map.totalLb + beyondMapOnLeftLb(field, map, areaAc, small);
  };
  const rowOf = (map: Prescription): string[] => {
    const first = firstStep[map.pass];
    const file = first?.files.find((one) => one.map === map);
    const none = map.files.size === 0 ? stemOf(map) : "none; flat rate alone";
    const rates = file
      ? [
          rateText(file.leastLbPerAc, system),
          rateText(
            rest === undefined ? file.totalLb / map.areaAc : leftLb(map, rest.areaAc) / rest.leftAc,
            system,
            1,
          ),
          rateText(file.mostLbPerAc, system),
        ]
      : ["", "", ""];
    return [
      binInWords(map),
      map.product,
      `${analysisInWords(map.analysis)}${map.pass === "strip" ? coatInWords(field, map.bin) : ""}`,
      file?.name ?? none,
      massBoth(file?.totalLb ?? map.totalLb, system),
      ...rates,
      rateText(flatRate(map, stepOf(plan, map), rest?.leftAc ?? openAcres(field, map.pass)), system),
    ];
  };
  return htmlTable(
    [
      { title: "load in" },
      { title: "product" },
      { title: "ticket must read, %" },
      { title: isTask ? "task, in TASKDATA" : "file" },
      ...[
        system === "metric" ? "lb (kg)" : "lb",
        ...["least", "mean", "most", "flat"].map((what) => `${what}, ${unit}`),
      ].map(number),
    ],
    maps.map(rowOf),
    undefined,
    maps.map(({ pass }) => `data-pass="${pass}"`),
  );
}

/** Pounds, as tickets and scales have them, and what a display in kg/ha counts. */
const massBoth = (lb: number, system: UnitSystem): string =>
  system === "metric" ? `${lbText(lb)} (${lbText(lb, system)})` : lbText(lb);

/** What the display is told besides the file: column, unit, default rate, and what to do when the position is lost. */
export function unitWords(
  result: RunResult,
  field: FieldResult,
  { steps }: LoadOrder,
  machine: "rig" | "spreader" = "rig",
): string {
  const { column, unit, meaning } = loadedMaps(result.plan);
  const task = steps[0]?.form.startsWith("taskdata") === true;
  const { start, positionLost, outOfField } = offField(result.plan, steps);
  const defaultRate = mustNotGetZero(result.plan, field.extras)
    ? "This controller must not get a rate 0, nor as default rate or outside the field: meters off by hand there."
    : start + outOfField > 0
      ? `Default rate ${start} lb/ac, outside the field ${outOfField}: the task sends them, as typed in the plan.`
      : "Default rate 0, outside the field 0.";
  const stops = machine === "rig" ? "both meters stop" : "nothing is spread";
  const lost = positionLost > 0 ? `the task lays ${positionLost} lb/ac` : stops;
  const where = task
    ? `Task data has no column to choose: pick the task. Unit <b>${unit}</b> on the display`
    : `Column <b>${column}</b>, unit <b>${unit}</b>`;
  return `<p>${emptyMaps(steps[0]?.files ?? [])}<b>Flat</b> when the file is refused. ${where}: ${meaning}. <b>${defaultRate} Position lost: ${lost}; stop the ${machine}.</b></p>`;
}

/** Rates sent besides the map's, lb/ac. */
interface OffField {
  readonly start: number;
  readonly positionLost: number;
  readonly outOfField: number;
}

/** What a task sends besides the map's rates, as the plan's controller has it. */
const typedRates = ({ controller }: Plan): OffField => ({
  start: controller?.startLbPerAc ?? 0,
  positionLost: controller?.positionLostLbPerAc ?? 0,
  outOfField: controller?.outOfFieldLbPerAc ?? 0,
});

/** The same of what is loaded first: a map sends none, and the display's must be 0. */
export const offField = (plan: Plan, steps: LoadOrder["steps"]): OffField =>
  steps[0]?.form.startsWith("taskdata") ? typedRates(plan) : { start: 0, positionLost: 0, outOfField: 0 };

/** What to load one after the other while the display refuses, each step marked with its form; none where there is no choice. */
export function orderToTry({ plan }: RunResult, { steps }: LoadOrder): string[] {
  if (steps.length < 2) return [];
  const { start, positionLost, outOfField } = typedRates(plan);
  const typed =
    start + positionLost + outOfField > 0
      ? `; it sends, as typed in the plan: ${start} lb/ac at the start, ${positionLost} lb/ac when the position is lost, ${outOfField} lb/ac outside the field`
      : "";
  const lines = steps.map(({ form, files, words }, k) => {
    const names = k === 0 ? "as above" : [...new Set(files.map(({ name }) => name))].join(", ");
    const more = form.startsWith("taskdata") ? typed : "";
    return `<li data-form="${form}">${escapeText(`${names}: ${words}${more}`)}</li>`;
  });
  return [...lines, "<li>the flat rate, by hand</li>"];
}

/** Bins that have nothing to do in this field, as a bold beginning; empty where each has. */
function emptyMaps(files: readonly FileToLoad[]): string {
  const words = files
    .filter(({ mostLbPerAc }) => mostLbPerAc === 0)
    .map(({ map }) => `Nothing comes from the ${binInWords(map)}: its file is 0 everywhere.`);
  return words.length === 0 ? "" : `<b>${escapeText(words.join(" "))}</b> `;
}

/** lb/ac that the rate as it is printed, and so typed into the display, stands for. */
const printedRate = (lbPerAc: number, system: UnitSystem): number =>
  Math.round(rateIn(lbPerAc, system)) / rateIn(1, system);

function catchTable(result: RunResult, field: FieldResult, leftAc: number | undefined): string {
  const maps = field.prescriptions.filter((map) => map.pass === "strip" && map.maxLbPerAc > 0);
  const { system, unit } = loadedMaps(result.plan);
  const speeds = catchSpeeds(result.plan);
  const rows = maps.map((map) => {
    const flat = flatRate(map, result.plan.rig.rateStepLbPerAc, leftAc ?? openAcres(field, map.pass));
    const rate = printedRate(flat > 0 ? flat : map.maxLbPerAc, system);
    const pounds = speeds.map((mph) => {
      const { allRowsLb, oneRowLb } = catchTest(result.plan, rate, mph);
      return `${numberText(allRowsLb, 1)} / ${numberText(oneRowLb, 2)}`;
    });
    return [`${map.product} at ${rateText(rate, system)} ${unit}`, ...pounds, "____"];
  });
  const titles = speeds.map((mph) => number(`lb at ${numberText(mph, 1).replace(/\.0$/, "")} mph`));
  const inKg = system === "metric" ? ` 1 lb is ${numberText(KG_PER_LB, 4)} kg.` : "";
  return (
    htmlTable([{ title: "product" }, ...titles, { title: "caught, lb" }], rows) +
    paragraph(
      `In one minute, all rows / one row, at the rate named.${inKg} All rows within 5 % of their mean (Sumner, Univ. Georgia), or set the meter again.`,
    )
  );
}

function checks(result: RunResult, field: FieldResult, { steps }: LoadOrder): string[] {
  const { system, unit } = loadedMaps(result.plan);
  const files = steps[0]?.files ?? [];
  const least = files
    .map(({ map, leastLbPerAc }) => `${map.product} ${rateText(leastLbPerAc, system)}`)
    .join(", ");
  return beforeMoving(
    "strip",
    unit,
    least,
    `${passWidthText(result.plan)} ft, ${result.plan.rig.rows} rows`,
    system,
    {
      file: files[0]?.areaAc ?? field.checked.areaAc,
      holes: files[0]?.holesAc ?? 0,
      keptClear: files[0]?.keptClearAc ?? 0,
    },
    mustNotGetZero(result.plan, field.extras) ? null : offField(result.plan, steps),
  );
}
