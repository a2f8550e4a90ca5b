// dBASE III file structure (textfiles.com programming/FORMATS/dbasefil.inf); encodings: GDAL, ESRI Shapefile driver page.
import { describe, expect, it } from "vitest";
import type { ShapefileParts } from "../../src/formats/index.ts";
import { readShapefile } from "../support/read-layers.ts";
import { bytesOf, patched, refusal } from "./support.ts";
import { PARTS, part, readYard as read, without } from "./yard.ts";

const DBF_ROWS = 97;
const text = (value: string) => [...bytesOf(value)];

describe("attributes of a shapefile", () => {
  const row = (number: string, name: string) => ({
    dbf: patched(part("dbf"), DBF_ROWS + 1, ...text(number.padStart(10) + name.padEnd(8))),
  });
  const first = (changed: Partial<ShapefileParts>) => read(changed).features[0]?.properties;

  it("keeps no value apart from 0", () => {
    for (const blank of ["", "**********", "\0\0\0\0\0\0\0\0\0\0"])
      expect(first(row(blank, ""))?.RATE).toBeNull();
    for (const zero of ["0", "0.00", "-0"]) expect(first(row(zero, ""))?.RATE).toBeCloseTo(0, 15);
    expect(first(row("1", "  a b  "))?.NAME).toBe("a b");
    expect(first(row("1", ""))?.NAME).toBeNull();
  });

  it("names a number it cannot read and gives no value", () => {
    const layer = read(row("90,5", "a"));
    expect(layer.features[0]?.properties.RATE).toBeNull();
    expect(layer.notices).toEqual([
      {
        code: "unreadable-value",
        message: 'RATE is "90,5", which cannot be read; it counts as no value',
        where: "yard.dbf, record 1",
      },
    ]);
  });

  it.each([
    ["D", "20260415", "2026-04-15", "date"],
    ["D", "00000000", null, "date"],
    ["D", "20260230", null, "date"],
    ["L", "T", true, "boolean"],
    ["L", "n", false, "boolean"],
    ["L", "?", null, "boolean"],
    ["F", "1.5e2", 150, "number"],
  ])("reads a column of type %s: %j", (type, cell, value, kind) => {
    const dbf = patched(patched(part("dbf"), 75, type.charCodeAt(0)), DBF_ROWS + 11, ...text(cell.padEnd(8)));
    const layer = read({ dbf });
    expect(layer.columns[1]).toEqual({ name: "NAME", kind });
    expect(layer.features[0]?.properties.NAME).toBe(value);
  });

  it("leaves out columns of other types and renames repeated ones, each with a notice", () => {
    const memo = read({ dbf: patched(part("dbf"), 75, "M".charCodeAt(0)) });
    expect(memo.columns.map((column) => column.name)).toEqual(["RATE"]);
    expect(memo.notices.map((notice) => notice.code)).toEqual(["column-not-read"]);
    const twice = read({ dbf: patched(part("dbf"), 64, ...text("RATE")) });
    expect(twice.columns.map((column) => column.name)).toEqual(["RATE", "RATE_2"]);
    expect(twice.notices.map((notice) => notice.code)).toEqual(["repeated-column"]);
  });

  it("decides the encoding by .cpg, byte 29, then by looking", () => {
    const latin = { dbf: patched(row("1", "Pe").dbf, DBF_ROWS + 13, 0xf1, 0x61) };
    const utf8 = { dbf: patched(row("1", "Pe").dbf, DBF_ROWS + 13, 0xc3, 0xb1, 0x61) };
    const name = (changed: Partial<ShapefileParts>) => first(changed)?.NAME;
    expect(name({ ...utf8 })).toBe("Peña");
    expect(name({ ...latin, cpg: bytesOf("ISO-8859-1") })).toBe("Peña");
    expect(name({ dbf: patched(row("1", "Pe").dbf, DBF_ROWS + 13, 0xa4, 0x61), cpg: bytesOf("850") })).toBe(
      "Peña",
    );
    expect(without("cpg").encoding).toBe("UTF-8");
    expect(read({ ...latin }).notices.map((notice) => notice.code)).toEqual(["encoding-unlike-stated"]);
    expect(read({ ...latin, cpg: bytesOf("Klingon") }).notices.map((n) => n.code)).toEqual([
      "encoding-unknown",
    ]);
    const { cpg: _, ...noCpg } = PARTS;
    const byDriver = { ...noCpg, dbf: patched(patched(latin.dbf, 29, 2), DBF_ROWS + 13, 0xa4) };
    expect(readShapefile(byDriver, "yard.shp")).toMatchObject({ encoding: "IBM850" });
    expect(readShapefile({ ...noCpg, ...latin }, "yard.shp")).toMatchObject({ encoding: "windows-1252" });
  });

  it("refuses a table that does not fit its header", () => {
    for (const dbf of [part("dbf").slice(0, 20), patched(part("dbf"), 10, 2), patched(part("dbf"), 96, 0)]) {
      expect(refusal(() => read({ dbf })).code).toBe("not-a-dbf");
    }
  });
});
