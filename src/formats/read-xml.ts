import { InputError } from "../errors/index.ts";
import { codePageText } from "./code-pages.ts";
import { readText } from "./read-text.ts";

/** An element of an XML text. Names are without their namespace prefix. */
export interface XmlElement {
  readonly name: string;
  readonly attributes: ReadonlyMap<string, string>;
  readonly children: readonly XmlElement[];
  /** All text directly inside it, trimmed. */
  readonly text: string;
  /** Line of the file on which it begins, from 1. */
  readonly line: number;
}

const DEEPEST = 100;
const NAME = /[A-Za-z_:\u0080-\uffff][-\w.:\u0080-\uffff]*/y;
const BLANKS = /[ \t\r\n]*/y;
const ENTITIES: ReadonlyMap<string, string> = new Map(
  Object.entries({ amp: "&", lt: "<", gt: ">", quot: '"', apos: "'" }),
);

interface Open {
  readonly name: string;
  readonly fullName: string;
  readonly attributes: ReadonlyMap<string, string>;
  readonly children: XmlElement[];
  readonly texts: string[];
  readonly at: number;
}

/**
 * The root element of an XML text; `name` is the file's name. Comments and processing instructions are passed over.
 * A DOCTYPE is refused before anything is read, so nothing outside the file and no entity of its own is ever resolved.
 * Throws `xml-doctype`, `not-xml` and `too-deep`, naming the line.
 */
export function readXml(bytes: Uint8Array, name: string): XmlElement {
  const text = xmlText(bytes);
  const doctype = /<!DOCTYPE/i.exec(text);
  const lineBreaks = breaksOf(text);
  const lineAt = (at: number): number => lineNumber(lineBreaks, at);
  if (doctype !== null) {
    throw new InputError(
      "xml-doctype",
      `${name}, line ${lineAt(doctype.index)}: the file has a DOCTYPE, which is not read`,
      "Export the file again without a DOCTYPE.",
    );
  }
  const fault = (at: number, what: string): InputError =>
    new InputError(
      "not-xml",
      `${name}, line ${lineAt(at)}: ${what}`,
      "Export the file again; it may have been cut short.",
    );
  const stack: Open[] = [];
  let root: XmlElement | undefined;
  let at = 0;
  const skipPast = (mark: string, what: string): string => {
    const end = text.indexOf(mark, at);
    if (end < 0) throw fault(at, `${what} is opened and never closed`);
    const inside = text.slice(at, end);
    at = end + mark.length;
    return inside;
  };
  const close = (open: Open): void => {
    const { attributes, children } = open;
    const element = {
      name: open.name,
      attributes,
      children,
      text: open.texts.join("").trim(),
      line: lineAt(open.at),
    };
    const parent = stack.at(-1);
    if (parent !== undefined) parent.children.push(element);
    else root = element;
  };
  while (at < text.length) {
    const next = text.indexOf("<", at);
    const between = text.slice(at, next < 0 ? text.length : next);
    const parent = stack.at(-1);
    if (parent !== undefined) parent.texts.push(decoded(between, at, fault));
    else if (between.trim() !== "") throw fault(at, "text stands outside the root element");
    if (next < 0) break;
    at = next;
    if (text.startsWith("<!--", at)) {
      at += 4;
      skipPast("-->", "a comment");
    } else if (text.startsWith("<![CDATA[", at)) {
      if (parent === undefined) throw fault(at, "text stands outside the root element");
      at += 9;
      parent.texts.push(skipPast("]]>", "a CDATA section"));
    } else if (text.startsWith("<?", at)) {
      skipPast("?>", "an instruction");
    } else if (text.startsWith("</", at)) {
      const tag = text.slice(at + 2, text.indexOf(">", at)).trim();
      const open = stack.pop();
      if (open === undefined || tag !== open.fullName)
        throw fault(at, `</${tag.slice(0, 40)}> closes nothing`);
      skipPast(">", "a tag");
      close(open);
    } else {
      if (root !== undefined && stack.length === 0) throw fault(at, "a second root element");
      const began = at;
      const tag = readTag(text, at, fault);
      at = tag.end;
      const local = tag.name.slice(tag.name.indexOf(":") + 1);
      const open: Open = {
        name: local,
        fullName: tag.name,
        attributes: tag.attributes,
        children: [],
        texts: [],
        at: began,
      };
      if (tag.isEmpty) close(open);
      else stack.push(open);
      if (stack.length > DEEPEST) {
        const message = `${name}, line ${lineAt(began)}: elements are nested more than ${DEEPEST} deep`;
        throw new InputError("too-deep", message, "Export the file again.");
      }
    }
  }
  const unclosed = stack.at(-1);
  if (unclosed !== undefined)
    throw fault(unclosed.at, `<${unclosed.fullName.slice(0, 40)}> is opened and never closed`);
  if (root === undefined) throw fault(0, "there is no XML in it");
  return root;
}

interface Tag {
  readonly name: string;
  readonly attributes: ReadonlyMap<string, string>;
  readonly isEmpty: boolean;
  readonly end: number;
}

function readTag(text: string, from: number, fault: (at: number, what: string) => InputError): Tag {
  let at = from + 1;
  const match = (pattern: RegExp): string => {
    pattern.lastIndex = at;
    const found = pattern.exec(text)?.[0] ?? "";
    at += found.length;
    return found;
  };
  const name = match(NAME);
  if (name === "") throw fault(from, "a < that begins no tag");
  const attributes = new Map<string, string>();
  for (;;) {
    const gap = match(BLANKS);
    if (text.startsWith("/>", at)) return { name, attributes, isEmpty: true, end: at + 2 };
    if (text[at] === ">") return { name, attributes, isEmpty: false, end: at + 1 };
    const key = gap === "" ? "" : match(NAME);
    match(BLANKS);
    if (key === "" || text[at] !== "=") throw fault(from, `the tag <${name.slice(0, 40)}> cannot be read`);
    at += 1;
    match(BLANKS);
    const quote = text[at];
    const end = quote === '"' || quote === "'" ? text.indexOf(quote, at + 1) : -1;
    if (end < 0) throw fault(from, `the attribute ${key.slice(0, 40)} has no value in quotes`);
    const local = key.startsWith("xmlns") ? key : key.slice(key.indexOf(":") + 1);
    attributes.set(local, decoded(text.slice(at + 1, end), at, fault));
    at = end + 1;
  }
}

function decoded(text: string, at: number, fault: (at: number, what: string) => InputError): string {
  if (!text.includes("&")) return text;
  return text.replace(/&([^;&]{0,40};?)/g, (whole, inside: string, offset: number) => {
    const key = inside.endsWith(";") ? inside.slice(0, -1) : "";
    const number = /^#(\d{1,7})$/.exec(key)?.[1];
    const hex = /^#x([0-9a-fA-F]{1,6})$/.exec(key)?.[1];
    const code =
      number !== undefined ? Number(number) : hex !== undefined ? Number.parseInt(hex, 16) : undefined;
    const mark = code !== undefined && code <= 0x10ffff ? String.fromCodePoint(code) : ENTITIES.get(key);
    if (mark === undefined) throw fault(at + offset, `${whole.slice(0, 20)} is no character that XML knows`);
    return mark;
  });
}

/** The text in the encoding the declaration states; else by byte-order mark, UTF-8 or Windows-1252. */
function xmlText(bytes: Uint8Array): string {
  const head = codePageText(bytes.subarray(0, 200), "windows-1252");
  const stated = /^<\?xml[^>]*encoding\s*=\s*["']([\w.-]+)["']/.exec(head)?.[1]?.toLowerCase() ?? "";
  if (/^(iso-?8859-1|latin1|windows-1252|cp1252)$/.test(stated)) return codePageText(bytes, "windows-1252");
  return readText(bytes).text;
}

function breaksOf(text: string): number[] {
  const breaks: number[] = [];
  for (let at = text.indexOf("\n"); at >= 0; at = text.indexOf("\n", at + 1)) breaks.push(at);
  return breaks;
}

function lineNumber(breaks: readonly number[], at: number): number {
  let [low, high] = [0, breaks.length];
  while (low < high) {
    const middle = (low + high) >> 1;
    if (breaks[middle]! < at) low = middle + 1;
    else high = middle;
  }
  return low + 1;
}

/** An attribute; empty when there is none. */
export function xmlAttribute(element: XmlElement, key: string): string {
  return element.attributes.get(key) ?? "";
}

/** The first child of that name, letter case aside. */
export function xmlChild(element: XmlElement, name: string): XmlElement | undefined {
  const wanted = name.toLowerCase();
  return element.children.find((child) => child.name.toLowerCase() === wanted);
}

/** The text of the first child of that name; empty when there is none. */
export function xmlTextOf(element: XmlElement, name: string): string {
  return xmlChild(element, name)?.text ?? "";
}

/** Every element of that name below, in the order of the file; those inside one that was found are not looked for. */
export function xmlBelow(element: XmlElement, name: string): XmlElement[] {
  const wanted = name.toLowerCase();
  return element.children.flatMap((child) =>
    child.name.toLowerCase() === wanted ? [child] : xmlBelow(child, name),
  );
}
