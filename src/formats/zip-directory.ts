import { InputError } from "../errors/index.ts";
import { codePageText } from "./code-pages.ts";
import { utf8Text } from "./read-text.ts";

export interface ZipEntry {
  readonly name: string;
  /** 0 stored, 8 deflated. */
  readonly method: number;
  readonly crc: number;
  readonly inflatedSize: number;
  /** The entry's bytes as stored in the archive. */
  readonly packed: Uint8Array;
}

const END_SIZE = 22;
const CENTRAL_SIZE = 46;
const LOCAL_SIZE = 30;

/**
 * The entries of a zip archive by its central directory (APPNOTE 6.3, sections 4.3 and 4.4, from memory), in
 * the directory's order, folders left out. Nothing is inflated. Every name is checked, local and central
 * headers must agree, and no two entries may share bytes.
 * Throws `not-a-zip`, `zip-damaged`, `zip-not-read`, `zip-too-big`, `zip-name`.
 */
export function zipEntries(bytes: Uint8Array, name: string, maxEntries: number): ZipEntry[] {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const end = endRecord(view, name);
  const count = view.getUint16(end + 10, true);
  const start = view.getUint32(end + 16, true);
  if (count === 0xffff || start === 0xffffffff) throw notRead(name, "the large form of zip (zip64)");
  if (view.getUint16(end + 4, true) !== 0 || view.getUint16(end + 8, true) !== count) {
    throw notRead(name, "an archive in several volumes");
  }
  if (count > maxEntries) {
    const message = `${name} has ${count} entries, more than ${maxEntries}`;
    throw new InputError("zip-too-big", message, "Zip only the files of one farm or field.");
  }
  const entries: ZipEntry[] = [];
  const spans: { from: number; to: number }[] = [];
  let at = start;
  for (let index = 0; index < count; index += 1) {
    if (at + CENTRAL_SIZE > end || view.getUint32(at, true) !== 0x02014b50) throw damaged(name, "directory");
    const nameLength = view.getUint16(at + 28, true);
    const next =
      at + CENTRAL_SIZE + nameLength + view.getUint16(at + 30, true) + view.getUint16(at + 32, true);
    if (next > end) throw damaged(name, "directory");
    const nameBytes = bytes.subarray(at + CENTRAL_SIZE, at + CENTRAL_SIZE + nameLength);
    const entryName = utf8Text(nameBytes) ?? codePageText(nameBytes, "IBM437");
    const fault = nameFault(entryName);
    if (fault !== undefined) throw badName(name, entryName, fault);
    const flags = view.getUint16(at + 8, true);
    const method = view.getUint16(at + 10, true);
    const size = view.getUint32(at + 20, true);
    if (flags & 1) throw notRead(name, `${entryName} is locked with a password; that`);
    if (method !== 0 && method !== 8) throw notRead(name, `${entryName} is packed by method ${method}; that`);
    const local = view.getUint32(at + 42, true);
    const from = localData(view, bytes, local, nameBytes, start);
    if (from === undefined || from + size > start) throw damaged(name, entryName);
    spans.push({ from: local, to: from + size });
    if (!entryName.endsWith("/")) {
      const packed = bytes.subarray(from, from + size);
      const crc = view.getUint32(at + 16, true);
      entries.push({ name: entryName, method, crc, inflatedSize: view.getUint32(at + 24, true), packed });
    }
    at = next;
  }
  spans.sort((a, b) => a.from - b.from);
  spans.forEach((span, index) => {
    if (index > 0 && span.from < (spans[index - 1]?.to ?? 0)) throw damaged(name, "entries that share bytes");
  });
  const seen = new Set<string>();
  for (const entry of entries) {
    if (seen.has(entry.name)) throw badName(name, entry.name, "occurs twice");
    seen.add(entry.name);
  }
  return entries;
}

/** Why a name may not stand in an archive, or undefined when it may: it must stay inside the folder it is
 * unpacked to, on any system. */
export function nameFault(name: string): string | undefined {
  if (name === "") return "is empty";
  if (name.includes("\\")) return "holds a back-slash";
  if (name.includes("\0")) return "holds a zero byte";
  if (name.startsWith("/")) return "begins at the root";
  if (/^[a-z]:/i.test(name)) return "names a drive";
  if (name.split("/").includes("..")) return "leads out of its folder";
  return undefined;
}

export function damaged(name: string, what: string): InputError {
  return new InputError("zip-damaged", `${name} is damaged (${what})`, "Copy or download the archive again.");
}

function endRecord(view: DataView, name: string): number {
  const earliest = Math.max(0, view.byteLength - END_SIZE - 0xffff);
  for (let at = view.byteLength - END_SIZE; at >= earliest; at -= 1) {
    const isEnd = view.getUint32(at, true) === 0x06054b50;
    if (isEnd && at + END_SIZE + view.getUint16(at + 20, true) === view.byteLength) return at;
  }
  const message = `${name} is no zip archive, or it was cut short`;
  throw new InputError("not-a-zip", message, "Copy or download the archive again.");
}

/** Where the bytes of an entry begin; undefined when its local header is missing or has another name. */
function localData(
  view: DataView,
  bytes: Uint8Array,
  local: number,
  nameBytes: Uint8Array,
  limit: number,
): number | undefined {
  if (local + LOCAL_SIZE > limit || view.getUint32(local, true) !== 0x04034b50) return undefined;
  if (view.getUint16(local + 26, true) !== nameBytes.length) return undefined;
  const nameAt = local + LOCAL_SIZE;
  const same = nameBytes.every((byte, index) => bytes[nameAt + index] === byte);
  return same ? nameAt + nameBytes.length + view.getUint16(local + 28, true) : undefined;
}

function badName(archive: string, entry: string, fault: string): InputError {
  return new InputError(
    "zip-name",
    `${archive}: the name of entry "${entry}" ${fault}`,
    "Zip the files again with plain names.",
  );
}

function notRead(name: string, what: string): InputError {
  return new InputError("zip-not-read", `${name}: ${what} is not read`, "Zip the files again the plain way.");
}
