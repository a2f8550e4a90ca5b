// Changed bytes in, a reading or an InputError out: 100 cases a reader in a process of their own, no more than 1 s and
// 200 MB each. `npm run fuzz:readers` runs 2,500 a reader. A fault prints its seed.
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { beforeAll, describe, expect, it } from "vitest";
import { compiledCli } from "../support/compiled-cli.ts";

interface Report {
  readonly cases: number;
  readonly read: number;
  readonly refused: number;
  readonly faults: readonly { readonly seed: number; readonly what: string }[];
}
const here = (file: string): string => new URL(file, import.meta.url).href;
const { fuzzReader } = (await import(here("./fuzz-readers.mjs"))) as {
  fuzzReader: (dist: string, reader: string, seed: number, count: number) => Promise<Report>;
};
const { READERS } = (await import(here("./material.mjs"))) as { READERS: readonly string[] };

describe("readers under changed bytes", () => {
  let dist = "";
  beforeAll(() => {
    dist = join(dirname(compiledCli()), "..");
  });

  it.each(READERS)("%s", async (reader) => {
    const report = await fuzzReader(dist, reader, 20_260_415, 100);
    expect(report.faults).toEqual([]);
    expect(report.cases).toBe(100);
    expect(report.read).toBeGreaterThan(0);
    expect(report.refused).toBeGreaterThan(0);
  });

  it("would see a crash, a slow case and a process that dies", async () => {
    const fake = mkdtempSync(join(tmpdir(), "fake-engine-"));
    const write = (path: string, text: string) => {
      mkdirSync(dirname(join(fake, path)), { recursive: true });
      writeFileSync(join(fake, path), text);
    };
    const engine = (body: string) =>
      write("plan/sources/read-input.js", `export const readInput = () => { ${body} };`);
    write("plan/sources/read-items.js", 'export const INPUT_ROLES = ["zones"];');
    write("plan/sources/input-facts.js", "export const inputFacts = () => {};");
    write("plan/sources/input-line.js", "export const inputLines = () => {};");
    write("package.json", '{"type":"module"}');
    write("errors/index.js", "export class InputError extends Error {}");
    write("formats/index.js", "export const readZip = () => ({ files: new Map() });");
    const seen = async () => (await fuzzReader(fake, "kml", 1, 1)).faults.map(({ what }) => what);
    engine("null.x");
    expect(await seen()).toEqual([expect.stringContaining("TypeError")]);
    engine("while (process.cpuUsage().user < 1.5e6); return { questions: [1] };");
    expect(await seen()).toEqual([expect.stringMatching(/took \d{4,} ms/)]);
    engine("process.exit(7)");
    expect(await seen()).toEqual([expect.stringContaining("died or hung")]);
    rmSync(fake, { recursive: true });
  });
});
