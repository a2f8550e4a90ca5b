import { InputError } from "../errors/index.ts";
import type { Point } from "../geo/index.ts";
import { KG_PER_LB, M_PER_FT, M2_PER_AC } from "../units/index.ts";
import { type AppliedPoint, inPasses } from "./applied-points.ts";
import { readXml, type XmlElement, xmlBelow } from "./read-xml.ts";

/** lb/ac in 1 mg/m2, from the definitions of pound and acre. */
export const LB_PER_AC_PER_MG_PER_M2: number = M2_PER_AC / (KG_PER_LB * 1e6);
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
 * Rows without a position (0, 0) are left out. Throws what `readXml` throws and `task-log-damaged`.
 */
export function readTaskLog(header: Uint8Array, bytes: Uint8Array, name: string): AppliedPoint[] {
  const root = readXml(header, `${name}.XML`);
  const time = root.name === "TIM" ? root : xmlBelow(root, "TIM")[0];
  const position = time?.children.find((child) => child.name === "PTN");
  if (time === undefined || position === undefined)
    throw damaged(name, "its header names no time or position");
  const fields = POSITION_FIELDS.filter(([key]) => position.attributes.get(key) === "");
  if (fields[0]?.[0] !== "A" || fields[1]?.[0] !== "B") throw damaged(name, "its rows carry no position");
  const logged = time.children.filter((child) => child.name === "DLV").map(ddiOf);
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const positionSize = fields.reduce((sum, [, size]) => sum + size, 0);
  const current = new Map<number, number>();
  const points: Omit<AppliedPoint, "pass">[] = [];
  let record = 0;
  for (let at = 0; at < bytes.length; ) {
    record += 1;
    const countAt = at + 6 + positionSize;
    const count = countAt < bytes.length ? view.getUint8(countAt) : 0;
    const end = countAt + 1 + 5 * count;
    if (end > bytes.length) throw damaged(name, `row ${record} reaches beyond the end`);
    const place: Point = [view.getInt32(at + 10, true) * 1e-7, view.getInt32(at + 6, true) * 1e-7];
    for (let pair = 0; pair < count; pair++) {
      const ddi = logged[view.getUint8(countAt + 1 + 5 * pair)];
      if (ddi === undefined) throw damaged(name, `row ${record} holds a value its header does not name`);
      current.set(ddi, view.getInt32(countAt + 2 + 5 * pair, true));
    }
    if (Math.abs(place[0]) > 180 || Math.abs(place[1]) > 90)
      throw damaged(name, `row ${record} lies nowhere`);
    const actual = current.get(ACTUAL);
    if ((place[0] !== 0 || place[1] !== 0) && actual !== undefined) {
      const target = current.get(SETPOINT);
      const timeMs = DAY_ZERO + view.getUint16(at + 4, true) * DAY_MS + view.getUint32(at, true);
      points.push({
        record,
        at: place,
        time: new Date(timeMs).toISOString().replace(".000Z", "Z"),
        targetLbPerAc: target === undefined ? null : target * LB_PER_AC_PER_MG_PER_M2,
        appliedLbPerAc: actual * LB_PER_AC_PER_MG_PER_M2,
        widthFt: (current.get(WIDTH) ?? 0) / 1000 / M_PER_FT,
        distanceFt: Number.NaN,
      });
    }
    at = end;
  }
  return inPasses(points);
}

function ddiOf(value: XmlElement): number {
  const text = value.attributes.get("A") ?? "";
  return /^[0-9A-Fa-f]{4}$/.test(text) ? Number.parseInt(text, 16) : -1;
}

function damaged(name: string, what: string): InputError {
  return new InputError(
    "task-log-damaged",
    `${name}: ${what}`,
    "Copy the task data again from the terminal.",
  );
}
