import { Inflate } from "fflate";
import { InputError, type Notice } from "../errors/index.ts";
import { crc32 } from "./crc32.ts";
import { damaged, type ZipEntry, zipEntries } from "./zip-directory.ts";

interface ZipCaps {
  readonly maxEntries: number;
  /** Bytes of all entries together once inflated. */
  readonly maxBytes: number;
  /** Inflated bytes a byte of the archive; looked at from one mebibyte of inflated bytes on. */
  readonly maxRatio: number;
  /** Archives inside the archive: left out with a notice (the usual), or kept as the bytes they are. */
  readonly nested: "ignore" | "keep";
}

interface ZipContents {
  /** Path inside the archive -> bytes, in the archive's order. */
  readonly files: ReadonlyMap<string, Uint8Array>;
  readonly notices: readonly Notice[];
}

const USUAL_CAPS: ZipCaps = { maxEntries: 2000, maxBytes: 512 * 2 ** 20, maxRatio: 400, nested: "ignore" };
const RATIO_FREE_BYTES = 2 ** 20;
const PIECE = 16_384;
const NESTED = /\.(zip|kmz|7z|rar|gz|tgz|tar|bz2|xz)$/i;
const SYSTEM_JUNK = /(^|\/)(__MACOSX\/|\._[^/]*$|\.DS_Store$|Thumbs\.db$|desktop\.ini$)/i;

/**
 * Unpacks a zip archive; `name` is its name for messages. An archive inside the archive is never unpacked: it is
 * left out with a notice, or kept as bytes where `nested` says so. The by-files some systems add are left out
 * without one. Each entry must have the length and the checksum its header states. Throws `zip-too-big` when a
 * cap is passed (inflating stops there), `zip-damaged`, and the errors of `zipEntries`.
 */
export function readZip(bytes: Uint8Array, name: string, caps: Partial<ZipCaps> = {}): ZipContents {
  const { maxEntries, maxBytes, maxRatio, nested } = { ...USUAL_CAPS, ...caps };
  const files = new Map<string, Uint8Array>();
  const notices: Notice[] = [];
  const ratioBytes = Math.max(RATIO_FREE_BYTES, bytes.length * maxRatio);
  let left = Math.min(maxBytes, ratioBytes);
  for (const entry of zipEntries(bytes, name, maxEntries)) {
    if (SYSTEM_JUNK.test(entry.name)) continue;
    if (nested === "ignore" && NESTED.test(entry.name)) {
      const message = `${entry.name} is an archive inside the archive and was ignored`;
      notices.push({ code: "nested-archive", message, where: name });
      continue;
    }
    const inflated = inflate(entry, name, left);
    if (inflated === undefined) {
      const cap = maxBytes <= ratioBytes ? `${maxBytes} bytes` : `${maxRatio} times its own size`;
      const message = `${name} unpacks to more than ${cap} (at ${entry.name})`;
      throw new InputError("zip-too-big", message, "Zip only the files of one farm or field.");
    }
    left -= inflated.length;
    files.set(entry.name, inflated);
  }
  return { files, notices };
}

/** The entry's bytes, or undefined as soon as there are more than `cap`. */
function inflate(entry: ZipEntry, archive: string, cap: number): Uint8Array | undefined {
  if (entry.inflatedSize > cap) return undefined;
  const pieces = entry.method === 0 ? [entry.packed] : inflatedPieces(entry, archive);
  if (pieces === undefined) throw damaged(archive, entry.name);
  const size = pieces.reduce((sum, piece) => sum + piece.length, 0);
  if (size !== entry.inflatedSize) throw damaged(archive, entry.name);
  const whole = new Uint8Array(size);
  let at = 0;
  for (const piece of pieces) {
    whole.set(piece, at);
    at += piece.length;
  }
  if (crc32(whole) !== entry.crc) throw damaged(archive, entry.name);
  return whole;
}

/** Undefined when there are more bytes than the header states; inflating stops there. */
function inflatedPieces(entry: ZipEntry, archive: string): Uint8Array[] | undefined {
  const pieces: Uint8Array[] = [];
  let size = 0;
  const stream = new Inflate((piece) => {
    size += piece.length;
    pieces.push(piece);
  });
  try {
    for (let at = 0; at === 0 || at < entry.packed.length; at += PIECE) {
      const next = at + PIECE;
      stream.push(entry.packed.subarray(at, next), next >= entry.packed.length);
      if (size > entry.inflatedSize) return undefined;
    }
  } catch {
    throw damaged(archive, entry.name);
  }
  return pieces;
}
