import { type FieldResult, inWorkingOrder, type RunResult } from "../plan/index.ts";
import { counted } from "../units/index.ts";
import { filesTable, offField, orderToTry, spreadDoubts, unitWords } from "./cab-field.ts";
import { filesInWords, lawPage } from "./cab-sheet.ts";
import { flagged, heading, htmlDocument, list, paragraph, sheetPage } from "./html.ts";
import { layerIds, layerOf } from "./layers.ts";
import { legend } from "./legend.ts";
import { type LoadOrder, loadOrder, mustNotGetZero } from "./load-order.ts";
import { loadedMaps } from "./loaded-maps.ts";
import { acresText, feetText, rateText } from "./numbers.ts";
import { plat } from "./plat.ts";
import { escapeText } from "./svg.ts";
import { beforeMoving, spreaderCare } from "./take-care.ts";

/** The broadcast maps of a field that files were written of. */
const broadcastMaps = ({ prescriptions }: FieldResult): FieldResult["prescriptions"] =>
  prescriptions.filter(({ pass, files }) => pass === "broadcast" && files.size > 0);

/**
 * The spreader's sheet of a build, as the cab sheet is the strip rig's: a printed page for each field that it has a file of, in working
 * order, with products, files, rates and width of the spreader alone; an index where there are more, the law on the last page.
 * One HTML document that needs no script and fetches nothing; null where no field has a broadcast map.
 */
export function spreaderSheet(result: RunResult): string | null {
  const fields = inWorkingOrder(result.plan, result.fields).filter(
    (field) => broadcastMaps(field).length > 0,
  );
  if (fields.length === 0) return null;
  const pages = fields.map((field, i) =>
    sheetPage(
      result,
      {
        title: field.field.name,
        under: `broadcast pass, ${acresText(field.checked.areaAc)} ac`,
        sheet: `Spreader's sheet, page ${i + 1} of ${fields.length}`,
        anchor: field.field.id,
        fieldId: field.field.id,
      },
      spreaderField(result, field),
    ),
  );
  const index = fields.length === 1 ? [] : [indexPage(result, fields)];
  return htmlDocument(`${result.plan.name}: spreader's sheet`, [
    ...index,
    ...pages,
    lawPage(result, "Spreader's sheet"),
  ]);
}

function indexPage(result: RunResult, fields: readonly FieldResult[]): string {
  const rows = fields.map((field, i) => {
    const { name, crop, id } = field.field;
    const files = escapeText(filesInWords(result, field, "broadcast"));
    return `<tr data-field="${escapeText(id)}"><td class="n">${i + 1}</td><td><a href="#${escapeText(id)}">${escapeText(name)}</a></td><td class="n">${acresText(field.checked.areaAc)}</td><td>${escapeText(crop)}</td><td data-pass="broadcast">${files}</td></tr>`;
  });
  const table = `<table><thead><tr><th class="n">page</th><th>field</th><th class="n">ac</th><th>crop</th><th>files</th></tr></thead><tbody>${rows.join("")}</tbody></table>`;
  const incomplete = result.incomplete === "" ? [] : [`Incomplete: ${result.incomplete}.`];
  return sheetPage(
    result,
    {
      title: result.plan.name,
      under: `season ${result.plan.seasonYear}; ${counted(fields.length, "field")} with maps for the spreader`,
      sheet: "Spreader's sheet, index",
    },
    flagged(incomplete) + table + paragraph("Law and local rules: last page."),
  );
}

function spreaderField(result: RunResult, field: FieldResult): string {
  const { plan } = result;
  const order = loadOrder(plan, field, "broadcast");
  const tries = orderToTry(result, order);
  const layer = layerOf(plan, field, layerIds(plan, field).find((id) => id.startsWith("broadcast/"))!);
  const id = `spreader-${field.field.id}`;
  const drawing = plat(plan, field, layer, { width: 430, height: 300, id, inks: "black", frame: false });
  const key = legend(layer, { id: `${id}-key`, width: 240, inks: "black", frame: false });
  const unit = unitWords(result, field, order, "spreader");
  return [
    flagged([...spreadDoubts(result, field), ...order.doubts].map((doubt) => `${doubt}.`)),
    heading("What to load"),
    `<div class="load">${filesTable(result, field, broadcastMaps(field))}</div>`,
    tries.length === 0
      ? unit
      : `<div class="columns small"><div>${unit}</div><div><b>Order to try:</b><ol>${tries.join("")}</ol></div></div>`,
    `<div class="columns small"><div>${heading("Before moving")}${list(checks(result, field, order), "ol")}</div>`,
    `<div>${heading("Take care")}${list(spreaderCare(field))}</div></div>`,
    `<div class="columns"><div class="drawing">${drawing}</div><div>${key}${paragraph("Larger dot, more; blank, nothing.")}</div></div>`,
  ].join("");
}

function checks({ plan }: RunResult, field: FieldResult, { steps }: LoadOrder): string[] {
  const { system, unit } = loadedMaps(plan);
  const files = steps[0]?.files ?? [];
  const least = files.map(({ map, leastLbPerAc }) => `${map.product} ${rateText(leastLbPerAc, system)}`);
  const [first] = files;
  return beforeMoving(
    "broadcast",
    unit,
    least.join(", "),
    `${feetText(plan.spreader.widthFt)} ft`,
    system,
    {
      file: first?.areaAc ?? field.checked.areaAc,
      holes: first?.holesAc ?? 0,
      keptClear: first?.keptClearAc ?? 0,
    },
    mustNotGetZero(plan, field.extras) ? null : offField(plan, steps),
  );
}
