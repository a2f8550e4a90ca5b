import { InputError, type Notice } from "../errors/index.ts";
import { isLonLat, type MultiPolygon, orient, type Point, type Polygon, type Ring } from "../geo/index.ts";
import { openRing } from "./raw-layer.ts";
import { readXml, type XmlElement, xmlAttribute, xmlBelow } from "./read-xml.ts";
import type { Task, TaskData, TaskField, TaskLog, TaskRates } from "./task-data-types.ts";
import { type DeviceElement, deviceElements, productOfElement } from "./task-devices.ts";
import { readTaskGrid } from "./task-grid.ts";
import { readTaskLog } from "./task-log.ts";

/** Whether one of the files is the root of task data, letter case aside; its path. */
export function taskDataRoot(files: ReadonlyMap<string, Uint8Array>): string | undefined {
  return [...files.keys()].find((path) => /(^|\/)taskdata\.xml$/i.test(path));
}

/**
 * Task data (ISO 11783-10, versions 3 and 4) out of its files, path -> bytes; letter case of names does not matter.
 * External parts are taken in. Rates stay raw, by product. Throws what `readXml` throws, `not-task-data`,
 * `task-file-missing`, `bad-coordinate` and the errors of grids and logs.
 */
export function readTaskData(files: ReadonlyMap<string, Uint8Array>, name: string): TaskData {
  const path = taskDataRoot(files);
  if (path === undefined) throw new Error("no TASKDATA.XML among the files");
  const folder = path.slice(0, path.lastIndexOf("/") + 1).toLowerCase();
  const byName = new Map([...files].map(([one, bytes]) => [one.toLowerCase(), bytes]));
  const beside = (file: string): Uint8Array | undefined => byName.get(`${folder}${file.toLowerCase()}`);
  const root = readXml(files.get(path)!, shown(name, path));
  if (!/^ISO11783_TaskData$/i.test(root.name)) {
    const message = `${shown(name, path)}: <${root.name.slice(0, 40)}> is no task data`;
    throw new InputError("not-task-data", message, "Copy the folder TASKDATA again.");
  }
  const notices: Notice[] = [];
  const elements = root.children.flatMap((child) =>
    child.name === "XFR" ? externalParts(child, beside, name, notices) : [child],
  );
  const of = (tag: string) => elements.filter((element) => element.name === tag);
  const fields = of("PFD").map((field) => readField(field, name));
  const products = new Map(
    of("PDT").map((product) => [xmlAttribute(product, "A"), xmlAttribute(product, "B")]),
  );
  const devices = deviceElements(of("DVC"));
  const tasks = of("TSK").map((task) => readTask(task, fields, products, devices, beside, name, notices));
  return {
    path: shown(name, path),
    version: Number(xmlAttribute(root, "VersionMajor")),
    fields,
    tasks,
    notices,
  };
}

const shown = (name: string, path: string): string => (name.endsWith(path) ? name : `${name}: ${path}`);

function externalParts(
  reference: XmlElement,
  beside: (file: string) => Uint8Array | undefined,
  name: string,
  notices: Notice[],
): readonly XmlElement[] {
  const file = xmlAttribute(reference, "A");
  const bytes = beside(`${file}.XML`);
  if (bytes !== undefined) return readXml(bytes, `${name}: ${file}.XML`).children;
  notices.push({ code: "task-file-missing", message: `${file}.XML is named and not there`, where: name });
  return [];
}

function readField(field: XmlElement, name: string): TaskField {
  const where = `${name}, field ${xmlAttribute(field, "C")}`;
  const boundary = polygonsOf(field, where, new Set(["1", "9"]));
  const lines = xmlBelow(field, "LSG")
    .filter((line) => xmlAttribute(line, "A") === "5")
    .map((line) => pointsOf(line, where))
    .filter((line) => line.length >= 2);
  return { id: xmlAttribute(field, "A"), name: xmlAttribute(field, "C"), boundary, lines };
}

/** The polygons of the given types directly inside an element; version 3 may put several outer rings into one. */
function polygonsOf(element: XmlElement, where: string, types: ReadonlySet<string>): MultiPolygon {
  const polygons: Polygon[] = [];
  for (const polygon of element.children) {
    if (polygon.name !== "PLN" || !types.has(xmlAttribute(polygon, "A"))) continue;
    const rings = polygon.children.filter((child) => child.name === "LSG");
    const outer = rings.filter((ring) => xmlAttribute(ring, "A") === "1").map((ring) => ringOf(ring, where));
    const inner = rings.filter((ring) => xmlAttribute(ring, "A") === "2").map((ring) => ringOf(ring, where));
    if (outer.length === 1) polygons.push([outer[0]!, ...inner]);
    else polygons.push(...outer.map((ring) => [ring]), ...inner.map((ring) => [ring]));
    if (outer.length > 1 && inner.length > 0) {
      throw new InputError(
        "rings-not-told",
        `${where}: several outer rings with holes in one polygon`,
        "Write one polygon a part.",
      );
    }
  }
  return orient(polygons);
}

function ringOf(line: XmlElement, where: string): Ring {
  const open = openRing(pointsOf(line, where));
  if (open.length >= 3) return open;
  throw new InputError(
    "ring-too-short",
    `${where}: a ring has ${open.length} points; it needs 3`,
    "Draw the polygon again.",
  );
}

function pointsOf(line: XmlElement, where: string): Point[] {
  return line.children
    .filter((child) => child.name === "PNT")
    .map((point) => {
      const [lat, lon] = [xmlAttribute(point, "C"), xmlAttribute(point, "D")];
      const at: Point = lat === "" || lon === "" ? [Number.NaN, Number.NaN] : [Number(lon), Number(lat)];
      if (isLonLat(at)) return at;
      const message = `${where}, line ${point.line}: ${lat}, ${lon} is no latitude and longitude`;
      throw new InputError("bad-coordinate", message, "Copy the task data again from where it was made.");
    });
}

interface Zone {
  readonly code: string;
  readonly name: string;
  readonly element: XmlElement;
  readonly values: readonly XmlElement[];
}

function readTask(
  task: XmlElement,
  fields: readonly TaskField[],
  products: ReadonlyMap<string, string>,
  devices: ReadonlyMap<string, DeviceElement>,
  beside: (file: string) => Uint8Array | undefined,
  name: string,
  notices: Notice[],
): Task {
  const zones = task.children
    .filter((child) => child.name === "TZN")
    .map((element): Zone => {
      const values = element.children.filter((child) => child.name === "PDV");
      return { code: xmlAttribute(element, "A"), name: xmlAttribute(element, "B"), element, values };
    });
  const grid = task.children.find((child) => child.name === "GRD");
  const title = xmlAttribute(task, "B") || xmlAttribute(task, "A");
  const variables = new Map<string, { ddi: string; product: string }>();
  for (const value of zones.flatMap((zone) => zone.values)) {
    const ddi = xmlAttribute(value, "A").toUpperCase();
    variables.set(`${ddi} ${xmlAttribute(value, "C")}`, { ddi, product: xmlAttribute(value, "C") });
  }
  const where = `${name}, task ${title}`;
  const rates = [...variables.values()].map(({ ddi, product }): TaskRates => {
    const isSame = (value: XmlElement) =>
      xmlAttribute(value, "A").toUpperCase() === ddi && xmlAttribute(value, "C") === product;
    const valueIn = (zone: Zone | undefined): number | null => {
      const value = zone?.values.find(isSame);
      return value === undefined ? null : rawValue(value, where);
    };
    const coded = (key: string) =>
      zones.find((zone) => zone.code === xmlAttribute(task, key) && zone.code !== "");
    const gridZone = grid && zones.find((zone) => zone.code === xmlAttribute(grid, "J"));
    const gridValues = gridZone?.values ?? [];
    const which = xmlAttribute(grid ?? task, "I") === "2" ? gridValues.findIndex(isSame) : 0;
    const hasGrid = grid !== undefined && which >= 0;
    return {
      product: products.get(product) ?? product,
      ddi,
      defaultRate: valueIn(coded("H")),
      positionLost: valueIn(coded("I")),
      outOfField: valueIn(coded("J")),
      grid: hasGrid
        ? readTaskGrid(
            grid,
            gridFile(grid, beside, where),
            where,
            Math.max(1, gridValues.length),
            which,
            (code) => {
              const zone = zones.find((one) => one.code === String(code));
              return zone === undefined ? undefined : (valueIn(zone) ?? 0);
            },
          )
        : null,
      zones: zones.flatMap((zone) => {
        const polygons = polygonsOf(zone.element, `${where}, zone ${zone.code}`, new Set(["1", "2"]));
        const value = valueIn(zone);
        return polygons.length === 0 || value === null
          ? []
          : [{ code: Number(zone.code), name: zone.name, value, polygons }];
      }),
    };
  });
  return {
    id: xmlAttribute(task, "A"),
    name: title,
    isPlanned: xmlAttribute(task, "G") === "1",
    field: fields.find((field) => field.id === xmlAttribute(task, "E")) ?? null,
    rates,
    logs: readLogs(task, productOfElement(task, products, devices), beside, where, notices),
  };
}

function rawValue(value: XmlElement, where: string): number {
  const raw = Number(xmlAttribute(value, "B"));
  if (xmlAttribute(value, "B") !== "" && Number.isInteger(raw)) return raw;
  const message = `${where}, line ${value.line}: the value "${xmlAttribute(value, "B").slice(0, 20)}" is no whole number`;
  throw new InputError("task-value", message, "Copy the task data again from where it was made.");
}

function gridFile(
  grid: XmlElement,
  beside: (file: string) => Uint8Array | undefined,
  where: string,
): Uint8Array {
  const file = xmlAttribute(grid, "G");
  const bytes = beside(`${file}.BIN`);
  if (bytes !== undefined) return bytes;
  throw new InputError(
    "task-file-missing",
    `${where}: ${file}.BIN is named and not there`,
    "Copy the whole folder TASKDATA.",
  );
}

function readLogs(
  task: XmlElement,
  productOf: (element: string, elements: readonly string[]) => string,
  beside: (file: string) => Uint8Array | undefined,
  where: string,
  notices: Notice[],
): TaskLog[] {
  return task.children.flatMap((child) => {
    if (child.name !== "TLG") return [];
    const file = xmlAttribute(child, "A");
    const [header, bytes] = [beside(`${file}.XML`), beside(`${file}.BIN`)];
    if (header !== undefined && bytes !== undefined) {
      return [{ name: file, points: readTaskLog(header, bytes, `${where}, ${file}`, productOf) }];
    }
    notices.push({
      code: "task-file-missing",
      message: `${where}: the log ${file} is named and not there`,
      where,
    });
    return [];
  });
}
