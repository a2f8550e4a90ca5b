// Every relative link of the project's pages leads to a file, and to a heading where it names one.
import { existsSync, readdirSync, readFileSync } from "node:fs";
import { dirname, join, resolve } from "node:path";
import { expect, it } from "vitest";

const project = resolve(import.meta.dirname, "../..");
const pages = [
  "README.md",
  "DEVELOPERS.md",
  ...["docs", "sample-data", "seeds", "tests"].flatMap((folder) =>
    readdirSync(join(project, folder), { recursive: true, encoding: "utf8" })
      .filter((name) => name.endsWith(".md"))
      .map((name) => `${folder}/${name}`),
  ),
].filter((page) => existsSync(join(project, page)));

/** Anchors of a page's headings; the second of a name ends in -1. */
const anchorsOf = (text: string): string[] => {
  const plain = [...text.matchAll(/^#+ (.+)$/gm)].map(([, title]) =>
    title!
      .toLowerCase()
      .replaceAll(/[^\p{L}\p{N}_ -]/gu, "")
      .replaceAll(" ", "-"),
  );
  return plain.map((anchor, k) => {
    const again = plain.slice(0, k).filter((before) => before === anchor).length;
    return again > 0 ? `${anchor}-${again}` : anchor;
  });
};

it("has no dead link", () => {
  const dead: string[] = [];
  let count = 0;
  for (const page of pages) {
    const text = readFileSync(join(project, page), "utf8");
    for (const [, target] of text.matchAll(/\]\(([^)\s]+)\)/g)) {
      if (/^[a-z]+:/.test(target!)) continue;
      count++;
      const [path, anchor] = target!.split("#") as [string, string | undefined];
      const file = path === "" ? join(project, page) : join(project, dirname(page), path);
      const isThere = existsSync(file);
      const hasAnchor =
        anchor === undefined || (isThere && anchorsOf(readFileSync(file, "utf8")).includes(anchor));
      if (!isThere || !hasAnchor) dead.push(`${page}: ${target}`);
    }
  }
  expect(dead).toEqual([]);
  expect(count).toBeGreaterThan(10);
});
