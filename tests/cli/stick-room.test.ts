import { mkdirSync, mkdtempSync, rmSync, statSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { afterAll, beforeAll, beforeEach, describe, expect, test } from "vitest";
import { type DiskCalls, realDisk } from "../../src/cli/disk-calls.ts";
import { refuseWithoutRoom, stickRoom } from "../../src/cli/stick-room.ts";
import { writeStick } from "../../src/cli/write-stick.ts";
import { contents, refusal, textsOf } from "../support/folder-contents.ts";
import { cli } from "../support/in-process-cli.ts";
import { smallSet } from "../support/small-set.ts";

// Invented content; what counts is how many bytes stand on the disk.
const stick = (revision: string) => JSON.stringify({ format: "stick/1", pass: "strip", revision, maps: [] });
const oldSet = smallSet({
  "stick.json": stick("A"),
  "RX/KETTLE_L_1152_A.shp": "x".repeat(700),
  "RX/KETTLE_R_0060_A.shp": "the same shape",
  "TASKDATA/TASKDATA.XML": "y".repeat(900),
});
const newSet = smallSet({
  "stick.json": stick("B"),
  "RX/KETTLE_L_1152_A.shp": "z".repeat(300),
  "RX/KETTLE_R_0060_A.shp": "the same shape",
  "RX/KETTLE_R_0060_B.shp": "w".repeat(500),
  "TASKDATA/TASKDATA.XML": "new tasks",
});

let base: string;
let root: string;
beforeAll(() => {
  base = mkdtempSync(join(tmpdir(), "stick-room-"));
});
afterAll(() => rmSync(base, { recursive: true, force: true }));
beforeEach(() => {
  root = mkdtempSync(join(base, "stick-"));
});

function put(texts: Readonly<Record<string, string>>): void {
  for (const [path, text] of Object.entries(texts)) {
    mkdirSync(dirname(join(root, path)), { recursive: true });
    writeFileSync(join(root, path), text);
  }
}

/** A disk with so many bytes free, a byte a block and a folder, that says it is full as a real one does: after a part. */
function smallDisk(freeBytes: number): { readonly disk: DiskCalls; readonly mostTaken: () => number } {
  let taken = 0;
  let most = 0;
  const take = (bytes: number): void => {
    taken += bytes;
    most = Math.max(most, taken);
  };
  const disk: DiskCalls = {
    ...realDisk,
    room: () => ({ freeBytes: freeBytes - taken, blockBytes: 1 }),
    makeFolder: (folder) => {
      take(1);
      realDisk.makeFolder(folder);
    },
    write: (file, bytes) => {
      const fits = Math.min(bytes.length, freeBytes - taken);
      if (fits <= 0) throw Object.assign(new Error("no space"), { code: "ENOSPC" });
      take(fits);
      return realDisk.write(file, bytes.subarray(0, fits));
    },
    removeFile: (path) => {
      taken -= statSync(path).size;
      realDisk.removeFile(path);
    },
    rename: (from, to) => {
      const before = statSync(to, { throwIfNoEntry: false });
      if (before?.isFile()) taken -= before.size;
      realDisk.rename(from, to);
    },
  };
  return { disk, mostTaken: () => most };
}

const refuse = async (...given: Tail<Parameters<typeof refuseWithoutRoom>>): Promise<void> =>
  refuseWithoutRoom(root, ...given);
type Tail<List extends readonly unknown[]> = List extends readonly [unknown, ...infer Rest] ? Rest : never;

const aside = { from: "TASKDATA", to: "TASKDATA_20270401" };

describe.each([
  ["an empty stick", {}, null],
  ["a set of ours", textsOf(oldSet), null],
  ["a set of ours, task data moved out of the way", textsOf(oldSet), aside],
] as const)("%s", (_, before, moved) => {
  const writing = { files: newSet, aside: moved };

  test("the room a set needs is what writing it takes at its height; with it it is written, with a byte less refused", async () => {
    put(before);
    const needed = stickRoom(root, writing, 1, realDisk);
    const start = contents(root);
    const tooSmall = smallDisk(needed - 1);
    const error = await refusal(refuse(writing, false, tooSmall.disk));
    expect([error.code, error.remedy]).toEqual([
      "disk-full",
      "Make room, or use another stick; nothing was written.",
    ]);
    expect(error.message).toContain(`this set needs ${Math.ceil(needed / 1000)} kB`);
    expect(contents(root)).toEqual(start);
    const enough = smallDisk(needed);
    refuseWithoutRoom(root, writing, false, enough.disk);
    await writeStick(root, writing, enough.disk);
    expect(enough.mostTaken()).toBe(needed);
  });

  test("whole blocks count: each file and folder takes one at least", () => {
    put(before);
    const blocks = stickRoom(root, writing, 4096, realDisk) / 4096;
    expect(Number.isInteger(blocks)).toBe(true);
    expect(blocks).toBeGreaterThanOrEqual(1);
    if (Object.keys(before).length > 0) return;
    // Manifest, five files, two folders.
    expect(blocks).toBe(8);
  });

  test("a disk that is full half-way: no half file stays, the file is named, and writing once more mends it", async () => {
    put(before);
    const needed = stickRoom(root, writing, 1, realDisk);
    for (let short = 1; short < needed; short += 97) {
      rmSync(root, { recursive: true });
      mkdirSync(root);
      put(before);
      const { disk } = smallDisk(needed - short);
      const error = await refusal(writeStick(root, writing, disk));
      expect(error.code).toBe("disk-full");
      expect(error.message).toMatch(/stick-\w+\/\S+ does not fit: the disk is full$/);
      expect(error.remedy).toContain("then write it once more; load nothing from it until then");
      const whole = new Set([...Object.values(before), ...Object.values(textsOf(newSet))]);
      for (const [path, text] of Object.entries(contents(root))) expect(whole, path).toContain(text);
      const isMoved = moved !== null && realDisk.kind(join(root, moved.to)) !== null;
      await writeStick(root, { files: newSet, aside: isMoved ? null : moved }, realDisk);
      expect((await cli("check", root)).exit).toBe(0);
    }
  });
});

test("a disk that does not tell what is free is tried; one that has said that it is full is not", async () => {
  const writing = { files: newSet, aside: null };
  const silent: DiskCalls = { ...realDisk, room: () => null };
  expect(() => refuseWithoutRoom(root, writing, false, silent)).not.toThrow();
  expect((await refusal(refuse(writing, true, silent))).message).toContain("0 kB are free");
  const told = realDisk.room(root)!;
  expect(told.blockBytes).toBeGreaterThan(0);
  expect(realDisk.room(join(root, "not there"))).toBeNull();
});
