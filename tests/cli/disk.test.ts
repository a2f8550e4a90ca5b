import { execFileSync } from "node:child_process";
import { mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { folderSource } from "../../src/cli/disk.ts";
import { openSource } from "../../src/cli/open-source.ts";
import { InputError } from "../../src/errors/index.ts";

const noInput = () => Promise.reject(new Error("nobody asked for standard input"));
const text = (bytes: Uint8Array): string => new TextDecoder().decode(bytes);

async function codeOf(work: Promise<unknown>): Promise<string> {
  const error = await work.then(
    () => null,
    (reason: unknown) => reason,
  );
  expect(error).toBeInstanceOf(InputError);
  return (error as InputError).code;
}

let base: string;
let inside: string;

beforeAll(() => {
  base = mkdtempSync(join(tmpdir(), "disk-test-"));
  inside = join(base, "farm");
  mkdirSync(join(inside, "lab/deep"), { recursive: true });
  mkdirSync(join(base, "farm-next"));
  writeFileSync(join(base, "secret.txt"), "secret");
  writeFileSync(join(base, "farm-next/secret.txt"), "secret");
  writeFileSync(join(inside, "b.txt"), "b");
  writeFileSync(join(inside, "..odd.txt"), "odd");
  writeFileSync(join(inside, "lab/a.csv"), "a");
  writeFileSync(join(inside, "lab/deep/é.csv"), "é");
  symlinkSync(join(base, "secret.txt"), join(inside, "out.txt"));
  symlinkSync("../farm-next/secret.txt", join(inside, "next.txt"));
  symlinkSync("lab/a.csv", join(inside, "within.csv"));
  symlinkSync(base, join(inside, "up"));
  symlinkSync("loop", join(inside, "loop"));
  symlinkSync("nowhere", join(inside, "dangling"));
  execFileSync("mkfifo", [join(inside, "pipe")]);
});

afterAll(() => rmSync(base, { recursive: true, force: true }));

describe("folderSource", () => {
  test("lists every file by code unit, links without entering them", async () => {
    expect(await (await folderSource(inside)).list()).toEqual([
      "..odd.txt",
      "b.txt",
      "dangling",
      "lab/a.csv",
      "lab/deep/é.csv",
      "loop",
      "next.txt",
      "out.txt",
      "pipe",
      "up",
      "within.csv",
    ]);
  });

  test.each([
    ["b.txt", "b"],
    ["..odd.txt", "odd"],
    ["lab/deep/é.csv", "é"],
    ["within.csv", "a"],
  ])("reads %s", async (path, content) => {
    expect(text(await (await folderSource(inside)).read(path))).toBe(content);
  });

  test.each([
    ["../secret.txt", "outside-folder"],
    ["lab/../../secret.txt", "outside-folder"],
    ["/etc/hostname", "outside-folder"],
    ["", "outside-folder"],
    [".", "outside-folder"],
    ["lab//a.csv", "outside-folder"],
    ["lab\\a.csv", "outside-folder"],
    ["c:a.csv", "outside-folder"],
    ["b.txt\u0000", "outside-folder"],
    ["out.txt", "outside-folder"],
    ["next.txt", "outside-folder"],
    ["up", "outside-folder"],
    ["up/secret.txt", "outside-folder"],
    ["lab", "not-a-file"],
    ["pipe", "not-a-file"],
    ["loop", "link-loop"],
    ["dangling", "no-such-file"],
    ["none.txt", "no-such-file"],
    ["b.txt/c", "not-a-folder"],
  ])("refuses %j with %s", async (path, code) => {
    expect(await codeOf((await folderSource(inside)).read(path))).toBe(code);
  });

  test("confines to what a link to the folder leads to", async () => {
    const link = join(base, "link");
    symlinkSync(inside, link);
    const source = await folderSource(link);
    expect(text(await source.read("lab/a.csv"))).toBe("a");
    expect(await codeOf(source.read("out.txt"))).toBe("outside-folder");
  });

  test("refuses what is no folder", async () => {
    expect(await codeOf(folderSource(join(base, "secret.txt")))).toBe("not-a-folder");
    expect(await codeOf(folderSource(join(base, "none")))).toBe("no-such-file");
  });
});

describe("openSource", () => {
  // Written by hand after the ZIP layout (APPNOTE 6.3 sections 4.3.7, 4.3.12, 4.3.16, from memory): one
  // stored entry "a/b.txt" with the text "hi". CRC-32 of "hi": node's zlib.crc32 is not in Node 20; 0xd8932aac
  // is what python3 -c 'import zlib; print(hex(zlib.crc32(b"hi")))' prints.
  const zip = Uint8Array.from(
    Buffer.from(
      "504b0304" +
        "0a00" +
        "0000" +
        "0000" +
        "0000" +
        "2100" +
        "ac2a93d8" +
        "02000000" +
        "02000000" +
        "0700" +
        "0000" +
        "612f622e747874" +
        "6869" +
        "504b0102" +
        "0a00" +
        "0a00" +
        "0000" +
        "0000" +
        "0000" +
        "2100" +
        "ac2a93d8" +
        "02000000" +
        "02000000" +
        "0700" +
        "0000" +
        "0000" +
        "0000" +
        "0000" +
        "00000000" +
        "00000000" +
        "612f622e747874" +
        "504b0506" +
        "0000" +
        "0000" +
        "0100" +
        "0100" +
        "35000000" +
        "27000000" +
        "0000",
      "hex",
    ),
  );

  test("takes a folder, an archive and standard input alike", async () => {
    const path = join(base, "set.zip");
    writeFileSync(path, zip);
    for (const source of [await openSource(path, noInput), await openSource("-", async () => zip)]) {
      expect(await source.list()).toEqual(["a/b.txt"]);
      expect(text(await source.read("a/b.txt"))).toBe("hi");
      expect(await codeOf(source.read("b.txt"))).toBe("no-such-file");
      expect(source.notices).toEqual([]);
    }
    expect(await (await openSource(join(inside, "lab"), noInput)).list()).toEqual(["a.csv", "deep/é.csv"]);
  });

  test("refuses any other file", async () => {
    expect(await codeOf(openSource(join(inside, "b.txt"), noInput))).toBe("not-a-source");
    expect(await codeOf(openSource(join(base, "none.zip"), noInput))).toBe("no-such-file");
    expect(await codeOf(openSource("-", async () => new Uint8Array()))).toBe("not-a-source");
  });
});
