import { deflateSync } from "fflate";
import { calendarDate } from "./calendar-date.ts";
import { crc32 } from "./crc32.ts";
import { nameFault } from "./zip-directory.ts";

interface Packed {
  readonly name: Uint8Array;
  /** The 26 bytes that a local and a central header share, from "version needed" on. */
  readonly shared: Uint8Array;
  readonly data: Uint8Array;
}

const UTF8_NAMES = 1 << 11;

/**
 * A zip archive, entries sorted by name, deflated where that is smaller. `date` is `YYYY-MM-DD`, from 1980 on;
 * every entry carries it at midnight, so the bytes depend on nothing but the arguments (not on the clock, the
 * time zone or the order of the map). Throws a plain Error on a name that leads out of the archive's folder.
 */
export function writeZip(files: ReadonlyMap<string, Uint8Array>, date: string): Uint8Array<ArrayBuffer> {
  const packed = [...files]
    .sort(([a], [b]) => (a < b ? -1 : 1))
    .map(([name, bytes]) => pack(name, bytes, date));
  const total = packed.reduce((sum, entry) => sum + 76 + 2 * entry.name.length + entry.data.length, 22);
  if (packed.length >= 0xffff || total >= 0xffffffff)
    throw new Error(`too big for a plain zip: ${total} bytes`);
  const zip = new Uint8Array(total);
  const view = new DataView(zip.buffer);
  let at = 0;
  const put = (bytes: Uint8Array): void => {
    zip.set(bytes, at);
    at += bytes.length;
  };
  const offsets = packed.map((entry) => {
    const offset = at;
    view.setUint32(at, 0x04034b50, true);
    at += 4;
    put(entry.shared);
    put(entry.name);
    put(entry.data);
    return offset;
  });
  const directory = at;
  packed.forEach((entry, index) => {
    view.setUint32(at, 0x02014b50, true);
    view.setUint16(at + 4, 20, true);
    at += 6;
    put(entry.shared);
    view.setUint32(at + 10, offsets[index] ?? 0, true); // between: comment, disk and attributes, all 0
    at += 14;
    put(entry.name);
  });
  view.setUint32(at, 0x06054b50, true);
  view.setUint16(at + 8, packed.length, true);
  view.setUint16(at + 10, packed.length, true);
  view.setUint32(at + 12, at - directory, true);
  view.setUint32(at + 16, directory, true);
  return zip;
}

function pack(name: string, bytes: Uint8Array, date: string): Packed {
  const fault = nameFault(name);
  if (fault !== undefined) throw new Error(`the entry name "${name}" ${fault}`);
  const deflated = deflateSync(bytes, { level: 6 });
  const smaller = deflated.length < bytes.length;
  const data = smaller ? deflated : bytes;
  const encoded = new TextEncoder().encode(name);
  const shared = new Uint8Array(26);
  const view = new DataView(shared.buffer);
  view.setUint16(0, 20, true);
  view.setUint16(2, encoded.length === name.length ? 0 : UTF8_NAMES, true);
  view.setUint16(4, smaller ? 8 : 0, true);
  view.setUint16(8, directoryDate(date), true);
  view.setUint32(10, crc32(bytes), true);
  view.setUint32(14, data.length, true);
  view.setUint32(18, bytes.length, true);
  view.setUint16(22, encoded.length, true);
  return { name: encoded, shared, data };
}

function directoryDate(date: string): number {
  const { year, month, day } = calendarDate(date);
  if (year < 1980 || year > 2107) throw new Error(`a zip entry cannot carry the year ${year}`);
  return ((year - 1980) << 9) | (month << 5) | day;
}
