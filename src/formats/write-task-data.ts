import { isLonLat, type MultiPolygon, type Point, type Ring, WRITTEN_DECIMALS } from "../geo/index.ts";
import { MG_PER_M2_PER_LB_PER_AC } from "../units/index.ts";
import { xmlElement } from "./write-xml.ts";

/** What one set of task data says: planned tasks, each the rates of one pass over one field. */
interface TaskDataContent {
  /** Version of the standard to write; the content differs by the root element alone. */
  readonly version: 3 | 4;
  readonly customer: string;
  readonly farm: string;
  readonly tasks: readonly PlannedTask[];
}

export interface PlannedTask {
  /** From 1 to 99999, unique among all sets that may be merged: names TSK and GRD. */
  readonly number: number;
  readonly name: string;
  readonly field: PlannedField;
  /** One rate each in every cell or zone, in this order. */
  readonly products: readonly PlannedProduct[];
  /** mg/m2 sent at the start, when the position fails, and outside grid and polygons; 0 each when left out. */
  readonly always?: { readonly start: number; readonly positionLost: number; readonly outOfField: number };
  readonly rates: PlannedGrid | PlannedZones;
}

export interface PlannedField {
  /** Unique as a task's; a field keeps it in every set. */
  readonly number: number;
  readonly name: string;
  readonly areaM2: number;
  readonly boundary: MultiPolygon;
}

interface PlannedProduct {
  readonly number: number;
  readonly name: string;
}

/** Cells in degrees, row by row from the south-west corner, each row from west to east. */
export interface PlannedGrid {
  readonly kind: "grid";
  readonly southWest: Point;
  readonly eastDeg: number;
  readonly northDeg: number;
  readonly columns: number;
  readonly rows: number;
  /** mg/m2, an array a product; 0 outside the field. */
  readonly mgPerM2: readonly Int32Array[];
}

export interface PlannedZones {
  readonly kind: "zones";
  readonly zones: readonly PlannedZone[];
}

interface PlannedZone {
  readonly name: string;
  /** mg/m2, one a product. */
  readonly mgPerM2: readonly number[];
  readonly polygons: MultiPolygon;
}

/** The first three zone codes are taken: start, position lost, out of field. */
const FIRST_FREE_CODE = 4;
/** Zones with rates that a task can hold: codes run to 254. */
export const MOST_TASK_ZONES: number = 254 - (FIRST_FREE_CODE - 1);

/** Setpoint of mass per area, mg/m2 (ISO 11783-11 data dictionary: 0006; 0009 would be the minimum). */
const SETPOINT = "0006";

/**
 * A folder TASKDATA (ISO 11783-10), path -> bytes: TASKDATA.XML and for each grid a GRDnnnnn.BIN of type 2. Customer,
 * farm and field always stand there, as do the zones for start, lost position and outside the field. Texts are cut
 * at 32 characters; ids have no hyphen; outer and inner rings are closed, one PLN a part; positions to 9 decimals.
 * One element a line, so that `mergeTaskData` can put sets together. The same content gives the same bytes.
 * Throws a plain Error on a number that the format cannot hold.
 */
export function writeTaskData(content: TaskDataContent): Map<string, Uint8Array<ArrayBuffer>> {
  const { tasks } = content;
  const unique = <T extends { readonly number: number }>(all: readonly T[]): T[] =>
    [...new Map(all.map((one) => [one.number, one])).values()].sort((a, b) => a.number - b.number);
  const body = [
    xmlElement("CTR", { A: "CTR1", B: designator(content.customer) }),
    xmlElement("FRM", { A: "FRM1", B: designator(content.farm), I: "CTR1" }),
    ...unique(tasks.flatMap((task) => task.products)).map((product) =>
      xmlElement("PDT", { A: id("PDT", product), B: designator(product.name), C: "PGP1", E: "0051" }),
    ),
    xmlElement("PGP", { A: "PGP1", B: "Fertilizer" }),
    xmlElement("VPN", { A: "VPN1", B: 0, C: (1 / MG_PER_M2_PER_LB_PER_AC).toFixed(9), D: 1, E: "lb/ac" }),
    ...unique(tasks.map((task) => task.field)).map(fieldElement),
    ...unique(tasks).map(taskElement),
  ];
  const files = new Map([["TASKDATA/TASKDATA.XML", taskDataXml(content.version, body)]]);
  for (const task of unique(tasks)) {
    if (task.rates.kind === "grid") files.set(`TASKDATA/${gridName(task)}.BIN`, gridBytes(task.rates));
  }
  return files;
}

/** The whole XML text of some elements, a line each. */
export function taskDataXml(version: 3 | 4, elements: readonly string[]): Uint8Array<ArrayBuffer> {
  const root =
    `<ISO11783_TaskData VersionMajor="${version}" VersionMinor="3" ManagementSoftwareManufacturer="bermplan" ` +
    `ManagementSoftwareVersion="1" DataTransferOrigin="1">`;
  const lines = [`<?xml version="1.0" encoding="UTF-8"?>`, root, ...elements, "</ISO11783_TaskData>", ""];
  return new TextEncoder().encode(lines.join("\n"));
}

const MOST_TEXT = 32;

/** At most 32 characters, whole ones; never empty, as a designator is required. */
function designator(text: string): string {
  const cut = [...text.replaceAll(/[\p{Cc}\p{Cs}]/gu, " ").trim()].slice(0, MOST_TEXT).join("").trim();
  return cut === "" ? "unnamed" : cut;
}

const id = (tag: string, { number }: { readonly number: number }): string => {
  if (!Number.isInteger(number) || number < 1 || number > 99_999) throw new Error(`${tag}${number} is no id`);
  return `${tag}${number}`;
};

const gridName = (task: PlannedTask): string => `GRD${String(task.number).padStart(5, "0")}`;

function fieldElement(field: PlannedField): string {
  const polygons = field.boundary.map((polygon) => polygonElement(1, polygon));
  const attributes = { A: id("PFD", field), C: designator(field.name), D: Math.round(field.areaM2) };
  return xmlElement("PFD", { ...attributes, E: "CTR1", F: "FRM1" }, polygons);
}

const degrees = (value: number): string => value.toFixed(WRITTEN_DECIMALS);

/** A part: type 1 is a boundary, 2 a treatment zone. */
function polygonElement(type: 1 | 2, polygon: readonly Ring[]): string {
  const rings = polygon.map((ring, k) =>
    xmlElement("LSG", { A: k === 0 ? 1 : 2 }, [...ring, ring[0]!].map(pointElement)),
  );
  return xmlElement("PLN", { A: type }, rings);
}

function pointElement(point: Point): string {
  if (!isLonLat(point)) throw new Error(`${point.join(", ")} is no longitude and latitude`);
  return `<PNT A="2" C="${degrees(point[1])}" D="${degrees(point[0])}"/>`;
}

function taskElement(task: PlannedTask): string {
  const { start, positionLost, outOfField } = task.always ?? { start: 0, positionLost: 0, outOfField: 0 };
  const alike = (raw: number): number[] => task.products.map(() => raw);
  const zone = (code: number, name: string, raw: readonly number[], polygons: readonly string[] = []) =>
    xmlElement("TZN", { A: code, B: designator(name) }, [...polygons, ...valueElements(task, raw)]);
  const special = [
    zone(1, "default", alike(start)),
    zone(2, "position lost", alike(positionLost)),
    zone(3, "out of field", alike(outOfField)),
  ];
  const attributes = {
    A: id("TSK", task),
    B: designator(task.name),
    C: "CTR1",
    D: "FRM1",
    E: id("PFD", task.field),
    G: 1,
    H: 1,
    I: 2,
    J: 3,
  };
  const { rates } = task;
  if (rates.kind === "grid") {
    const placeholder = zone(FIRST_FREE_CODE, "grid", alike(0));
    return xmlElement("TSK", attributes, [...special, placeholder, gridElement(task, rates)]);
  }
  if (rates.zones.length > MOST_TASK_ZONES) throw new Error(`${rates.zones.length} zones in a task`);
  const zones = rates.zones.map(({ name, mgPerM2, polygons }, k) =>
    zone(
      FIRST_FREE_CODE + k,
      name,
      mgPerM2,
      polygons.map((polygon) => polygonElement(2, polygon)),
    ),
  );
  return xmlElement("TSK", attributes, [...special, ...zones]);
}

function valueElements(task: PlannedTask, raw: readonly number[]): string[] {
  if (raw.length !== task.products.length) throw new Error(`${raw.length} rates of ${task.products.length}`);
  return task.products.map((product, k) => {
    const value = raw[k]!;
    if ((value | 0) !== value || value < 0) throw new Error(`the rate ${value} mg/m2 cannot be written`);
    return xmlElement("PDV", { A: SETPOINT, B: value, C: id("PDT", product), E: "VPN1" });
  });
}

function gridElement(task: PlannedTask, grid: PlannedGrid): string {
  const { southWest, northDeg, eastDeg, columns, rows } = grid;
  const isSize = (deg: number) => deg > 0 && deg < 1;
  if (!isSize(northDeg) || !isSize(eastDeg)) throw new Error(`cells of ${northDeg} by ${eastDeg} degrees`);
  return xmlElement("GRD", {
    A: degrees(southWest[1]),
    B: degrees(southWest[0]),
    C: northDeg.toFixed(12),
    D: eastDeg.toFixed(12),
    E: columns,
    F: rows,
    G: gridName(task),
    H: 4 * columns * rows * grid.mgPerM2.length,
    I: 2,
    J: FIRST_FREE_CODE,
  });
}

function gridBytes({ columns, rows, mgPerM2 }: PlannedGrid): Uint8Array<ArrayBuffer> {
  const cells = columns * rows;
  const bytes = new Uint8Array(4 * cells * mgPerM2.length);
  const view = new DataView(bytes.buffer);
  mgPerM2.forEach((values, product) => {
    if (values.length !== cells) throw new Error(`${values.length} values for ${cells} cells`);
    for (let cell = 0; cell < cells; cell++) {
      view.setInt32(4 * (cell * mgPerM2.length + product), values[cell]!, true);
    }
  });
  return bytes;
}
