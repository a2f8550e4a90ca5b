import { InputError } from "../errors/index.ts";
import { isLonLat, type Point } from "../geo/index.ts";
import { M_PER_FT, MG_PER_M2_PER_LB_PER_AC } from "../units/index.ts";
import { type AppliedPoint, type LoggedPoint, passesByProduct } from "./log-passes.ts";
import { readXml, type XmlElement, xmlAttribute, xmlBelow } from "./read-xml.ts";

/** Bytes of the fields of a position that a row may carry, in their order: up, status, PDOP, HDOP, satellites, time, day. */
const POSITION_FIELDS = [
  ["A", 4],
  ["B", 4],
  ["C", 4],
  ["D", 1],
  ["E", 2],
  ["F", 2],
  ["G", 1],
  ["H", 4],
  ["I", 2],
] as const;
const SETPOINT = 0x0006;
const ACTUAL = 0x0007;
const WIDTH = 0x0043;
const DAY_ZERO = Date.UTC(1980, 0, 1);
const DAY_MS = 86_400_000;

/**
 * A time log of task data: `header` is its XML, `bytes` its rows (layout from memory: time of day in ms, day since 1980,
 * the position fields the header leaves empty, then count and pairs of number and value). A value stands until the next.
 * Each device element logs values of its own; `productOf` says what it lays, and a row gives a reading a product: the
 * mean of its elements by their widths, their widths added up, or the machine's where they log none.
 * Rows without a position (0, 0) are left out. Throws what `readXml` throws and `task-log-damaged`.
 */
export function readTaskLog(
  header: Uint8Array,
  bytes: Uint8Array,
  name: string,
  productOf: (element: string, elements: readonly string[]) => string,
): AppliedPoint[] {
  const root = readXml(header, `${name}.XML`);
  const time = root.name === "TIM" ? root : xmlBelow(root, "TIM")[0];
  const position = time?.children.find((child) => child.name === "PTN");
  if (time === undefined || position === undefined)
    throw damaged(name, "its header names no time or position");
  const fields = POSITION_FIELDS.filter(([key]) => position.attributes.get(key) === "");
  if (fields[0]?.[0] !== "A" || fields[1]?.[0] !== "B") throw damaged(name, "its rows carry no position");
  const logged = time.children.filter((child) => child.name === "DLV").map(variableOf);
  const laying = [...new Set(logged.filter(({ ddi }) => ddi === ACTUAL).map(({ element }) => element))];
  const byProduct = new Map<string, string[]>();
  for (const element of laying) {
    const product = productOf(element, laying);
    byProduct.set(product, [...(byProduct.get(product) ?? []), element]);
  }
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const positionSize = fields.reduce((sum, [, size]) => sum + size, 0);
  const current = new Map<string, number>();
  const points: LoggedPoint[] = [];
  let record = 0;
  for (let at = 0; at < bytes.length; ) {
    record += 1;
    const countAt = at + 6 + positionSize;
    const count = countAt < bytes.length ? view.getUint8(countAt) : 0;
    const end = countAt + 1 + 5 * count;
    if (end > bytes.length) throw damaged(name, `row ${record} reaches beyond the end`);
    const place: Point = [view.getInt32(at + 10, true) * 1e-7, view.getInt32(at + 6, true) * 1e-7];
    for (let pair = 0; pair < count; pair++) {
      const variable = logged[view.getUint8(countAt + 1 + 5 * pair)];
      if (variable === undefined) throw damaged(name, `row ${record} holds a value its header does not name`);
      current.set(keyOf(variable.ddi, variable.element), view.getInt32(countAt + 2 + 5 * pair, true));
    }
    if (!isLonLat(place)) throw damaged(name, `row ${record} lies nowhere`);
    if (place[0] !== 0 || place[1] !== 0) {
      const timeMs = DAY_ZERO + view.getUint16(at + 4, true) * DAY_MS + view.getUint32(at, true);
      const time = new Date(timeMs).toISOString().replace(".000Z", "Z");
      for (const [product, elements] of byProduct) {
        const reading = readingOf(current, elements);
        if (reading !== null)
          points.push({ record, at: place, time, distanceFt: Number.NaN, product, ...reading });
      }
    }
    at = end;
  }
  return passesByProduct(points);
}

interface Variable {
  readonly ddi: number;
  readonly element: string;
}

const keyOf = (ddi: number, element: string): string => `${ddi} ${element}`;

function variableOf(value: XmlElement): Variable {
  const text = xmlAttribute(value, "A");
  const ddi = /^[0-9A-Fa-f]{4}$/.test(text) ? Number.parseInt(text, 16) : -1;
  return { ddi, element: xmlAttribute(value, "C") };
}

/** What the elements of one product lay together; null before the first of them has told a rate. */
function readingOf(
  current: ReadonlyMap<string, number>,
  elements: readonly string[],
): Pick<AppliedPoint, "targetLbPerAc" | "appliedLbPerAc" | "widthFt"> | null {
  const told = elements.filter((element) => current.has(keyOf(ACTUAL, element)));
  if (told.length === 0) return null;
  const own = told.map((element) => current.get(keyOf(WIDTH, element)) ?? 0);
  const ownMm = own.reduce((sum, mm) => sum + mm, 0);
  const mean = (ddi: number): number | null => {
    const values = told.map((element) => current.get(keyOf(ddi, element)));
    if (values.some((value) => value === undefined)) return null;
    const weights = ownMm > 0 ? own : own.map(() => 1);
    const total = weights.reduce((sum, weight) => sum + weight, 0);
    return values.reduce<number>((sum, value, e) => sum + value! * weights[e]!, 0) / total;
  };
  const target = mean(SETPOINT);
  return {
    targetLbPerAc: target === null ? null : target / MG_PER_M2_PER_LB_PER_AC,
    appliedLbPerAc: mean(ACTUAL)! / MG_PER_M2_PER_LB_PER_AC,
    widthFt: (ownMm > 0 ? ownMm : widestMm(current)) / 1000 / M_PER_FT,
  };
}

/** The machine's width: the widest that any element tells; 0 where none does. */
function widestMm(current: ReadonlyMap<string, number>): number {
  let widest = 0;
  for (const [key, mm] of current) if (key.startsWith(`${WIDTH} `)) widest = Math.max(widest, mm);
  return widest;
}

function damaged(name: string, what: string): InputError {
  return new InputError(
    "task-log-damaged",
    `${name}: ${what}`,
    "Copy the task data again from where it was made.",
  );
}
