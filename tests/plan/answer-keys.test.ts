// Every answer that the engine reads, and every question that it asks, by the text of its sources.
import { readdirSync, readFileSync } from "node:fs";
import { join, resolve } from "node:path";
import { expect, it } from "vitest";
import { isKnownAnswerKey } from "../../src/plan/index.ts";

const root = resolve(import.meta.dirname, "../../src");
const sources = readdirSync(root, { recursive: true, encoding: "utf8" })
  // What the split asks about seed and salt is answered by keys of the plan, not with a command.
  .filter((path) => path.endsWith(".ts") && !path.startsWith("split"))
  .map((path) => ({ path, text: readFileSync(join(root, path), "utf8") }));

/** What stands in the place of a part that is filled in. */
const FILLED: Readonly<Record<string, string>> = {
  test: "P",
  nutrient: "P2O5",
  path: "zones.geojson",
  "input.path": "zones.geojson",
};
const ASK = /\bask\(\s*["`]([a-z-]+)["`]/g;
const PATTERNS = [
  /\banswers\[["`]([^"`]+)["`]\]/g,
  /\breader\.(?:text|number|answered)\(\s*["`]([^"`]+)["`]/g,
  ASK,
];
const ASKED = /\bkey: ["`]([a-z][a-z-]*(?:\.[^"`]+)?)["`]/g;

function keysIn({ path, text }: { path: string; text: string }): { key: string; path: string }[] {
  const asks = /\bQuestion\b/.test(text) || text.includes("addOpen(");
  const perNutrient = /\bask = \(key[\s\S]{0,250}?`\$\{key\}\.\$\{nutrient\}`/.test(text) ? ".P2O5" : "";
  const found = [...PATTERNS, ...(asks ? [ASKED] : [])].flatMap((pattern) =>
    [...text.matchAll(pattern)].map(([, key]) => (pattern === ASK ? `${key}${perNutrient}` : key!)),
  );
  return found
    .filter((key) => !key.startsWith("${"))
    .map((key) => ({
      key: key.replaceAll(/\$\{([^}]+)\}/g, (_, name: string) => FILLED[name] ?? "rotation"),
      path,
    }));
}

it("every key that is read or asked anywhere is one that the command line takes", () => {
  const used = sources.flatMap(keysIn);
  const keys = new Set(used.map(({ key }) => key));
  for (const key of [
    "addition-counts",
    "sampling.P",
    "mix-samplings.P",
    "role.zones.geojson",
    "cap",
    "unit.rate",
  ])
    expect(keys, "the search itself").toContain(key);
  expect(keys.size).toBeGreaterThan(35);
  expect(used.filter(({ key }) => !isKnownAnswerKey(key))).toEqual([]);
});
