import { spawn } from "node:child_process";
import { once } from "node:events";
import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { pathToFileURL } from "node:url";
import { afterAll, beforeAll, beforeEach, describe, expect, test } from "vitest";
import { folderSource } from "../../src/cli/disk.ts";
import { recoverSwap } from "../../src/cli/recover-swap.ts";
import { publishFolder } from "../../src/cli/swap.ts";
import { checkFiles, readManifest } from "../../src/publish/index.ts";
import { compiledCli } from "../support/compiled-cli.ts";
import { afterDeath, Crash, type CrashPoint, crashingDisk, letTimePass } from "../support/crashing-disk.ts";
import { smallSet } from "../support/small-set.ts";

const oldSet = smallSet({ "result.json": "old", "fields/n/a.shp": "old shape" });
const newSet = smallSet({ "result.json": "new", "fields/s/b.shp": "new shape" });

let base: string;
let out: string;

beforeAll(() => {
  base = mkdtempSync(join(tmpdir(), "crash-test-"));
  out = join(base, "out");
});

afterAll(() => rmSync(base, { recursive: true, force: true }));

type Start = "nothing" | "an empty folder" | "an older set";

function begin(start: Start): void {
  rmSync(base, { recursive: true, force: true });
  mkdirSync(base);
  if (start === "an empty folder") mkdirSync(out);
  if (start !== "an older set") return;
  for (const [path, bytes] of oldSet) {
    mkdirSync(dirname(join(out, path)), { recursive: true });
    writeFileSync(join(out, path), bytes);
  }
}

/** Which set the folder holds, whole and alone; the files are read and hashed, not looked at by name. */
async function holds(): Promise<"old" | "new" | "nothing"> {
  if (!existsSync(out) || readdirSync(out).length === 0) return "nothing";
  const source = await folderSource(out);
  const manifest = readManifest(await source.read("manifest.json"), "manifest.json");
  expect(await checkFiles(manifest, source)).toEqual([]);
  return readFileSync(join(out, "result.json"), "utf8") as "old" | "new";
}

/** Dies at the point; gives the calls made, and whether it came to its end first. */
async function dieWhile(
  work: (disk: ReturnType<typeof crashingDisk>) => Promise<unknown>,
  point: CrashPoint | null,
) {
  const calls: string[] = [];
  const outcome = await work(crashingDisk(point, calls)).then(
    () => "finished",
    (error: unknown) => error,
  );
  if (outcome !== "finished" && !(outcome instanceof Crash)) throw outcome;
  letTimePass(base);
  return { calls, died: outcome !== "finished" };
}

const publish = (disk: ReturnType<typeof crashingDisk>) =>
  publishFolder(out, newSet, { overwrite: true, disk });

/** Every point of a run of these calls: before and after each, and half-way through each write. */
function pointsOf(calls: readonly string[]): CrashPoint[] {
  return calls.flatMap((name, call) => {
    const whens = name === "write" ? (["before", "half", "after"] as const) : (["before", "after"] as const);
    return whens.map((when) => ({ call, when }));
  });
}

/** Calls that only look: dying beside one leaves the disk as dying beside its neighbour does. */
const looks: readonly string[] = ["kind", "names", "read", "changedMs", "processMark", "newId"];

describe.each<[Start, readonly string[]]>([
  ["an older set", ["old", "new"]],
  ["an empty folder", ["nothing", "new"]],
  ["nothing", ["nothing", "new"]],
])("a run that replaces %s and is killed at any call to the disk", (start, allowed) => {
  test("leaves the one or the other whole, and the next command clears away the rest", async () => {
    begin(start);
    const { calls } = await dieWhile(publish, null);
    expect(await holds()).toBe("new");
    expect(calls.filter((name) => name === "rename").length).toBe(start === "nothing" ? 1 : 2);
    const seen = new Set<string>();
    for (const point of pointsOf(calls)) {
      const where = `${point.when} call ${point.call} (${calls[point.call]})`;
      begin(start);
      const first = await dieWhile(publish, point);
      expect(first.died, where).toBe(true);
      expect(await recoverSwap(out, afterDeath), where).toEqual([]);
      expect(
        readdirSync(base).filter((name) => name !== "out"),
        where,
      ).toEqual([]);
      const found = await holds();
      expect(allowed, where).toContain(found);
      seen.add(found);
    }
    expect([...seen].sort()).toEqual([...allowed].sort());
  });

  test("does not keep the next build from being written", async () => {
    begin(start);
    const { calls } = await dieWhile(publish, null);
    for (const point of pointsOf(calls).filter((_, at) => at % 3 === 0)) {
      begin(start);
      await dieWhile(publish, point);
      expect(await publishFolder(out, newSet, { overwrite: true, disk: afterDeath })).toEqual([]);
      expect(await holds()).toBe("new");
      expect(readdirSync(base)).toEqual(["out"]);
    }
  });
});

test("a recovery killed at any call that changes the disk is taken up by the next command", async () => {
  begin("an older set");
  const { calls } = await dieWhile(publish, null);
  const renames = calls.flatMap((name, at) => (name === "rename" ? [at] : []));
  const torn: CrashPoint[] = [
    { call: renames[0]!, when: "before" }, // the new set is whole, the old one in its place
    { call: renames[1]!, when: "before" }, // the folder is missing
    { call: renames[1]!, when: "after" }, // the new one is in place, the old one beside it
    { call: calls.lastIndexOf("removeFile") - 1, when: "after" }, // the old one is half removed
  ];
  for (const point of torn) {
    const reach = async (): Promise<void> => {
      begin("an older set");
      await dieWhile(publish, point);
    };
    await reach();
    const whole = await dieWhile((disk) => recoverSwap(out, disk), null);
    const expected = await holds();
    for (const second of pointsOf(whole.calls).filter(({ call }) => !looks.includes(whole.calls[call]!))) {
      const where = `${point.when} ${point.call}, then ${second.when} ${second.call} (${whole.calls[second.call]})`;
      await reach();
      await dieWhile((disk) => recoverSwap(out, disk), second);
      expect(await recoverSwap(out, afterDeath), where).toEqual([]);
      expect(readdirSync(base), where).toEqual(["out"]);
      expect(await holds(), where).toBe(expected);
    }
  }
});

describe("a process that is really killed", () => {
  let modules: string;
  beforeAll(() => {
    modules = dirname(compiledCli());
  });
  beforeEach(() => begin("an older set"));

  /** Publishes the new set in a process of its own that kills itself before the n-th call of this name. */
  async function killedBefore(call: string, count: number): Promise<NodeJS.Signals | null> {
    const script = `
      const { realDisk } = await import(${JSON.stringify(pathToFileURL(join(modules, "disk-calls.js")).href)});
      const { publishFolder } = await import(${JSON.stringify(pathToFileURL(join(modules, "swap.js")).href)});
      let left = ${count};
      const disk = { ...realDisk, ${call}: (...values) => {
        if (--left < 0) process.kill(process.pid, "SIGKILL");
        return realDisk.${call}(...values);
      } };
      const files = new Map(${JSON.stringify([...newSet].map(([path, bytes]) => [path, [...bytes]]))}
        .map(([path, bytes]) => [path, Uint8Array.from(bytes)]));
      await publishFolder(${JSON.stringify(out)}, files, { overwrite: true, disk });`;
    const child = spawn(process.execPath, ["--input-type=module", "-e", script], { stdio: "ignore" });
    const [, signal] = (await once(child, "exit")) as [number | null, NodeJS.Signals | null];
    return signal;
  }

  test.each([
    ["sync", 1, "old"],
    ["rename", 0, "old"],
    ["rename", 1, "new"],
    ["removeFolder", 0, "new"],
  ])("before %s number %i leaves the %s set to the command check", async (call, count, expected) => {
    expect(await killedBefore(call, count)).toBe("SIGKILL");
    expect(readdirSync(base).length).toBeGreaterThan(1);
    const check = spawn(process.execPath, [compiledCli(), "check", out], { stdio: "ignore" });
    expect(await once(check, "exit")).toEqual([0, null]);
    expect(await holds()).toBe(expected);
    expect(readdirSync(base)).toEqual(["out"]);
  });
});
