// The tarball of `npm pack`, made of fresh output, put into an empty folder beside its declared dependencies alone.
import { execFileSync, spawn, spawnSync } from "node:child_process";
import {
  cpSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  renameSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join, resolve } from "node:path";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { builtPage } from "../page/support/built-page.ts";

const project = resolve(import.meta.dirname, "../..");
const tsc = join(project, "node_modules/typescript/bin/tsc");

/** 3.2 MB when this was written: 2.3 the page (1.2 the solver, 0.4 the map library), 0.9 the program; more has to be argued. */
const MOST_BYTES = 3_500_000;

interface Manifest {
  readonly version: string;
  readonly bin: Readonly<Record<string, string>>;
  readonly dependencies: Readonly<Record<string, string>>;
  readonly scripts: Readonly<Record<string, string>>;
}

interface Packed {
  readonly filename: string;
  readonly size: number;
  readonly files: readonly { readonly path: string }[];
}

const manifest = JSON.parse(readFileSync(join(project, "package.json"), "utf8")) as Manifest;
let folder = "";
let packed: Packed;
/** Where it is installed. */
const installed = (): string => join(folder, "node_modules/bermplan");
const paths = (): string[] => packed.files.map(({ path }) => path);

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), "package-"));
  const made = join(folder, "made");
  // What `prepack` builds, without touching dist and app/dist of this folder.
  for (const name of ["package.json", "README.md", "LICENSE", "docs", "sample-data"]) {
    cpSync(join(project, name), join(made, name), { recursive: true });
  }
  const emit = (...more: string[]) =>
    execFileSync(
      process.execPath,
      [tsc, "-p", join(project, "src"), "--outDir", join(made, "dist"), "--noCheck", ...more],
      { stdio: "pipe" },
    );
  emit();
  // Then the program alone once more, without comments, as the script says it.
  const bare = manifest.scripts["build:bare"]!.split(" ");
  emit(...bare.slice(bare.indexOf("--composite")));
  const [, pruner, of] = manifest.scripts["build:types"]!.split(" ");
  execFileSync(process.execPath, [join(project, pruner!), join(made, of!)], { stdio: "pipe" });
  cpSync(builtPage(), join(made, "app/dist"), { recursive: true });
  const told = execFileSync("npm", ["pack", "--json", "--ignore-scripts", "--pack-destination", folder], {
    cwd: made,
    encoding: "utf8",
    stdio: "pipe",
  });
  [packed] = JSON.parse(told) as [Packed];
  execFileSync("tar", ["-xzf", join(folder, packed.filename), "-C", folder]);
  rmSync(made, { recursive: true });
  mkdirSync(join(folder, "node_modules"));
  renameSync(join(folder, "package"), installed());
  for (const name of Object.keys(manifest.dependencies)) {
    const link = join(folder, "node_modules", name);
    mkdirSync(dirname(link), { recursive: true });
    symlinkSync(join(project, "node_modules", name), link);
  }
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const node = (...words: readonly string[]) =>
  spawnSync(process.execPath, words, { cwd: folder, encoding: "utf8" });

describe("the tarball", () => {
  it("holds program, page, sample, pages of text and notices", () => {
    for (const path of [
      "dist/index.js",
      "dist/index.d.ts",
      manifest.bin.bermplan!.replace("./", ""),
      "app/dist/index.html",
      "app/dist/third-party-licences.txt",
      "docs/third-party-notices.md",
      "docs/plan.schema.json",
      "sample-data/single-field/plan.json",
      "README.md",
      "LICENSE",
    ]) {
      expect(paths()).toContain(path);
    }
  });

  it("holds no tests, no test data, no sources, nothing of the workshop", () => {
    const kept =
      /^(dist|app\/dist|sample-data\/single-field|docs)\/|^(package\.json|README\.md|LICENSE|sample-data\/README\.md)$/;
    expect(paths().filter((path) => !kept.test(path))).toEqual([]);
    const strange =
      /(^|\/)(tests?|scenario|seeds)\/|meuse|oxford|\.tsbuildinfo$|\.map$|(?<!\.d)\.tsx?$|\.R$/i;
    expect(paths().filter((path) => strange.test(path))).toEqual([]);
  });

  it("is no larger than it has to be", () => {
    console.log(`tarball: ${packed.size} bytes, ${packed.files.length} files`);
    expect(packed.size).toBeLessThan(MOST_BYTES);
  });

  it("holds the declarations that what can be imported leads to, each, and no others", () => {
    const declared = paths().filter((path) => path.endsWith(".d.ts"));
    const named = declared.flatMap((path) =>
      [...readFileSync(join(installed(), path), "utf8").matchAll(/["'](\.{1,2}\/[^"']+)\.[jt]s["']/g)].map(
        ([, to]) => join(dirname(path), `${to}.d.ts`),
      ),
    );
    expect([...new Set(["dist/index.d.ts", ...named])].sort()).toEqual(declared.sort());
  });

  it("is built anew before it is packed", () => {
    expect(manifest.scripts.prepack).toMatch(
      /rmSync.*npm run --silent build && npm run --silent build:bare && npm run --silent build:types$/,
    );
  });
});

describe("in an empty folder", () => {
  it("works by bin: version, and the sample built and checked", () => {
    const main = join(installed(), manifest.bin.bermplan!);
    expect(readFileSync(main, "utf8")).toMatch(/^#!\/usr\/bin\/env node\n/);
    expect(node(main, "--version").stdout).toBe(`bermplan ${manifest.version}\n`);
    const sample = join(installed(), "sample-data/single-field");
    const built = node(main, "build", sample, "--out", "maps");
    expect(built.status, built.stderr).toBe(0);
    expect(readdirSync(join(folder, "maps/prescriptions/strip"))).toHaveLength(12);
    const checked = node(main, "check", "maps");
    expect(checked.status, checked.stderr).toBe(0);
  });

  it("works by import, with types", () => {
    writeFileSync(
      join(folder, "mine.mts"),
      `import { readPlan, run, type RunResult } from "bermplan";
import { readFile } from "node:fs/promises";
const folder: string = process.argv[2]!;
const files = {
  list: async (): Promise<string[]> => [],
  read: async (path: string): Promise<Uint8Array> => new Uint8Array(await readFile(\`\${folder}/\${path}\`)),
};
const result: RunResult = await run(readPlan(await files.read("plan.json"), "plan.json"), files, { files: "later" });
// @ts-expect-error: types reach down to a map's pounds, which are no text.
export const pounds: string | undefined = result.fields[0]?.prescriptions[0]?.totalLb;
console.log(result.fields.map(({ field }) => field.id).join());
`,
    );
    const types = node(
      ...[tsc, "--strict", "--module", "nodenext", "--target", "es2023", "--skipLibCheck"],
      ...["--types", "node", "--typeRoots", join(project, "node_modules/@types"), "mine.mts"],
    );
    expect(types.stdout).toBe("");
    const ran = node("mine.mjs", join(installed(), "sample-data/single-field"));
    expect(ran.stdout, ran.stderr).toBe("north-kettle\n");
  });

  it("serves its page", async () => {
    const main = join(installed(), manifest.bin.bermplan!);
    const server = spawn(process.execPath, [main, "serve", "--port", "0"], { cwd: folder });
    try {
      const address = await new Promise<string>((found, lost) => {
        let told = "";
        server.stderr.on("data", (piece: Buffer) => {
          told += piece;
          const url = /http:\/\/\S+?(?=[. ]* Ctrl-C)/.exec(told)?.[0];
          if (url !== undefined) found(url);
        });
        server.on("exit", () => lost(new Error(told)));
      });
      const answer = await fetch(address);
      expect(answer.status).toBe(200);
      expect(await answer.text()).toContain("<title>");
    } finally {
      server.kill("SIGINT");
    }
  });
});
