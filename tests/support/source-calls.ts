// Calls and object literals of the sources as text, for tests that hold a document against the code.
import { readdirSync, readFileSync } from "node:fs";
import { join, resolve } from "node:path";

const project = resolve(import.meta.dirname, "../..");

export interface SourceFile {
  /** Below the project, forward slashes. */
  readonly path: string;
  readonly text: string;
}

export function sourceFiles(folder: string, wanted: RegExp): SourceFile[] {
  const names = readdirSync(join(project, folder), { recursive: true, encoding: "utf8" });
  return names
    .filter((name) => wanted.test(name))
    .sort()
    .map((name) => ({
      path: `${folder}/${name}`,
      text: readFileSync(join(project, folder, name), "utf8"),
    }));
}

/** Arguments of every call that begins with `opening` (its parenthesis included), each as written. */
export function argumentsOf(text: string, opening: string): string[][] {
  const calls: string[][] = [];
  for (let at = text.indexOf(opening); at >= 0; at = text.indexOf(opening, at + 1)) {
    calls.push(splitArguments(text, at + opening.length));
  }
  return calls;
}

/** From just after the parenthesis to the one that closes it, cut at its own commas. */
function splitArguments(text: string, from: number): string[] {
  const found: string[] = [];
  let depth = 0;
  let start = from;
  for (let at = from; at < text.length; at++) {
    const letter = text[at]!;
    if (letter === '"' || letter === "'" || letter === "`") at = endOfText(text, at);
    else if ("([{".includes(letter)) depth++;
    else if (")]}".includes(letter) && depth > 0) depth--;
    else if (letter === ")" || (letter === "," && depth === 0)) {
      const piece = text.slice(start, at).trim();
      if (piece !== "") found.push(piece);
      start = at + 1;
      if (letter === ")") return found;
    }
  }
  throw new Error("a call that is never closed");
}

/** Where the text that begins at `at` ends; templates may hold templates. */
function endOfText(text: string, at: number): number {
  const quote = text[at]!;
  for (let k = at + 1; k < text.length; k++) {
    if (text[k] === "\\") k++;
    else if (text[k] === quote) return k;
    else if (quote === "`" && text.startsWith("${", k)) k = endOfHole(text, k + 2);
  }
  throw new Error("a text that is never closed");
}

function endOfHole(text: string, from: number): number {
  let depth = 0;
  for (let k = from; k < text.length; k++) {
    const letter = text[k]!;
    if (letter === '"' || letter === "'" || letter === "`") k = endOfText(text, k);
    else if (letter === "{") depth++;
    else if (letter === "}" && depth-- === 0) return k;
  }
  throw new Error("a hole that is never closed");
}

/** A string or a template in words, what is filled in shown as …; null for anything else. */
export function wordsOf(piece: string): string | null {
  const parts = joined(piece);
  if (parts === null) return null;
  return parts.replaceAll(/\s+/g, " ").trim();
}

function joined(piece: string): string | null {
  let words = "";
  let rest = piece.trim();
  while (rest !== "") {
    if (!/^["'`]/.test(rest)) return null;
    const end = endOfText(rest, 0);
    words += withHoles(rest.slice(1, end), rest[0] === "`");
    rest = rest.slice(end + 1).trim();
    if (rest === "") return words;
    if (!rest.startsWith("+")) return null;
    rest = rest.slice(1).trim();
  }
  return words;
}

function withHoles(text: string, isTemplate: boolean): string {
  let words = "";
  for (let k = 0; k < text.length; k++) {
    if (text[k] === "\\") words += text[++k] === "n" ? " " : text[k]!;
    else if (isTemplate && text.startsWith("${", k)) {
      words += "…";
      k = endOfHole(text, k + 2);
    } else words += text[k]!;
  }
  return words;
}

/** Every text in an expression, in words. */
export function textsIn(piece: string): string[] {
  const found: string[] = [];
  for (let at = 0; at < piece.length; at++) {
    if (!"\"'`".includes(piece[at]!)) continue;
    const end = endOfText(piece, at);
    const words = wordsOf(piece.slice(at, end + 1));
    if (words) found.push(words);
    at = end;
  }
  return found;
}
