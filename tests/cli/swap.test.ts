import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { type DiskCalls, realDisk } from "../../src/cli/disk-calls.ts";
import { recoverSwap } from "../../src/cli/recover-swap.ts";
import { prepareFolder, publishFolder } from "../../src/cli/swap.ts";
import { contents, refusal, textsOf } from "../support/folder-contents.ts";
import { smallSet } from "../support/small-set.ts";

const oldSet = smallSet({ "result.json": "old", "fields/n/a.shp": "old shape" });
const newSet = smallSet({ "result.json": "new", "fields/s/b.shp": "new shape", "fields/n/a.shp": "newer" });
const disk: DiskCalls = { ...realDisk, sync: () => {}, syncFolder: () => {} };
const plain = { overwrite: false, disk };
const over = { overwrite: true, disk };

let base: string;
let out: string;

beforeEach(() => {
  base = mkdtempSync(join(tmpdir(), "swap-test-"));
  out = join(base, "out");
});

afterEach(() => rmSync(base, { recursive: true, force: true }));

describe("publishFolder", () => {
  test("writes a set with the real disk, the folders above included, and leaves nothing beside it", async () => {
    const deep = join(base, "a/b/out");
    const steps: string[] = [];
    const onProgress = (done: number, total: number) => void steps.push(`${done}/${total}`);
    expect(await publishFolder(deep, newSet, { overwrite: false, onProgress })).toEqual([]);
    expect(contents(deep)).toEqual(textsOf(newSet));
    expect(readdirSync(join(base, "a/b"))).toEqual(["out"]);
    expect(steps).toEqual(["1/4", "2/4", "3/4", "4/4"]);
  });

  test("replaces an older set only when told to", async () => {
    await publishFolder(out, oldSet, plain);
    expect((await refusal(publishFolder(out, newSet, plain))).code).toBe("out-not-empty");
    expect(contents(base)).toEqual(
      Object.fromEntries([...oldSet].map(([path]) => [`out/${path}`, expect.anything()])),
    );
    expect(contents(out)).toEqual(textsOf(oldSet));
    await publishFolder(out, newSet, over);
    expect(contents(out)).toEqual(textsOf(newSet));
    expect(readdirSync(base)).toEqual(["out"]);
  });

  test("takes an empty folder, and --overwrite where nothing is", async () => {
    mkdirSync(out);
    await publishFolder(out, oldSet, plain);
    await publishFolder(join(base, "other"), oldSet, over);
    expect(readdirSync(base)).toEqual(["other", "out"]);
  });

  test.each([
    [
      "a file beside the set",
      (at: string) => writeFileSync(join(at, "fields/notes.txt"), "mine"),
      "fields/notes.txt",
    ],
    ["a link in it", (at: string) => symlinkSync("result.json", join(at, "link.json")), "link.json"],
    ["a damaged manifest", (at: string) => writeFileSync(join(at, "manifest.json"), "{}"), "manifest.json"],
    ["no manifest", (at: string) => rmSync(join(at, "manifest.json")), "result.json"],
  ])("does not overwrite a folder with %s", async (_, spoil, named) => {
    await publishFolder(out, oldSet, plain);
    spoil(out);
    const before = contents(base);
    const error = await refusal(publishFolder(out, newSet, over));
    expect(error.code).toBe("out-has-strangers");
    expect(error.message).toContain(named);
    expect(contents(base)).toEqual(before);
  });

  test("overwrites a set of which a file is gone or changed", async () => {
    await publishFolder(out, oldSet, plain);
    rmSync(join(out, "fields/n/a.shp"));
    writeFileSync(join(out, "result.json"), "edited");
    await publishFolder(out, newSet, over);
    expect(contents(base)).toEqual(
      Object.fromEntries(Object.entries(textsOf(newSet)).map(([p, t]) => [`out/${p}`, t])),
    );
  });

  test("refuses a file, a dangling link and the current folder", async () => {
    writeFileSync(out, "a file");
    expect((await refusal(publishFolder(out, newSet, over))).code).toBe("out-not-a-folder");
    symlinkSync("nowhere", join(base, "dangling"));
    expect((await refusal(publishFolder(join(base, "dangling"), newSet, over))).code).toBe(
      "out-not-a-folder",
    );
    expect((await refusal(publishFolder(join(out, "deeper"), newSet, over))).code).toBe("not-a-folder");
  });

  test("refuses the current folder and those above it", async () => {
    await publishFolder(join(out, "in"), oldSet, plain);
    const before = process.cwd();
    process.chdir(join(out, "in/fields"));
    try {
      for (const folder of [".", "..", join(out, "in"), out]) {
        expect((await refusal(publishFolder(folder, newSet, over))).code).toBe("out-is-current-folder");
      }
      await publishFolder("../../beside", newSet, plain);
    } finally {
      process.chdir(before);
    }
    expect(readdirSync(out)).toEqual(["beside", "in"]);
    expect(contents(join(out, "in"))).toEqual(textsOf(oldSet));
  });

  test("writes through a link to the folder and keeps the link", async () => {
    mkdirSync(join(base, "real"));
    symlinkSync("real", out);
    await publishFolder(out, oldSet, plain);
    await publishFolder(`${out}/`, newSet, over);
    expect(contents(join(base, "real"))).toEqual(textsOf(newSet));
    expect(readdirSync(base)).toEqual(["out", "real"]);
  });

  test("takes a set whose manifest does not fit for our bug", async () => {
    const without = new Map([...newSet].filter(([path]) => path !== "manifest.json"));
    const spoilt = new Map(newSet).set("result.json", new Uint8Array(3));
    const extra = new Map(newSet).set("more.txt", new Uint8Array(3));
    for (const set of [without, spoilt, extra]) {
      await expect(publishFolder(out, set, plain)).rejects.toThrow(/^publishFolder: /);
    }
    expect(readdirSync(base)).toEqual([]);
  });

  test.each([
    ["the disk is full", "write", "ENOSPC", "disk-full"],
    ["the disk is full at a sync", "sync", "ENOSPC", "disk-full"],
    ["the folder cannot be moved", "rename", "EBUSY", "in-use"],
    ["a new folder is not allowed", "makeFolder", "EACCES", "no-access"],
  ] as const)("leaves the old set and nothing else when %s", async (_, call, system, code) => {
    await publishFolder(out, oldSet, plain);
    let count = 0;
    const failing = (...values: never[]) => {
      const isLockFile = call === "write" && count++ === 0;
      if (isLockFile) return (disk.write as (...values: never[]) => unknown)(...values);
      throw Object.assign(new Error(system), { code: system });
    };
    const error = await refusal(
      publishFolder(out, newSet, { overwrite: true, disk: { ...disk, [call]: failing } }),
    );
    expect(error.code).toBe(code);
    expect(readdirSync(base)).toEqual(["out"]);
    expect(contents(out)).toEqual(textsOf(oldSet));
  });

  test("gives the old set its name back when the new one cannot take it", async () => {
    await publishFolder(out, oldSet, plain);
    const rename = (from: string, to: string): void => {
      if (from.includes(".new-")) throw Object.assign(new Error("EIO"), { code: "EIO" });
      disk.rename(from, to);
    };
    const work = publishFolder(out, newSet, { overwrite: true, disk: { ...disk, rename } });
    expect((await refusal(work)).code).toBe("disk-fault");
    expect(readdirSync(base)).toEqual(["out"]);
    expect(contents(out)).toEqual(textsOf(oldSet));
  });

  test("leaves a swap it can neither finish nor undo to the next command", async () => {
    await publishFolder(out, oldSet, plain);
    const rename = (from: string, to: string): void => {
      if (to === out) throw Object.assign(new Error("EIO"), { code: "EIO" });
      disk.rename(from, to);
    };
    const work = publishFolder(out, newSet, { overwrite: true, disk: { ...disk, rename } });
    expect((await refusal(work)).code).toBe("disk-fault");
    expect(existsSync(out)).toBe(false);
    expect(await recoverSwap(out, disk)).toEqual([]);
    expect(readdirSync(base)).toEqual(["out"]);
    expect(contents(out)).toEqual(textsOf(newSet));
  });

  test("does not publish what comes back different from the disk", async () => {
    await publishFolder(out, oldSet, plain);
    const read = (path: string): Uint8Array => {
      const bytes = disk.read(path);
      return path.includes(".new-") && path.endsWith("b.shp") ? bytes.map((byte) => byte ^ 1) : bytes;
    };
    const error = await refusal(publishFolder(out, newSet, { overwrite: true, disk: { ...disk, read } }));
    expect(error).toMatchObject({
      code: "came-back-different",
      message: expect.stringContaining("fields/s/b.shp"),
    });
    expect(readdirSync(base)).toEqual(["out"]);
    expect(contents(out)).toEqual(textsOf(oldSet));
  });

  test("stops when interrupted and clears away what it had begun", async () => {
    await publishFolder(out, oldSet, plain);
    const stop = new AbortController();
    const onProgress = (done: number) => (done === 2 ? stop.abort() : undefined);
    const work = publishFolder(out, newSet, { ...over, signal: stop.signal, onProgress });
    await expect(work).rejects.toMatchObject({ name: "AbortError" });
    expect(readdirSync(base)).toEqual(["out"]);
    expect(contents(out)).toEqual(textsOf(oldSet));
  });

  test("keeps a file that somebody puts into the old set while it is being replaced", async () => {
    await publishFolder(out, oldSet, plain);
    const rename = (from: string, to: string): void => {
      if (from === out) writeFileSync(join(out, "late.txt"), "mine");
      disk.rename(from, to);
    };
    const notices = await publishFolder(out, newSet, { overwrite: true, disk: { ...disk, rename } });
    expect(contents(out)).toEqual(textsOf(newSet));
    const [kept] = readdirSync(base).filter((name) => name !== "out");
    expect(notices).toMatchObject([{ code: "leftover-kept", where: join(base, kept!) }]);
    expect(readFileSync(join(base, kept!, "late.txt"), "utf8")).toBe("mine");
    expect(contents(join(base, kept!))).toMatchObject(textsOf(oldSet));
  });

  test("swaps nothing in when another process has taken the lock meanwhile", async () => {
    await publishFolder(out, oldSet, plain);
    const stolen = '{"lock":"bermplan","pid":1,"mark":"","host":"elsewhere","id":"1111111111111111"}';
    const onProgress = (): void => writeFileSync(`${out}.lock`, stolen);
    expect((await refusal(publishFolder(out, newSet, { ...over, onProgress }))).code).toBe("folder-busy");
    expect(contents(out)).toEqual(textsOf(oldSet));
    expect(readFileSync(`${out}.lock`, "utf8")).toBe(stolen);
  });

  test("refuses a second one at once, in words", async () => {
    const [first, second] = await Promise.allSettled([
      publishFolder(out, newSet, plain),
      publishFolder(out, oldSet, plain),
    ]);
    const [loser, set] = first.status === "fulfilled" ? [second, newSet] : [first, oldSet];
    const message = expect.stringContaining(`is being written by process ${process.pid} `);
    expect(loser).toMatchObject({ status: "rejected", reason: { code: "folder-busy", message } });
    expect(contents(out)).toEqual(textsOf(set));
    expect(readdirSync(base)).toEqual(["out"]);
  });
});

describe("prepareFolder", () => {
  test("refuses what publishFolder would, before any work is done", async () => {
    await publishFolder(out, oldSet, plain);
    expect((await refusal(prepareFolder(out, false))).code).toBe("out-not-empty");
    expect(await prepareFolder(out, true)).toEqual([]);
    writeFileSync(join(out, "mine.txt"), "");
    expect((await refusal(prepareFolder(out, true))).code).toBe("out-has-strangers");
    expect(await prepareFolder(join(base, "a/b/c"), false)).toEqual([]);
    expect(readdirSync(base)).toEqual(["out"]);
  });

  test("refuses a place where nothing may be written, or that has no room", async () => {
    const refusing = (code: string): DiskCalls => ({
      ...disk,
      create: () => {
        throw Object.assign(new Error(code), { code });
      },
    });
    expect((await refusal(prepareFolder(out, false, refusing("EACCES")))).code).toBe("no-access");
    expect((await refusal(prepareFolder(out, false, refusing("EROFS")))).code).toBe("read-only-disk");
    expect((await refusal(prepareFolder(out, false, refusing("ENOSPC")))).code).toBe("disk-full");
    expect(readdirSync(base)).toEqual([]);
  });
});
