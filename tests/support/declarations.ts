// What a folder of emitted .d.ts files makes public, read as text: the compiler writes them in one regular way.
import { readFileSync } from "node:fs";
import { dirname, join, relative } from "node:path";

export interface PublicExport {
  readonly name: string;
  /** Source file below src, without its ending: `plan/run`. */
  readonly module: string;
  /** Text of its docstring, without the stars; empty when it has none. */
  readonly about: string;
  /** Its declarations as the compiler wrote them, without `export declare`; more than one for overloads. */
  readonly code: string;
}

interface Declared {
  readonly about: string;
  readonly code: string;
}

/** All exports of `index.d.ts`, by name, each once, from wherever it was declared. Throws on a line it cannot read. */
export function publicExports(folder: string): PublicExport[] {
  const found = new Map<string, PublicExport>();
  const declared = new Map<string, ReadonlyMap<string, Declared>>();
  const declarationsOf = (file: string): ReadonlyMap<string, Declared> => {
    const known = declared.get(file) ?? readDeclarations(readFileSync(file, "utf8"));
    declared.set(file, known);
    return known;
  };
  const add = (name: string, file: string): void => {
    const { file: at, name: own } = origin(file, name);
    const one = declarationsOf(at).get(own);
    if (one === undefined) throw new Error(`${name} is declared nowhere in ${at}`);
    found.set(name, { name, module: relative(folder, at).replace(/\.d\.ts$/, ""), ...one });
  };
  const addAll = (file: string): void => {
    for (const name of declarationsOf(file).keys()) add(name, file);
    for (const { names, target } of passedOn(file)) {
      if (names === null) addAll(target);
      else for (const { name } of names) add(name, file);
    }
  };
  addAll(join(folder, "index.d.ts"));
  return [...found.values()].sort((a, b) => (a.name.toLowerCase() < b.name.toLowerCase() ? -1 : 1));
}

/** Where a name that a file exports was declared. */
function origin(file: string, name: string): { readonly file: string; readonly name: string } {
  if (readDeclarations(readFileSync(file, "utf8")).has(name)) return { file, name };
  for (const { names, target } of passedOn(file)) {
    if (names === null) {
      const there = tryOrigin(target, name);
      if (there !== null) return there;
    } else {
      const one = names.find((given) => given.name === name);
      if (one !== undefined) return origin(target, one.own);
    }
  }
  throw new Error(`${file} exports no ${name}`);
}

function tryOrigin(file: string, name: string): ReturnType<typeof origin> | null {
  try {
    return origin(file, name);
  } catch {
    return null;
  }
}

interface PassedOn {
  /** Null for all. */
  readonly names: readonly { readonly name: string; readonly own: string }[] | null;
  readonly target: string;
}

function passedOn(file: string): PassedOn[] {
  const text = readFileSync(file, "utf8");
  const passes = text.matchAll(/^export (?:type )?(\*|\{[^}]*\}) from "(\.[^"]+)\.ts";$/gm);
  return [...passes].map(([, what, target]) => ({
    target: join(dirname(file), `${target}.d.ts`),
    names:
      what === "*"
        ? null
        : [...what!.matchAll(/(?:type )?(\w+)(?: as (\w+))?[,\s}]/g)].map(([, own, name]) => ({
            own: own!,
            name: name ?? own!,
          })),
  }));
}

/** Exported declarations of one file with the docstrings before them. */
function readDeclarations(text: string): Map<string, Declared> {
  const found = new Map<string, Declared>();
  const opening =
    /^export (?:declare )?(?:(?:abstract )?class|function|const|let|interface|type|enum) (\w+)/gm;
  for (const match of text.matchAll(opening)) {
    const name = match[1]!;
    const code = text.slice(match.index, endOf(text, match.index)).replace(/^export (declare )?/, "");
    const about = /\/\*\*((?:(?!\*\/)[\s\S])*)\*\/\s*$/.exec(text.slice(0, match.index))?.[1] ?? "";
    const before = found.get(name);
    found.set(name, {
      about: before?.about || plain(about),
      code: before === undefined ? code : `${before.code}\n${code}`,
    });
  }
  for (const [, names, library] of text.matchAll(/^export type \{([^}]*)\} from "([^."][^"]*)";$/gm)) {
    for (const name of names!.split(",").map((one) => one.trim())) {
      found.set(name, { about: `Of the package \`${library}\`.`, code: `type ${name};` });
    }
  }
  return found;
}

/** End of the declaration that begins at `from`: a semicolon or a closing brace at the outermost depth. */
function endOf(text: string, from: number): number {
  let depth = 0;
  for (let at = from; at < text.length; at++) {
    const letter = text[at]!;
    if (letter === '"' || letter === "`") at = text.indexOf(letter, at + 1);
    else if (text.startsWith("/*", at)) at = text.indexOf("*/", at) + 1;
    else if ("{([".includes(letter)) depth++;
    else if ("})]".includes(letter)) depth--;
    if (depth > 0) continue;
    if (letter === ";") return at + 1;
    if (
      letter === "}" &&
      text[at + 1] === "\n" &&
      /^export (?:declare )?(?:interface|(?:abstract )?class|enum)/.test(text.slice(from, from + 40))
    )
      return at + 1;
  }
  throw new Error("a declaration that never ends");
}

const plain = (about: string): string =>
  about
    .split("\n")
    .map((line) => line.replace(/^\s*\* ?/, "").trimEnd())
    .join("\n")
    .trim();
