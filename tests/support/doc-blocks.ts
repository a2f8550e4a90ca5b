// Commands, JSON and code spans of the project's pages, in the order they stand.
import { readdirSync, readFileSync } from "node:fs";
import { join, resolve } from "node:path";

export const project: string = resolve(import.meta.dirname, "../..");

/** README first: the pages in docs/ go on from what it makes. */
export const pages: readonly string[] = [
  "README.md",
  ...readdirSync(join(project, "docs"))
    .filter((name) => name.endsWith(".md"))
    .sort()
    .map((name) => `docs/${name}`),
];

export type DocBlock =
  | { readonly kind: "command"; readonly line: string }
  /** JSON in a file that the text before names, as in `fills.json`. */
  | { readonly kind: "file"; readonly name: string; readonly text: string }
  /** Keys of a plan, without the braces around them. */
  | { readonly kind: "plan keys"; readonly text: string };

/** Code blocks, indented or fenced. A command may go on behind a backslash. Throws on a block that is neither. */
export function blocksOf(page: string): DocBlock[] {
  const text = readFileSync(join(project, page), "utf8");
  return [...text.matchAll(/^```(\w*)\n(.*?)^```|(?:^ {4}[^\n]*\n?)+/gms)].flatMap((found) => {
    const body = (found[2] ?? found[0].replaceAll(/^ {4}/gm, "")).trim();
    if (found[1] === "json" && body.startsWith('"')) return [{ kind: "plan keys", text: body }];
    if (/^[[{]/.test(body)) {
      const before = text.slice(0, found.index);
      const name = [...before.matchAll(/`([\w-]+\.json)`/g)].at(-1)?.[1];
      if (name === undefined)
        throw new Error(`${page}: JSON that no file name stands before: ${body.slice(0, 60)}`);
      return [{ kind: "file", name, text: body }];
    }
    return body
      .replaceAll(/\\\n\s*/g, "")
      .split("\n")
      .flatMap((line) => line.replace(/\s+#\s.*$/, "").split(" && "))
      .map((line): DocBlock => ({ kind: "command", line: line.trim() }));
  });
}

/** Code spans of a page outside its blocks. */
export function spansOf(page: string): string[] {
  const text = readFileSync(join(project, page), "utf8").replaceAll(/^```.*?^```|^ {4}[^\n]*$/gms, "");
  return [...text.matchAll(/`([^`\n]+)`/g)].map(([, span]) => span!);
}
