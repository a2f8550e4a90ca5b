import { readdirSync, readFileSync } from "node:fs";
import { join, relative } from "node:path";
import { describe, expect, it } from "vitest";

/** Folders of src from the bottom up; those on one line may not import each other. */
const LAYERS: readonly (readonly string[])[] = [
  ["errors"],
  ["units"],
  ["numeric"],
  ["geo"],
  ["formats"],
  ["soil", "interpolate", "agronomy", "products", "capacity", "strips", "ledger"],
  ["need"],
  ["split"],
  ["fills"],
  ["season"],
  ["prescription"],
  ["applied"],
  ["order"],
  ["plan"],
  ["report"],
  ["publish"],
  ["index.ts"],
  ["cli", "scenario"],
];

/** Rooms of src/plan in the same way, by what a plan goes through; below them its own files. */
const PLAN_ROOMS: readonly (readonly string[])[] = [
  ["document"],
  ["sources"],
  ["rig"],
  ["results"],
  ["need"],
  ["maps"],
  ["stands"],
  ["budget"],
  ["order"],
  ["fills"],
  ["driven"],
  ["season"],
  ["new-plan"],
  ["totals.ts"],
  ["with-maps.ts"],
  ["with-catch-ups.ts"],
  ["run.ts"],
  ["index.ts"],
];

/** Files over 300 lines, each with the reason it is not split. */
const LONG_FILES: Readonly<Record<string, string>> = {};

interface SourceFile {
  readonly path: string;
  readonly text: string;
}

interface Breach {
  readonly file: string;
  readonly imports: string;
  readonly why: string;
}

/** Imports that go up, sideways, or from a folder that no layer knows; those that leave the folder of the layers are others' care. */
function breachesIn(files: readonly SourceFile[], layers = LAYERS): Breach[] {
  const breaches: Breach[] = [];
  const layerOf = (path: string): number => {
    const folder = path.split("/")[0]!;
    return layers.findIndex((layer) => layer.includes(folder));
  };
  for (const { path, text } of files) {
    const own = path.split("/")[0]!;
    if (layerOf(path) < 0) breaches.push({ file: path, imports: "", why: "unknown folder" });
    for (const [, specifier] of text.matchAll(/(?:from|import)\s*\(?["'](\.[^"']+)["']/g)) {
      const target = join(path, "..", specifier!);
      const folder = target.split("/")[0]!;
      if (folder === own || folder === "..") continue;
      if (layerOf(target) < 0) breaches.push({ file: path, imports: target, why: "unknown folder" });
      else if (layerOf(target) === layerOf(path))
        breaches.push({ file: path, imports: target, why: "sideways" });
      else if (layerOf(target) > layerOf(path)) breaches.push({ file: path, imports: target, why: "upward" });
    }
  }
  return breaches;
}

/** Files that stand in a circle of imports, each circle once, from its first file on. */
function circlesIn(files: readonly SourceFile[]): string[][] {
  const known = new Map(files.map((file) => [file.path, file.text]));
  const importsOf = (path: string): string[] =>
    [...known.get(path)!.matchAll(/(?:from|import)\s*\(?["'](\.[^"']+)["']/g)]
      .map(([, specifier]) => join(path, "..", specifier!))
      .filter((target) => known.has(target));
  const done = new Set<string>();
  const circles = new Map<string, string[]>();
  const walk = (path: string, way: readonly string[]): void => {
    const at = way.indexOf(path);
    if (at >= 0) {
      const circle = way.slice(at);
      circles.set(circle.toSorted().join(), circle);
    } else if (!done.has(path)) {
      for (const next of importsOf(path)) walk(next, [...way, path]);
      done.add(path);
    }
  };
  for (const { path } of files) walk(path, []);
  return [...circles.values()];
}

function filesUnder(root: string, ending: RegExp): SourceFile[] {
  return readdirSync(root, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile() && ending.test(entry.name))
    .map((entry) => join(entry.parentPath, entry.name))
    .filter((path) => !/node_modules|\/dist\//.test(path))
    .map((path) => ({ path: relative(root, path), text: readFileSync(path, "utf8") }));
}

describe("layers", () => {
  it("imports of src/ point downward only", () => {
    const files = filesUnder("src", /\.ts$/);
    expect(files.length).toBeGreaterThan(50);
    expect(breachesIn(files)).toEqual([]);
  });

  it("catches an upward import, a sideways one and an unknown folder", () => {
    const planted = [
      { path: "geo/a.ts", text: `import { run } from "../plan/index.ts";` },
      { path: "soil/b.ts", text: `const x = await import("../agronomy/index.ts");` },
      { path: "misc/c.ts", text: "" },
    ];
    expect(breachesIn(planted).map((breach) => breach.why)).toEqual(["upward", "sideways", "unknown folder"]);
  });

  it("so do those of src/plan from room to room", () => {
    const files = filesUnder("src/plan", /\.ts$/);
    expect(files.length).toBeGreaterThan(150);
    expect(breachesIn(files, PLAN_ROOMS)).toEqual([]);
    const planted = [{ path: "order/a.ts", text: `import { applied } from "../driven/applied-field.ts";` }];
    expect(breachesIn(planted, PLAN_ROOMS).map(({ why }) => why)).toEqual(["upward"]);
  });

  it("no files import each other in a circle, types among them", () => {
    const own = (root: string, ending: RegExp): SourceFile[] =>
      filesUnder(root, ending).map(({ path, text }) => ({ path: join(root, path), text }));
    const files = [...own("src", /\.ts$/), ...own("app/src", /\.tsx?$/)];
    expect(circlesIn(files)).toEqual([]);
    const planted = [
      { path: "a.ts", text: `import type { B } from "./b.ts";` },
      { path: "b.ts", text: `export * from "./deep/c.ts";` },
      { path: "deep/c.ts", text: `import { a } from "../a.ts"; import "./d.ts";` },
      { path: "deep/d.ts", text: "" },
    ];
    expect(circlesIn(planted)).toEqual([["a.ts", "b.ts", "deep/c.ts"]]);
  });

  it("the page imports the engine through its index only", () => {
    const wrong = filesUnder("app/src", /\.tsx?$/).flatMap(({ path, text }) =>
      [...text.matchAll(/["'](?:\.\.\/)+src\/[^"']*["']/g)].map(([specifier]) => `${path}: ${specifier}`),
    );
    expect(wrong).toEqual([]);
  });

  it("no file is over 300 lines without a reason", () => {
    const files = [
      ...filesUnder("src", /\.ts$/).map((file) => ({ ...file, path: `src/${file.path}` })),
      ...filesUnder("app", /\.(tsx?|css)$/).map((file) => ({ ...file, path: `app/${file.path}` })),
    ];
    const long = files.filter((file) => file.text.split("\n").length > 301).map((file) => file.path);
    expect(long.filter((path) => !(path in LONG_FILES))).toEqual([]);
    expect(Object.keys(LONG_FILES).filter((path) => !long.includes(path))).toEqual([]);
  });
});
