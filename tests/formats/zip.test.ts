// APPNOTE 6.3, sections 4.3 and 4.4 (from memory); CRC-32 check value of "123456789": 0xCBF43926 (common practice).
import { zipSync } from "fflate";
import { describe, expect, it } from "vitest";
import { readZip, sha256Hex, writeZip } from "../../src/formats/index.ts";
import { bytesOf, patched, refusal, textOf } from "./support.ts";

const FILES = new Map([
  ["b/rates.txt", bytesOf("120 lb/ac ".repeat(50))],
  ["a.txt", bytesOf("123456789")],
]);

const names = (zip: Uint8Array) => [...readZip(zip, "field.zip").files.keys()];
const u16 = (bytes: Uint8Array, at: number) =>
  new DataView(bytes.buffer, bytes.byteOffset).getUint16(at, true);
const u32 = (bytes: Uint8Array, at: number) =>
  new DataView(bytes.buffer, bytes.byteOffset).getUint32(at, true);

/** A zip by another writer, with entry names as wanted. */
const foreign = (entries: Record<string, string>) =>
  zipSync(Object.fromEntries(Object.entries(entries).map(([name, text]) => [name, bytesOf(text)])));

describe("writeZip", () => {
  const zip = writeZip(FILES, "2026-04-15");

  it("puts the caller's date, the checksum and the sizes into the headers", () => {
    expect(u32(zip, 0)).toBe(0x04034b50);
    expect(u16(zip, 10)).toBe(0);
    expect(u16(zip, 12)).toBe(((2026 - 1980) << 9) | (4 << 5) | 15);
    expect(u32(zip, 14)).toBe(0xcbf43926); // a.txt comes first: entries are sorted
    expect([u32(zip, 18), u32(zip, 22)]).toEqual([9, 9]);
  });

  it("gives the same bytes in another order and in another time zone", () => {
    const before = process.env.TZ;
    try {
      for (const zone of ["Pacific/Auckland", "America/Havana", "UTC"]) {
        process.env.TZ = zone;
        expect(writeZip(new Map([...FILES].reverse()), "2026-04-15")).toEqual(zip);
      }
    } finally {
      if (before === undefined) delete process.env.TZ;
      else process.env.TZ = before;
    }
    expect(writeZip(FILES, "2026-04-16")).not.toEqual(zip);
  });

  it("reads back", () => {
    expect(names(zip)).toEqual(["a.txt", "b/rates.txt"]);
    expect(readZip(zip, "x").files.get("b/rates.txt")).toEqual(FILES.get("b/rates.txt"));
  });

  it("crashes on names that leave the folder and on dates that are none", () => {
    expect(() => writeZip(new Map([["../a", bytesOf("")]]), "2026-04-15")).toThrow("leads out");
    expect(() => writeZip(FILES, "2026-02-30")).toThrow("2026-02-30");
    expect(() => writeZip(FILES, "1979-12-31")).toThrow("1979");
  });
});

describe("readZip", () => {
  it("reads another writer's archive, accents in names too", () => {
    const { files, notices } = readZip(foreign({ "peña/a.txt": "1", "empty.txt": "" }), "x.zip");
    expect([...files].map(([name, bytes]) => [name, textOf(bytes)])).toEqual([
      ["peña/a.txt", "1"],
      ["empty.txt", ""],
    ]);
    expect(notices).toEqual([]);
  });

  it.each(["../a", "a/../../b", "/a", "C:/a", "c:a", "a\\b"])("refuses the name %j", (name) => {
    const error = refusal(() => readZip(foreign({ [name]: "1" }), "x.zip"));
    expect(error.code).toBe("zip-name");
    expect(error.message).toContain(name);
  });

  it("leaves out nested archives with a notice and by-files of systems without", () => {
    const zip = foreign({ "in.zip": "PK", "a.txt": "1", "__MACOSX/._a.txt": "x", "d/.DS_Store": "x" });
    expect(names(zip)).toEqual(["a.txt"]);
    expect(readZip(zip, "x.zip").notices.map((notice) => notice.message)).toEqual([
      "in.zip is an archive inside the archive and was ignored",
    ]);
  });

  it("stops at the caps", () => {
    const zip = foreign({ a: "0".repeat(5000), b: "1" });
    expect(refusal(() => readZip(zip, "x.zip", { maxEntries: 1 })).message).toContain("2 entries");
    expect(refusal(() => readZip(zip, "x.zip", { maxBytes: 4999 })).code).toBe("zip-too-big");
    expect(readZip(zip, "x.zip", { maxBytes: 5001 }).files.size).toBe(2);
    const bomb = foreign({ bomb: "0".repeat(2 ** 22) });
    expect(refusal(() => readZip(bomb, "x.zip")).message).toContain("400 times its own size");
  });

  it("does not trust the stated size: it stops where the entry has more", () => {
    const zip = foreign({ a: "0".repeat(2 ** 20) });
    const central = zip.length - 22 - 46 - 1;
    const lying = patched(zip, central + 24, 10, 0, 0, 0);
    expect(refusal(() => readZip(lying, "x.zip")).code).toBe("zip-damaged");
  });

  it("refuses damage: cut short, a changed byte, entries that share bytes, no zip at all", () => {
    const zip = writeZip(FILES, "2026-04-15");
    expect(refusal(() => readZip(zip.slice(0, -1), "x.zip")).code).toBe("not-a-zip");
    expect(refusal(() => readZip(bytesOf("id,p\n1,2\n"), "x.zip")).code).toBe("not-a-zip");
    expect(refusal(() => readZip(patched(zip, 36, 0x40), "x.zip")).code).toBe("zip-damaged");
    const twice = foreign({ a: "same", b: "same" });
    const second = twice.length - 22 - 47;
    expect(refusal(() => readZip(patched(twice, second + 42, 0, 0, 0, 0), "x.zip")).code).toBe("zip-damaged");
  });

  it("refuses what it cannot read by name: locked entries, other methods", () => {
    const zip = foreign({ a: "1" });
    const central = zip.length - 22 - 46 - 1;
    expect(refusal(() => readZip(patched(zip, central + 8, 1), "x.zip")).message).toContain("password");
    expect(refusal(() => readZip(patched(zip, central + 10, 12), "x.zip")).message).toContain("method 12");
  });

  it("survives any single changed byte: a result or an InputError, never a crash", () => {
    const zip = writeZip(FILES, "2026-04-15");
    for (let at = 0; at < zip.length; at += 1) {
      try {
        readZip(patched(zip, at, zip[at]! ^ 0xff), "x.zip");
      } catch (error) {
        expect(error).toHaveProperty("code");
        expect(error).toHaveProperty("remedy");
      }
    }
  });
});

describe("sha256Hex", () => {
  it("gives the published digest of 'abc' (FIPS 180-4, example, from memory)", () => {
    expect(sha256Hex(bytesOf("abc"))).toBe(
      "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad",
    );
  });
});
