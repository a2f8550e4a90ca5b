import { createHash } from "node:crypto";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { InputError } from "../../src/errors/index.ts";
import { checkFiles, manifestPath, readManifest, writeManifest } from "../../src/publish/index.ts";

const utf8 = new TextEncoder();
const planSha256 = "a".repeat(64);
const hashOf = (data: string | Uint8Array): string => createHash("sha256").update(data).digest("hex");

function written(texts: Record<string, string>): Uint8Array {
  const files = new Map(Object.entries(texts).map(([path, text]) => [path, utf8.encode(text)]));
  return writeManifest({ files, planSha256, toolVersion: "1.2.3" });
}

/** A manifest with any lines whatever, closed with the hash that fits them. */
function signed(lines: string): Uint8Array {
  return utf8.encode(`${lines}  "manifestSha256": "${hashOf(lines)}"\n}\n`);
}

function codeOf(bytes: Uint8Array): string {
  try {
    readManifest(bytes, "out/manifest.json");
  } catch (error) {
    expect(error).toBeInstanceOf(InputError);
    expect((error as InputError).message).toContain("out/manifest.json");
    return (error as InputError).code;
  }
  return "accepted";
}

function sourceOf(texts: Record<string, string>) {
  return {
    list: async () => Object.keys(texts).sort(),
    read: async (path: string) => {
      const text = texts[path];
      if (text === undefined || text === "unreadable")
        throw new InputError("no-access", `${path} refused`, "");
      return utf8.encode(text);
    },
  };
}

describe("writeManifest", () => {
  // SHA-256 of "abc": FIPS 180-2 appendix B.1 (from memory). The other hashes are node:crypto's.
  const abc = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad";

  test("gives exactly these lines, sorted by path", () => {
    const lines = [
      "{",
      '  "format": "manifest/1",',
      '  "tool": "bermplan",',
      '  "toolVersion": "1.2.3",',
      `  "planSha256": "${planSha256}",`,
      '  "files": [',
      `    {"path": "Z.txt", "bytes": 3, "sha256": "${abc}"},`,
      `    {"path": "a/b.txt", "bytes": 0, "sha256": "${hashOf("")}"}`,
      "  ],",
      "",
    ].join("\n");
    const bytes = written({ "a/b.txt": "", "Z.txt": "abc" });
    expect(new TextDecoder().decode(bytes)).toBe(new TextDecoder().decode(signed(lines)));
  });

  test("is read back as what was written", () => {
    const manifest = readManifest(written({ "b.txt": "two", "a.txt": "one" }), "m");
    expect(manifest).toMatchObject({
      format: "manifest/1",
      tool: "bermplan",
      toolVersion: "1.2.3",
      planSha256,
    });
    expect(manifest.files.map((file) => [file.path, file.bytes, file.sha256])).toEqual([
      ["a.txt", 3, hashOf("one")],
      ["b.txt", 3, hashOf("two")],
    ]);
  });

  test("gives the same bytes in whatever order the files come, and leaves its input alone", () => {
    const bytes = Object.freeze(utf8.encode("x").slice(0, 0));
    const input = Object.freeze({ files: new Map([["k", bytes]]), planSha256, toolVersion: "1" });
    expect(writeManifest(input)).toEqual(writeManifest(input));
    expect(written({ a: "1", b: "2", c: "3" })).toEqual(written({ c: "3", b: "2", a: "1" }));
  });

  test.each([
    "../a",
    "/a",
    "a//b",
    "a/./b",
    "",
    "a\\b",
    "c:a",
    "a\u0000b",
    "a\nb",
    "manifest.json",
    "Manifest.JSON",
    "manifest.json/a",
    "\ud800",
  ])("takes the path %j for our bug", (path) => {
    expect(() => written({ [path]: "" })).toThrow(/^manifest: /);
  });

  test.each([[["a.shp", "A.SHP"]], [["caf\u00e9", "cafe\u0301"]], [["Map", "map/a.shp"]]])(
    "takes paths a stick cannot tell apart for our bug: %j",
    (paths) => {
      expect(() => written(Object.fromEntries(paths.map((path) => [path, ""])))).toThrow(/^manifest: /);
    },
  );

  test("takes a plan hash that is none for our bug", () => {
    expect(() => writeManifest({ files: new Map(), planSha256: "abc", toolVersion: "1" })).toThrow();
  });
});

describe("readManifest", () => {
  test("finds every changed byte, every cut and every addition", () => {
    const bytes = written({ "a.txt": "one", "b/c.txt": "two" });
    for (let at = 0; at < bytes.length; at++) {
      for (const bit of [1, 0x20]) {
        const changed = Uint8Array.from(bytes);
        changed[at]! ^= bit;
        expect(codeOf(changed), `bit ${bit} of byte ${at}`).toMatch(/^(not-a-manifest|manifest-changed)$/);
      }
      expect(codeOf(bytes.slice(0, at)), `cut at ${at}`).toMatch(/^(not-a-manifest|manifest-changed)$/);
    }
    expect(codeOf(Uint8Array.from([...bytes, 0x0a]))).toBe("manifest-changed");
    expect(codeOf(Uint8Array.from([0xef, 0xbb, 0xbf, ...bytes]))).toBe("not-a-manifest");
    expect(codeOf(bytes)).toBe("accepted");
  });

  const start = '{\n  "format": "manifest/1",\n  "tool": "bermplan",\n  "toolVersion": "1",\n';
  const plan = `  "planSha256": "${planSha256}",\n`;
  const row = (path: string) =>
    `    {"path": ${JSON.stringify(path)}, "bytes": 0, "sha256": "${planSha256}"}`;

  test.each([
    ["another key", `${start}${plan}  "files": [],\n  "more": 1,\n`, "not-a-manifest"],
    ["another tool", `${start.replace("bermplan", "other")}${plan}  "files": [],\n`, "not-a-manifest"],
    ["a later format", `${start.replace("/1", "/2")}${plan}  "files": [],\n`, "not-a-manifest"],
    [
      "a hash in capitals",
      `${start}${plan.toUpperCase().replace("PLANSHA", "planSha")}  "files": [],\n`,
      "not-a-manifest",
    ],
    ["a path that leads out", `${start}${plan}  "files": [\n${row("../x")}\n  ],\n`, "not-a-manifest"],
    [
      "paths out of order",
      `${start}${plan}  "files": [\n${row("b")},\n${row("a")}\n  ],\n`,
      "not-a-manifest",
    ],
    ["a path twice", `${start}${plan}  "files": [\n${row("a")},\n${row("a")}\n  ],\n`, "not-a-manifest"],
    ["other white space", `${start}${plan}  "files": [ ],\n`, "manifest-changed"],
    ["a key twice", `${start}${plan}${plan}  "files": [],\n`, "manifest-changed"],
    ["nothing unusual", `${start}${plan}  "files": [\n${row("a")},\n${row("b")}\n  ],\n`, "accepted"],
  ])("judges a manifest with a fitting hash and %s", (_, lines, verdict) => {
    expect(codeOf(signed(lines))).toBe(verdict);
  });
});

describe("checkFiles", () => {
  const texts = { "a.txt": "one", "b/c.txt": "two", "d.txt": "three" };
  const manifest = readManifest(written(texts), "m");
  const check = async (found: Record<string, string>) =>
    (await checkFiles(manifest, sourceOf({ [manifestPath]: "", ...found }))).map(
      ({ path, kind }) => `${kind} ${path}`,
    );

  test("has nothing to say about a set as written", async () => {
    expect(await check(texts)).toEqual([]);
  });

  test("names each file that is missing, changed, unreadable or a stranger, by path", async () => {
    const found = { "a.txt": "oNe", "b/c.txt": "unreadable", "0.txt": "", "e/f": "" };
    expect(await check(found)).toEqual([
      "stranger 0.txt",
      "changed a.txt",
      "unreadable b/c.txt",
      "missing d.txt",
      "stranger e/f",
    ]);
  });

  test("says both lengths of a file that was cut", async () => {
    const problems = await checkFiles(manifest, sourceOf({ ...texts, "d.txt": "thr" }));
    expect(problems.map((problem) => problem.message)).toEqual(["d.txt: changed (3 bytes, written with 5)"]);
  });

  test("finds any one changed byte in any set", async () => {
    const anyFile = fc.tuple(
      fc.stringMatching(/^[a-z]{1,6}$/),
      fc.uint8Array({ minLength: 1, maxLength: 40 }),
    );
    const anySet = fc.uniqueArray(anyFile, { minLength: 1, maxLength: 5, selector: ([path]) => path });
    await fc.assert(
      fc.asyncProperty(
        anySet,
        fc.nat(),
        fc.nat(),
        fc.integer({ min: 1, max: 255 }),
        async (list, which, where, bits) => {
          const files = new Map(list);
          const own = readManifest(writeManifest({ files, planSha256, toolVersion: "1" }), "m");
          const [path, bytes] = list[which % list.length]!;
          const changed = Uint8Array.from(bytes);
          changed[where % bytes.length]! ^= bits;
          const source = (now: Map<string, Uint8Array>) => ({
            list: async () => [...now.keys()],
            read: async (wanted: string) => now.get(wanted)!,
          });
          expect(await checkFiles(own, source(files))).toEqual([]);
          const problems = await checkFiles(own, source(new Map(files).set(path, changed)));
          expect(problems.map((problem) => [problem.kind, problem.path])).toEqual([["changed", path]]);
        },
      ),
      { seed: 20_240, numRuns: 100 },
    );
  });
});
