import type { Notice } from "../errors/index.ts";
import { type CodePage, codePageText } from "./code-pages.ts";
import { plainName } from "./plain-name.ts";
import { utf8Text } from "./read-text.ts";

type DbfEncoding = "UTF-8" | CodePage;

interface DbfDecoder {
  readonly encoding: DbfEncoding;
  readonly decode: (bytes: Uint8Array) => string;
  readonly notices: readonly Notice[];
}

/** Byte 29 of the header (from memory; 0x57 is the system's own ANSI code page, read as Windows-1252). */
const BY_DRIVER: Readonly<Record<number, DbfEncoding>> = {
  1: "IBM437",
  2: "IBM850",
  3: "windows-1252",
  87: "windows-1252",
};

/**
 * How to read the texts of a .dbf: the .cpg wins, then byte 29 of the header, else UTF-8 when all of the table
 * is valid UTF-8, else Windows-1252. ISO-8859-1 is read as Windows-1252, which holds it.
 * Bytes that are not the UTF-8 they are said to be, and a .cpg that is not known, give a notice.
 */
export function dbfDecoder(dbf: Uint8Array, cpg: Uint8Array | undefined, path: string): DbfDecoder {
  const notices: Notice[] = [];
  const label = cpg === undefined ? "" : codePageText(cpg, "windows-1252").trim();
  const stated = label === "" ? BY_DRIVER[dbf[29] ?? 0] : encodingOf(label);
  const inUtf8 = (): DbfEncoding => (utf8Text(dbf.subarray(32)) === undefined ? "windows-1252" : "UTF-8");
  const encoding = stated === undefined || stated === "UTF-8" ? inUtf8() : stated;
  if (label !== "" && stated === undefined) {
    const message = `the encoding "${label}" of the .cpg is not known; texts are read as ${encoding}`;
    notices.push({ code: "encoding-unknown", message, where: path });
  } else if (stated !== undefined && stated !== encoding) {
    const message = `the .cpg says ${stated}, the texts are not; they are read as ${encoding}`;
    notices.push({ code: "encoding-unlike-stated", message, where: path });
  }
  const decode = (bytes: Uint8Array): string =>
    encoding === "UTF-8" ? new TextDecoder().decode(bytes) : codePageText(bytes, encoding);
  return { encoding, decode, notices };
}

function encodingOf(label: string): DbfEncoding | undefined {
  const plain = plainName(label);
  if (/^(utf8|65001|cp65001)$/.test(plain)) return "UTF-8";
  if (/^(iso)?88591$|^(ansi|cp|windows)?1252$|^latin1$/.test(plain)) return "windows-1252";
  if (/^(oem|cp|ibm)?437$/.test(plain)) return "IBM437";
  if (/^(oem|cp|ibm)?850$/.test(plain)) return "IBM850";
  return undefined;
}
