import { codePageText } from "./code-pages.ts";

interface Text {
  readonly text: string;
  readonly encoding: "UTF-8" | "UTF-16LE" | "UTF-16BE" | "windows-1252";
}

/**
 * The text of a file without its byte-order mark. Encoding: the mark if there is one, else UTF-8 when the
 * bytes are valid UTF-8, else Windows-1252 (common practice).
 */
export function readText(bytes: Uint8Array): Text {
  if (bytes[0] === 0xff && bytes[1] === 0xfe) {
    return { text: new TextDecoder("utf-16le").decode(bytes), encoding: "UTF-16LE" };
  }
  if (bytes[0] === 0xfe && bytes[1] === 0xff) {
    return { text: new TextDecoder("utf-16be").decode(bytes), encoding: "UTF-16BE" };
  }
  const text = utf8Text(bytes);
  if (text !== undefined) return { text, encoding: "UTF-8" };
  return { text: codePageText(bytes, "windows-1252"), encoding: "windows-1252" };
}

/** The text without its byte-order mark, or undefined when the bytes are not valid UTF-8. */
export function utf8Text(bytes: Uint8Array): string | undefined {
  try {
    return new TextDecoder("utf-8", { fatal: true }).decode(bytes);
  } catch {
    return undefined;
  }
}
