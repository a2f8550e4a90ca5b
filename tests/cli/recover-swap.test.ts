import { existsSync, mkdirSync, mkdtempSync, readdirSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterEach, beforeEach, describe, expect, test } from "vitest";
import { type DiskCalls, realDisk } from "../../src/cli/disk-calls.ts";
import { takeLock } from "../../src/cli/folder-lock.ts";
import { recoverSwap } from "../../src/cli/recover-swap.ts";
import { publishFolder } from "../../src/cli/swap.ts";
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

describe("recoverSwap", () => {
  const id = (digit: string): string => digit.repeat(16);
  const put = (name: string, set: ReadonlyMap<string, Uint8Array>): Promise<unknown> =>
    publishFolder(join(base, name), set, plain);

  test("looks only, where nothing is left over", async () => {
    await put("out", oldSet);
    writeFileSync(join(base, "out.new-notes"), "mine");
    mkdirSync(join(base, `out.old-${id("g")}`));
    mkdirSync(join(base, `outer.old-${id("1")}`));
    const before = readdirSync(base);
    const looking = { ...disk, create: () => expect.fail("wrote") };
    expect(await recoverSwap(out, looking)).toEqual([]);
    expect(await recoverSwap(join(base, "none/out"), looking)).toEqual([]);
    expect(readdirSync(base)).toEqual(before);
  });

  test("waits for nobody: a living lock is a refusal", async () => {
    await put("out", oldSet);
    const lock = takeLock(`${out}.lock`, out, disk);
    expect((await refusal(recoverSwap(out, disk))).code).toBe("folder-busy");
    lock.release();
  });

  test("finishes a swap stopped between its renames, however many leftovers there are", async () => {
    await put(`out.old-${id("1")}`, oldSet);
    await put(`out.new-${id("1")}`, newSet);
    await put(`out.old-${id("2")}`, oldSet);
    await put(`out.new-${id("3")}`, oldSet);
    mkdirSync(join(base, `out.new-${id("4")}`));
    writeFileSync(`${out}.lock-${id("5")}`, "");
    expect(await recoverSwap(out, disk)).toEqual([]);
    expect(readdirSync(base)).toEqual(["out"]);
    expect(contents(out)).toEqual(textsOf(newSet));
  });

  test("undoes it when the new set is not whole", async () => {
    await put(`out.old-${id("1")}`, oldSet);
    await put(`out.new-${id("1")}`, newSet);
    rmSync(join(base, `out.new-${id("1")}`, "fields/s/b.shp"));
    expect(await recoverSwap(out, disk)).toEqual([]);
    expect(readdirSync(base)).toEqual(["out"]);
    expect(contents(out)).toEqual(textsOf(oldSet));
  });

  test("does not take an empty new folder for a whole set", async () => {
    await put(`out.old-${id("1")}`, oldSet);
    mkdirSync(join(base, `out.new-${id("1")}`));
    await recoverSwap(out, disk);
    expect(contents(out)).toEqual(textsOf(oldSet));
  });

  test("keeps the old set while the folder itself is not whole", async () => {
    await put("out", newSet);
    await put(`out.old-${id("1")}`, oldSet);
    writeFileSync(join(out, "result.json"), "edited");
    expect(await recoverSwap(out, disk)).toMatchObject([{ code: "leftover-kept" }]);
    expect(contents(join(base, `out.old-${id("1")}`))).toEqual(textsOf(oldSet));
    await publishFolder(out, newSet, over);
    expect(readdirSync(base)).toEqual(["out"]);
  });

  test("never removes what it did not write", async () => {
    await put("out", newSet);
    for (const kind of ["new", "old"]) {
      mkdirSync(join(base, `out.${kind}-${id("1")}`));
      writeFileSync(join(base, `out.${kind}-${id("1")}`, "thesis.txt"), "mine");
      writeFileSync(join(base, `out.${kind}-${id("2")}`), "a file");
      await put(`out.${kind}-${id("3")}`, oldSet);
      writeFileSync(join(base, `out.${kind}-${id("3")}`, "fields/extra.txt"), "mine");
    }
    const before = contents(base);
    const notices = await recoverSwap(out, disk);
    expect(notices.map((notice) => notice.where.slice(out.length))).toEqual(
      ["1", "2", "3"]
        .map((digit) => `.new-${id(digit)}`)
        .concat(["1", "2", "3"].map((digit) => `.old-${id(digit)}`)),
    );
    expect(contents(base)).toEqual(before);
  });

  test("says what it cannot remove and goes on", async () => {
    await put("out", newSet);
    await put(`out.old-${id("1")}`, oldSet);
    const removeFile = (path: string): void => {
      if (!path.endsWith(".lock")) throw Object.assign(new Error("EPERM"), { code: "EPERM" });
      disk.removeFile(path);
    };
    expect(await recoverSwap(out, { ...disk, removeFile })).toMatchObject([{ code: "leftover-kept" }]);
    expect(existsSync(`${out}.lock`)).toBe(false);
  });
});
