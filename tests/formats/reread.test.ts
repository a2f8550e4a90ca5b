// What a written file must stand before it is delivered; every planted fault must be found.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  type Feature,
  rereadGeoJson,
  rereadShapefile,
  shapefilesIn,
  writeGeoJson,
  writeShapefile,
} from "../../src/formats/index.ts";
import type { Polygon } from "../../src/geo/index.ts";
import { readShapefile } from "../support/read-layers.ts";
import { bytesOf, comparable, patched, polygonsOf, rejection, textOf } from "./support.ts";

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
const featuresOf = (polygons: readonly Polygon[]) =>
  polygons.map(
    (polygon, i): Feature => ({
      record: i + 1,
      geometry: { kind: "polygon", polygons: [polygon] },
      properties: { RATE_LBAC: 120.25 - i, PRODUCT: `bin ${i}` },
    }),
  );
const shapefileOf = (features: readonly Feature[]) =>
  writeShapefile({
    stem: "yard",
    features,
    columns: [
      { name: "RATE_LBAC", type: "N", width: 10, decimals: 2 },
      { name: "PRODUCT", type: "C", width: 20 },
    ],
    date: "2026-04-15",
  });
const FEATURES = featuresOf([SQUARE, TRIANGLE]);
const FILES = shapefileOf(FEATURES);
const alike = (features: readonly Feature[]) =>
  features.map((feature) => ({ ...feature, geometry: comparable(polygonsOf(feature)) }));

describe("rereadShapefile", () => {
  const changed = (ending: string, bytes: Uint8Array) =>
    new Map<string, Uint8Array>([...FILES, [`yard.${ending}`, bytes]]);
  const part = (ending: string) => FILES.get(`yard.${ending}`)!;

  it("finds polygons and attributes as they were given", async () => {
    expect(alike(await rereadShapefile(FILES))).toEqual(alike(FEATURES));
  });

  it("agrees with our own reader, whatever was written", async () => {
    const rounded = (value: number) => Math.round(value * 1e9) / 1e9 + 0;
    const coordinate = fc.double({ min: -80, max: 80, noNaN: true });
    const cell = fc.double({ min: 1e-7, max: 1, noNaN: true });
    const triangle = fc.tuple(coordinate, coordinate, cell).map(([x, y, size]): Polygon => {
      const [west, south, east, north] = [x, y, x + size, y + size].map(rounded) as [
        number,
        number,
        number,
        number,
      ];
      return [
        [
          [west, south],
          [east, south],
          [west, north],
        ],
      ];
    });
    await fc.assert(
      fc.asyncProperty(fc.array(triangle, { minLength: 1, maxLength: 20 }), async (polygons) => {
        const features = featuresOf(polygons);
        const files = shapefileOf(features);
        const own = readShapefile(shapefilesIn(files, "yard")[0]!, "yard.shp").features;
        expect(alike(await rereadShapefile(files))).toEqual(alike(features));
        expect(alike(own)).toEqual(alike(features));
      }),
      { seed: 20260415, numRuns: 100 },
    );
  });

  it.each([
    ["a .shp cut short", changed("shp", part("shp").slice(0, -8)), "disagree"],
    [
      "an index of one record more",
      changed("shx", new Uint8Array([...part("shx"), ...new Uint8Array(8)])),
      "disagree",
    ],
    ["one row fewer", changed("dbf", patched(part("dbf"), 4, 1)), "disagree"],
    [
      "a row marked deleted",
      changed("dbf", patched(part("dbf"), 97, 0x2a)),
      "record 1: the row is marked deleted",
    ],
    [
      "a blank rate",
      changed("dbf", patched(part("dbf"), 98, ...bytesOf(" ".repeat(10)))),
      "RATE_LBAC is NaN",
    ],
    ["metres", changed("prj", bytesOf("+proj=utm +zone=15 +datum=WGS84 +units=m")), "not WGS84"],
    ["a null shape", changed("shp", patched(part("shp"), 108, 0)), "record 1: no shape"],
    ["a place that is none", changed("shp", patched(part("shp"), 166, 0xf0, 0x7f)), "record 1"],
    ["a missing part", new Map([...FILES].slice(0, 4)), "a part is missing"],
    ["two shapefiles", new Map([...FILES, ["b.shp", part("shp")]]), "not exactly one"],
  ])("refuses %s", async (_, files, message) => {
    const error = await rejection(() => rereadShapefile(files));
    expect(error.code).toBe("read-back");
    expect(error.message).toContain(message);
  });

  it("refuses a ring that runs the wrong way, though the library repairs it", async () => {
    const shp = part("shp").slice();
    const at = 100 + 8 + 196 + 8 + 48; // the four points of record 2
    const points = [0, 1, 2, 3].map((i) => shp.slice(at + 16 * i, at + 16 * i + 16));
    points.reverse().forEach((point, i) => {
      shp.set(point, at + 16 * i);
    });
    const error = await rejection(() => rereadShapefile(changed("shp", shp)));
    expect(error.message).toBe("yard.shp, record 2: ring 1 runs the wrong way");
  });
});

describe("rereadGeoJson", () => {
  const bytes = writeGeoJson(FEATURES);
  const changed = (from: string | RegExp, to: string) => bytesOf(textOf(bytes).replace(from, to));

  it("finds polygons and attributes as they were given", async () => {
    expect(alike(await rereadGeoJson(bytes, "yard.geojson"))).toEqual(alike(FEATURES));
  });

  it.each([
    ["a file cut short", bytes.slice(0, -3), "JSON"],
    ["a byte-order mark", bytesOf(`\ufeff${textOf(bytes)}`), "JSON"],
    ["no features", bytesOf('{"type":"FeatureCollection","features":[]}'), "no features"],
    ["a feature without properties", changed('"properties"', '"props"'), "properties"],
    ["NaN", changed("-93,42", "NaN,42"), "JSON"],
    ["text for a number", changed("[-93,42]", '["-93",42]'), "numbers"],
    ["an unclosed ring", changed("-91,42]]]", "-91,42.5]]]"), "first and last"],
    ["a latitude that is none", changed("-91,44", "-91,94"), "feature 2: -91, 94"],
    ["no shape", changed(/"geometry":.*\}\}/, '"geometry":null}'), "feature 1: no shape"],
    [
      "a ring that runs the wrong way",
      changed("[-90,42],[-91,44]", "[-91,44],[-90,42]"),
      "feature 2: ring 1",
    ],
  ])("refuses %s", async (_, broken, message) => {
    const error = await rejection(() => rereadGeoJson(broken, "yard.geojson"));
    expect(error.code).toBe("read-back");
    expect(error.message).toContain("yard.geojson");
    expect(error.message).toContain(message);
  });
});
