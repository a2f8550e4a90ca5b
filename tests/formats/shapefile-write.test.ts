// Header facts: ESRI Shapefile Technical Description, July 1998, as checked against the bytes of two independent open
// writers; dBASE III file structure (textfiles.com programming/FORMATS/dbasefil.inf).
import { describe, expect, it } from "vitest";
import { type DbfColumn, type Feature, writeShapefile } from "../../src/formats/index.ts";
import type { Polygon } from "../../src/geo/index.ts";
import { frozen, refusal, textOf } from "./support.ts";

const SQUARE: Polygon = [
  [
    [-93, 42],
    [-92, 42],
    [-92, 43],
    [-93, 43],
  ],
  [
    [-92.8, 42.2],
    [-92.7, 42.4],
    [-92.6, 42.2],
  ],
];
const TRIANGLE: Polygon = [
  [
    [-91, 42],
    [-90, 42],
    [-91, 44],
  ],
];
const COLUMNS: DbfColumn[] = [
  { name: "RATE_LBAC", type: "N", width: 10, decimals: 2 },
  { name: "PRODUCT", type: "C", width: 8 },
];
const feature = (record: number, polygon: Polygon, properties: Feature["properties"]): Feature => ({
  record,
  geometry: { kind: "polygon", polygons: [polygon] },
  properties,
});
const FEATURES = frozen([
  feature(1, SQUARE, { RATE_LBAC: 120.005, PRODUCT: "11-52-0" }),
  feature(2, TRIANGLE, { RATE_LBAC: 0, PRODUCT: null }),
]);
const write = (features: readonly Feature[], columns = COLUMNS) =>
  writeShapefile({ stem: "yard", features, columns, date: "2026-04-15" });
const viewOf = (bytes: Uint8Array | undefined) => new DataView(bytes!.buffer);

describe("writeShapefile", () => {
  const files = write(FEATURES);
  const shp = viewOf(files.get("yard.shp"));
  const shx = viewOf(files.get("yard.shx"));
  const dbf = files.get("yard.dbf")!;

  it("gives the five parts in order", () => {
    expect([...files.keys()]).toEqual(["yard.shp", "yard.shx", "yard.dbf", "yard.prj", "yard.cpg"]);
    expect(textOf(files.get("yard.cpg")!)).toBe("UTF-8");
    expect(textOf(files.get("yard.prj")!)).toBe(
      'GEOGCS["GCS_WGS_1984",DATUM["D_WGS_1984",SPHEROID["WGS_1984",6378137.0,298.257223563]],PRIMEM["Greenwich",0.0],UNIT["Degree",0.0174532925199433]]',
    );
  });

  it("writes both 100-byte headers: code, length in 16-bit words, version, type, box, no Z or M", () => {
    // record 1: 44 + 4 x 2 parts + 16 x 9 points = 196 bytes; record 2: 44 + 4 + 16 x 4 = 112 bytes
    for (const [view, bytes] of [
      [shp, 100 + 8 + 196 + 8 + 112],
      [shx, 100 + 8 * 2],
    ] as const) {
      expect(view.byteLength).toBe(bytes);
      expect(view.getInt32(0)).toBe(9994);
      expect([4, 8, 12, 16, 20].map((at) => view.getInt32(at))).toEqual([0, 0, 0, 0, 0]);
      expect(view.getInt32(24)).toBe(bytes / 2);
      expect(view.getInt32(28, true)).toBe(1000);
      expect(view.getInt32(32, true)).toBe(5);
      expect([36, 44, 52, 60, 68, 76, 84, 92].map((at) => view.getFloat64(at, true))).toEqual([
        -93, 42, -90, 44, 0, 0, 0, 0,
      ]);
    }
  });

  it("indexes each record by offset and content length in words", () => {
    expect([100, 104, 108, 112].map((at) => shx.getInt32(at))).toEqual([50, 98, 152, 56]);
    expect([shp.getInt32(100), shp.getInt32(104)]).toEqual([1, 98]);
    expect([shp.getInt32(304), shp.getInt32(308)]).toEqual([2, 56]);
  });

  it("writes outer rings clockwise, holes counter-clockwise, closed, first vertex first", () => {
    expect(shp.getInt32(108, true)).toBe(5);
    expect([112, 120, 128, 136].map((at) => shp.getFloat64(at, true))).toEqual([-93, 42, -92, 43]);
    expect([144, 148, 152, 156].map((at) => shp.getInt32(at, true))).toEqual([2, 9, 0, 5]);
    const points = Array.from({ length: 9 }, (_, i) => [
      shp.getFloat64(160 + 16 * i, true),
      shp.getFloat64(168 + 16 * i, true),
    ]);
    expect(points.slice(0, 5)).toEqual([
      [-93, 42],
      [-93, 43],
      [-92, 43],
      [-92, 42],
      [-93, 42],
    ]);
    expect(points.slice(5)).toEqual([
      [-92.8, 42.2],
      [-92.6, 42.2],
      [-92.7, 42.4],
      [-92.8, 42.2],
    ]);
  });

  it("writes the same bytes whichever way the rings came", () => {
    const turned = FEATURES.map((f) => {
      const polygon = f.geometry?.kind === "polygon" ? f.geometry.polygons[0]! : [];
      return { ...f, geometry: { kind: "polygon" as const, polygons: [polygon.map(backward)] } };
    });
    expect(write(turned)).toEqual(files);
  });

  it("writes the dbf header: version, date, counts, columns", () => {
    const view = viewOf(dbf);
    expect([...dbf.subarray(0, 4)]).toEqual([3, 126, 4, 15]);
    expect(view.getUint32(4, true)).toBe(2);
    expect(view.getUint16(8, true)).toBe(33 + 2 * 32);
    expect(view.getUint16(10, true)).toBe(1 + 10 + 8);
    expect(textOf(dbf.subarray(32, 43))).toBe("RATE_LBAC\0\0");
    expect([dbf[43], dbf[48], dbf[49]]).toEqual(["N".charCodeAt(0), 10, 2]);
    expect([dbf[75], dbf[80], dbf[81]]).toEqual(["C".charCodeAt(0), 8, 0]);
    expect(dbf[96]).toBe(0x0d);
    expect(dbf.length).toBe(97 + 2 * 19 + 1);
    expect(dbf.at(-1)).toBe(0x1a);
  });

  it("writes numbers right, texts left, rounded to the column's decimals", () => {
    expect(textOf(dbf.subarray(97, -1))).toBe("     120.0011-52-0        0.00        ");
  });

  it("never cuts: what does not fit is refused by record, column and value", () => {
    const one = (properties: Feature["properties"]) => () =>
      write([FEATURES[0]!, feature(2, TRIANGLE, properties)]);
    for (const rate of [12345678.9, -1234567.8, 1e21]) {
      const error = refusal(one({ RATE_LBAC: rate, PRODUCT: "" }));
      expect(error.code).toBe("value-too-wide");
      expect(error.message).toContain(`yard.dbf, record 2: RATE_LBAC ${rate}`);
    }
    expect(one({ RATE_LBAC: 1234567.89, PRODUCT: "" })).not.toThrow();
    expect(refusal(one({ RATE_LBAC: 1, PRODUCT: "123456789" })).message).toContain('PRODUCT "123456789"');
    expect(refusal(one({ RATE_LBAC: 1, PRODUCT: "Peña" })).code).toBe("text-not-ascii");
  });

  it("crashes on a rate that is missing or no number, and on a shape that is not one polygon", () => {
    for (const rate of [null, Number.NaN, Number.POSITIVE_INFINITY, "120"]) {
      expect(() => write([feature(1, TRIANGLE, { RATE_LBAC: rate, PRODUCT: "" })])).toThrow(
        "record 1: RATE_LBAC",
      );
    }
    expect(() => write([feature(1, TRIANGLE, { PRODUCT: "" })])).toThrow("RATE_LBAC is undefined");
    expect(() => write([])).toThrow("at least one polygon");
    const properties = { RATE_LBAC: 1, PRODUCT: "" };
    const two = { kind: "polygon" as const, polygons: [TRIANGLE, SQUARE] };
    expect(() => write([{ record: 7, geometry: two, properties }])).toThrow("feature 7 is not one polygon");
    expect(() => write([{ record: 7, geometry: null, properties }])).toThrow("feature 7");
    expect(() =>
      write([
        feature(
          1,
          [
            [
              [0, 0],
              [1, 1],
              [2, 2],
            ],
          ],
          properties,
        ),
      ]),
    ).toThrow("without area");
    expect(() =>
      write([
        feature(
          1,
          [
            [
              [500000, 0],
              [500001, 1],
              [500000, 2],
            ],
          ],
          properties,
        ),
      ]),
    ).toThrow("500000, 0");
  });

  it("crashes on columns that other software would rename or cut", () => {
    const columns = (...names: string[]) => names.map((name): DbfColumn => ({ name, type: "C", width: 4 }));
    for (const names of [["RATE_LB_ACRE"], ["1ST"], ["A B"], ["RATE", "Rate"], [""], []]) {
      expect(() => write(FEATURES, columns(...names))).toThrow();
    }
    expect(() => write(FEATURES, [{ name: "A", type: "C", width: 255 }])).toThrow("255 wide");
    expect(() => write(FEATURES, [{ name: "A", type: "N", width: 4, decimals: 3 }])).toThrow("3 decimals");
  });
});

function backward<T>(ring: readonly T[]): T[] {
  return [ring[0]!, ...ring.slice(1).reverse()];
}
