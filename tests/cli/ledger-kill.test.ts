// The ledger's file under kill -9 of a real process: by its own hand beside every call to the disk, from outside while it
// writes, and from outside at any moment of the command.
import { spawn } from "node:child_process";
import { once } from "node:events";
import { existsSync, mkdtempSync, readFileSync, rmSync, utimesSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { setTimeout as wait } from "node:timers/promises";
import { pathToFileURL } from "node:url";
import { afterAll, beforeAll, beforeEach, expect, test } from "vitest";
import { realDisk } from "../../src/cli/disk-calls.ts";
import { addToLedger } from "../../src/cli/ledger-file.ts";
import { type LedgerEvent, readLedger } from "../../src/ledger/index.ts";
import { writePlan } from "../../src/plan/index.ts";
import { compiledCli } from "../support/compiled-cli.ts";
import { seasonPlanDocument } from "../support/season-plan.ts";
import { smallFarmFiles } from "../support/small-farm.ts";

const base = mkdtempSync(join(tmpdir(), "ledger-kill-"));
afterAll(() => rmSync(base, { recursive: true, force: true }));
let main: string;
let folder: string;
beforeAll(() => {
  main = compiledCli();
});

const plan = seasonPlanDocument();
const fieldId = plan.fields[0]!.id;
const yieldOf = (buPerAc: number): LedgerEvent => ({ kind: "yield", fieldId, crop: "corn", buPerAc });
const first = [yieldOf(180), yieldOf(181)];
const added = [yieldOf(190), yieldOf(191), yieldOf(192)];
const path = () => join(folder, "ledger.txt");

let count = 0;
let before: Buffer;
function begin(): void {
  folder = join(base, `${count++}`);
  rmSync(folder, { recursive: true, force: true });
  realDisk.makeFolder(folder);
  for (const [name, bytes] of smallFarmFiles()) writeFileSync(join(folder, name), bytes);
  writeFileSync(join(folder, "plan.json"), writePlan(plan));
  addToLedger(folder, "2027-10-01", first, realDisk);
  before = readFileSync(path());
}
beforeEach(begin);

const figuresOf = (bytes: Uint8Array): number[] =>
  readLedger(bytes, "ledger.txt").entries.map((entry) => (entry.kind === "yield" ? entry.buPerAc : -1));

/** What stood there stands byte for byte, of the new lines the first ones are there, and the next addition goes on. */
function survives(where: string): { readonly lines: number; readonly cutOff: boolean } {
  const bytes = readFileSync(path());
  expect(bytes.subarray(0, before.length).equals(before), where).toBe(true);
  const { notices } = readLedger(bytes, "ledger.txt");
  const figures = figuresOf(bytes);
  expect(figures, where).toEqual([180, 181, 190, 191, 192].slice(0, figures.length));
  expect(figures.length, where).toBeGreaterThanOrEqual(2);
  // A lock torn while it was made counts as dead after two seconds; a whole one as soon as its process is gone.
  const lock = `${path()}.lock`;
  if (existsSync(lock)) utimesSync(lock, new Date(Date.now() - 5_000), new Date(Date.now() - 5_000));
  addToLedger(folder, "2027-10-03", [yieldOf(200)], realDisk);
  expect(figuresOf(readFileSync(path())), where).toEqual([...figures, 200]);
  return { lines: figures.length - 2, cutOff: notices.length > 0 };
}

const script = (wrapped: string): string => `
  const { realDisk } = await import(${JSON.stringify(pathToFileURL(join(dirname(main), "disk-calls.js")).href)});
  const { addToLedger } = await import(${JSON.stringify(pathToFileURL(join(dirname(main), "ledger-file.js")).href)});
  const die = () => process.kill(process.pid, "SIGKILL");
  ${wrapped}
  addToLedger(${JSON.stringify(folder)}, "2027-10-02", ${JSON.stringify(added)}, disk);
  process.stdout.write("done");`;

async function runScript(wrapped: string): Promise<{ readonly signal: string | null; readonly out: string }> {
  const child = spawn(process.execPath, ["--input-type=module", "-e", script(wrapped)]);
  let out = "";
  child.stdout.on("data", (bytes) => {
    out += String(bytes);
  });
  const [, signal] = (await once(child, "close")) as [number | null, NodeJS.Signals | null];
  return { signal, out };
}

/** Dies after the n-th call that changes the disk, or with so many bytes of a write done. */
const dying = (n: number, when: "after" | number): string => `
  let left = ${n};
  const changes = ["create", "openEnd", "write", "sync", "close", "syncFolder", "removeFile", "rename"];
  const disk = new Proxy(realDisk, { get: (real, name) => (...values) => {
    if (!changes.includes(name) || --left !== -1) return real[name](...values);
    if (typeof ${JSON.stringify(when)} === "number" && name === "write")
      values[1] = values[1].subarray(0, Math.min(values[1].length, ${JSON.stringify(when)}));
    const given = real[name](...values);
    die();
    return given;
  } });`;

/** The calls of an addition that change the disk, in their order. */
function changesMade(): string[] {
  const names: string[] = [];
  const changes = ["create", "openEnd", "write", "sync", "close", "syncFolder", "removeFile", "rename"];
  const disk = new Proxy(realDisk, {
    get: (real, name: keyof typeof realDisk) => {
      if (changes.includes(name)) names.push(name);
      return real[name];
    },
  });
  addToLedger(folder, "2027-10-02", added, disk);
  return names;
}

test("killed by its own hand after every call that changes the disk, and within the writes", async () => {
  const calls = changesMade();
  expect(calls.length).toBeGreaterThan(6);
  const ends: number[] = [];
  let cutOff = 0;
  for (const [call, name] of calls.entries()) {
    for (const when of name === "write" ? ([40, 150, "after"] as const) : (["after"] as const)) {
      begin();
      const where = `${when} of ${name} ${call}`;
      expect((await runScript(dying(call, when))).signal, where).toBe("SIGKILL");
      const found = survives(where);
      ends.push(found.lines);
      if (found.cutOff) cutOff++;
    }
  }
  expect([...new Set(ends)].sort()).toEqual([0, 1, 3]);
  expect(cutOff).toBeGreaterThan(0);
});

test("killed from outside while it writes a few bytes at a time", async () => {
  const slow = `
    let told = false;
    const disk = { ...realDisk, write: (file, bytes) => {
      if (!told && bytes.length > 100) { told = true; (await0)(); }
      if (told) Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, 2);
      return realDisk.write(file, told ? bytes.subarray(0, 7) : bytes);
    } };
    function await0() { realDisk.write(1, new TextEncoder().encode("writing")); }`;
  let cutOff = 0;
  const lines = new Set<number>();
  for (let delay = 0; delay < 120; delay += 17) {
    begin();
    const child = spawn(process.execPath, ["--input-type=module", "-e", script(slow)]);
    const closed = once(child, "close");
    await once(child.stdout, "data");
    await wait(delay);
    child.kill("SIGKILL");
    await closed;
    const found = survives(`${delay} ms`);
    lines.add(found.lines);
    if (found.cutOff) cutOff++;
  }
  expect(cutOff).toBeGreaterThan(1);
  expect(lines.size).toBeGreaterThan(1);
});

test("the command killed at any moment", async () => {
  const events = join(base, "events.json");
  writeFileSync(events, JSON.stringify(added));
  const command = () =>
    spawn(process.execPath, [main, "ledger", folder, "--add", events, "--date", "2027-10-02"], {
      stdio: "ignore",
    });
  begin();
  const started = performance.now();
  expect(await once(command(), "close")).toEqual([0, null]);
  const took = performance.now() - started;
  expect(survives("whole").lines).toBe(3);
  const ends = new Set<number>();
  // Most of the time passes before the first byte is written: the last third is looked at more closely.
  const parts = [0.3, 0.6, 0.7, 0.76, 0.82, 0.88, 0.94, 1];
  for (const part of parts) {
    begin();
    const child = command();
    const closed = once(child, "close");
    await wait(part * took);
    child.kill("SIGKILL");
    await closed;
    ends.add(survives(`at ${part} of the time`).lines);
  }
  for (const lines of ends) expect([0, 1, 2, 3]).toContain(lines);
  expect(ends.has(0)).toBe(true);
});
