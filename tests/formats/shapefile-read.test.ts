// Layout: ESRI Shapefile Technical Description, July 1998. Whole foreign files are read in samples.test.ts; here each count, length and value is bent by hand.
import { describe, expect, it } from "vitest";
import { writeZip } from "../../src/formats/index.ts";
import { readShapefile, readShapefileZip } from "../support/read-layers.ts";
import { bytesOf, patched, refusal } from "./support.ts";
import { FEATURES, PARTS, part, readYard as read, without } from "./yard.ts";

const int32 = (value: number, little: boolean) => {
  const bytes = new Uint8Array(4);
  new DataView(bytes.buffer).setInt32(0, value, little);
  return [...bytes];
};
const doubles = (...values: number[]) => [...new Uint8Array(new Float64Array(values).buffer)];
const SHP = PARTS.shp;
const RECORD = 100; // record 1: header 100-107, type 108, box 112-143, parts 144, points 148, part 152, points from 156

/** A .shp of one record of any type. */
function shpOf(type: number, content: number[]): Uint8Array {
  const bytes = new Uint8Array(108 + 4 + content.length);
  const view = new DataView(bytes.buffer);
  view.setInt32(0, 9994);
  view.setInt32(24, bytes.length / 2);
  view.setInt32(28, 1000, true);
  view.setInt32(32, type, true);
  view.setInt32(100, 1);
  view.setInt32(104, (4 + content.length) / 2);
  view.setInt32(108, type, true);
  bytes.set(content, 112);
  return bytes;
}
const alone = (shp: Uint8Array) =>
  readShapefile({ stem: "yard", path: "yard.shp", shp, prj: part("prj") }, "yard.shp").features;

describe("readShapefile", () => {
  it("reads its own writing back without a notice", () => {
    const layer = read();
    expect(layer).toMatchObject({
      name: "yard",
      coordinateSystem: "EPSG:4326",
      encoding: "UTF-8",
      notices: [],
    });
    expect(layer.coordinateSystemFrom).toBe(".prj");
    expect(layer.columns).toEqual([
      { name: "RATE", kind: "number" },
      { name: "NAME", kind: "text" },
    ]);
    expect(layer.features.map((feature) => feature.properties)).toEqual(FEATURES.map((f) => f.properties));
  });

  it("drops Z and M of points and polygons, with M left out or given", () => {
    for (const [type, extra] of [
      [1, 0],
      [11, 1],
      [11, 2],
      [21, 0],
      [21, 1],
    ] as const) {
      const content = doubles(-93, 42, ...new Array<number>(extra).fill(7));
      expect(alone(shpOf(type, content))[0]?.geometry).toEqual({ kind: "point", at: [-93, 42] });
    }
    const ring = doubles(-93, 42, -93, 43, -92, 42, -93, 42);
    const flat = [
      ...doubles(-93, 42, -92, 43),
      ...int32(1, true),
      ...int32(4, true),
      ...int32(0, true),
      ...ring,
    ];
    for (const [type, extra] of [
      [5, 0],
      [15, 6],
      [15, 12],
      [25, 0],
      [25, 6],
    ] as const) {
      const [feature] = alone(shpOf(type, [...flat, ...doubles(...new Array<number>(extra).fill(7))]));
      expect(feature?.geometry?.kind).toBe("polygon");
    }
    for (const [type, extra] of [
      [5, 6],
      [15, 0],
      [15, 5],
      [25, 12],
    ] as const) {
      const bent = shpOf(type, [...flat, ...doubles(...new Array<number>(extra).fill(7))]);
      expect(refusal(() => alone(bent)).code).toBe("shapefile-damaged");
    }
  });

  it("gives one feature a point for a multipoint record, and says so", () => {
    const content = [...doubles(-93, 42, -92, 42), ...int32(2, true), ...doubles(-93, 42, -92, 42)];
    const layer = readShapefile(
      { stem: "yard", path: "yard.shp", shp: shpOf(8, content), prj: part("prj") },
      "yard.shp",
    );
    expect(layer.features.map(({ record, geometry }) => [record, geometry])).toEqual([
      [1, { kind: "point", at: [-93, 42] }],
      [1, { kind: "point", at: [-92, 42] }],
    ]);
    expect(layer.notices.map((notice) => notice.code)).toContain("multipoint");
  });

  it("reads a multipoint record of more points than a call takes arguments", () => {
    const count = 200_000;
    const points = Float64Array.from({ length: 2 * count }, (_, i) => (i % 2 === 0 ? -93 : 42));
    const head = [...doubles(-93, 42, -93, 42), ...int32(count, true)];
    const shp = shpOf(8, head.concat(Array.from(new Uint8Array(points.buffer))));
    expect(
      readShapefile({ stem: "yard", path: "yard.shp", shp, prj: part("prj") }, "yard.shp").features,
    ).toHaveLength(count);
  });

  it.each([
    ["not-a-shapefile", patched(SHP, 0, 1), "yard.shp"],
    ["not-a-shapefile", SHP.slice(0, 99), "yard.shp"],
    ["file-cut-short", SHP.slice(0, -4), "says it has"],
    ["shape-type-not-read", patched(SHP, 32, 31), "type 31"],
    ["shape-type-not-read", patched(SHP, 32, 10), "type 10"],
    ["shapefile-damaged", patched(SHP, RECORD + 3, 9), "record 1 carries the number 9"],
    ["shapefile-damaged", patched(SHP, RECORD + 4, ...int32(2 ** 30 - 1, false)), "record 1 reaches beyond"],
    ["shapefile-damaged", patched(SHP, RECORD + 4, ...int32(0, false)), "record 1"],
    ["shapefile-damaged", patched(SHP, 108, 3), "record 1 is of type 3, not 5"],
    ["shapefile-damaged", patched(SHP, 148, ...int32(2 ** 31 - 1, true)), "record 1 states counts"],
    ["shapefile-damaged", patched(SHP, 144, ...int32(-1, true)), "record 1 states counts"],
    ["shapefile-damaged", patched(SHP, 152, ...int32(2, true)), "parts of record 1"],
    ["bad-coordinate", patched(SHP, 156, ...doubles(Number.NaN)), "record 1: NaN"],
    ["close-ring", patched(SHP, 156, ...doubles(-93.5)), "record 1: a ring is not closed"],
  ])("refuses %s and says where", (code, shp, where) => {
    const error = refusal(() => read({ shp }));
    expect(error.code).toBe(code);
    expect(error.message).toContain("yard.shp");
    expect(error.message).toContain(where);
  });

  it("refuses an index of another shapefile, and rows that no longer belong to the shapes", () => {
    expect(refusal(() => read({ shx: patched(part("shx"), 32, 3) })).message).toContain("shape types differ");
    expect(refusal(() => read({ shx: patched(part("shx"), 107, 1) })).message).toContain(
      "length of record 1",
    );
    expect(refusal(() => read({ shx: patched(part("shx"), 100, 1) })).message).toContain("outside the file");
    const error = refusal(() => read({ dbf: patched(part("dbf"), 4, 1) }));
    expect([error.code, error.message]).toEqual(["records-unlike-rows", expect.stringContaining("2 shapes")]);
    expect(refusal(() => read({ dbf: patched(part("dbf"), 4, 3) })).message).toContain("3 rows and has 2");
  });

  it("reads records where the index says they are", () => {
    const shx = part("shx").slice();
    const [first, second] = [shx.slice(100, 108), shx.slice(108, 116)];
    const shp = patched(patched(SHP, 103, 2), 223, 1); // record 2 stands before record 1
    shx.set(second, 100);
    shx.set(first, 108);
    const xs = read({ shp, shx }).features.map(({ geometry }) =>
      geometry?.kind === "polygon" ? Math.min(...geometry.polygons[0]![0]!.map(([x]) => x)) : null,
    );
    expect(xs).toEqual([-92, -93]);
  });

  it("names what is missing: attributes, index, coordinate system", () => {
    expect(without("dbf", "cpg").notices.map((notice) => notice.code)).toEqual(["no-attributes"]);
    expect(without("shx").notices.map((notice) => notice.code)).toEqual(["no-index"]);
    const error = refusal(() => without("prj"));
    expect([error.code, error.message]).toEqual([
      "coordinate-system",
      expect.stringContaining("no yard.prj"),
    ]);
    expect(error.remedy).toContain("EPSG:4326");
  });

  it("asks for the system of metres without a .prj, swapped degrees, and systems it does not know", () => {
    const point = (x: number, y: number) => shpOf(1, doubles(x, y));
    const bare = (shp: Uint8Array) => () =>
      readShapefile({ stem: "yard", path: "yard.shp", shp }, "yard.shp");
    const metres = refusal(bare(point(448000, 4647000)));
    expect(metres.code).toBe("coordinate-system");
    expect(metres.message).toContain("no yard.prj beside it");
    expect(metres.message).toContain("448000, 4647000");
    expect(metres.remedy).not.toContain("EPSG:");
    expect(refusal(bare(point(42, -93))).code).toBe("swap-lon-lat");
    expect(refusal(() => alone(point(448000, 4647000))).message).toContain("not degrees (448000, 4647000)");
    const cut = bytesOf('PROJCS["WGS_1984_UTM_Zone_15N",GEOGCS["GCS_WGS_1984"]]');
    expect(refusal(() => read({ prj: cut }))).toMatchObject({ code: "coordinate-system" });
    expect(refusal(() => read({ prj: cut })).message).toContain("WGS_1984_UTM_Zone_15N of yard.prj");
    expect(refusal(() => read({ prj: bytesOf("metres, I think") })).code).toBe("coordinate-system");
  });
});

describe("readShapefileZip", () => {
  it("finds none in an archive without one, and refuses one whose parts differ by letter case alone", () => {
    const zip = (files: [string, Uint8Array][]) => writeZip(new Map(files), "2026-04-15");
    expect(readShapefileZip(zip([["a.txt", bytesOf("1")]]), "a.zip")).toEqual([]);
    const both = zip([
      ["a.shp", SHP],
      ["A.SHP", SHP],
    ]);
    expect(refusal(() => readShapefileZip(both, "a.zip")).code).toBe("repeated-part");
  });

  it("survives any changed byte: a layer or an InputError, never a crash", () => {
    const parts = Object.entries(PARTS).filter(([, value]) => value instanceof Uint8Array) as [
      string,
      Uint8Array,
    ][];
    for (const [ending, bytes] of parts) {
      for (let at = 0; at < bytes.length; at += 1) {
        for (const value of [0, 0x7f, 0xff]) {
          try {
            read({ [ending]: patched(bytes, at, value) });
          } catch (error) {
            expect(error).toHaveProperty("remedy");
          }
        }
      }
    }
  });
});
