// RFC 7946, sections named beside the checks.
import { describe, expect, it } from "vitest";
import { readGeoJson } from "../support/read-layers.ts";
import { bytesOf, comparable, polygonsOf, refusal } from "./support.ts";

const read = (value: unknown) => readGeoJson(bytesOf(JSON.stringify(value)), "maps/yard.geojson");
const polygon = (coordinates: unknown, properties: unknown = {}) => ({
  type: "Feature",
  properties,
  geometry: { type: "Polygon", coordinates },
});
const collection = (...features: unknown[]) => ({ type: "FeatureCollection", features });
const SQUARE = [
  [-93, 42],
  [-92, 42],
  [-92, 43],
  [-93, 43],
  [-93, 42],
]; // prettier as one line

describe("readGeoJson", () => {
  it("reads a collection: open rings in the engine's direction, properties, columns", () => {
    const hole = [
      [-92.8, 42.2],
      [-92.6, 42.2],
      [-92.6, 42.4],
      [-92.8, 42.2],
    ];
    const layer = read(collection(polygon([SQUARE, hole], { zone: 1, name: "a" }), polygon([SQUARE], null)));
    expect(layer).toMatchObject({
      name: "yard",
      coordinateSystem: "OGC:CRS84",
      coordinateSystemFrom: "standard",
    });
    expect(layer.columns).toEqual([
      { name: "zone", kind: "number" },
      { name: "name", kind: "text" },
    ]);
    expect(comparable(polygonsOf(layer.features[0]))).toEqual([
      [
        SQUARE.slice(0, 4),
        [
          [-92.8, 42.2],
          [-92.6, 42.4],
          [-92.6, 42.2],
        ],
      ],
    ]);
    expect(layer.features.map(({ record, properties }) => [record, properties])).toEqual([
      [1, { zone: 1, name: "a" }],
      [2, {}],
    ]);
    expect(layer.notices).toEqual([]);
  });

  it("reads a Feature and a bare geometry; null and empty geometries stay null (3.1, 3.2)", () => {
    expect(read(polygon([SQUARE])).features).toHaveLength(1);
    expect(read({ type: "Point", coordinates: [-93, 42, 300] }).features[0]?.geometry).toEqual({
      kind: "point",
      at: [-93, 42],
    });
    const nulls = collection({ type: "Feature", properties: { rate: 55 }, geometry: null }, polygon([]));
    expect(read(nulls).features.map((f) => f.geometry)).toEqual([null, null]);
  });

  it("gives one feature a point for a multipoint, and names what it leaves out of a collection", () => {
    const points = {
      type: "MultiPoint",
      coordinates: [
        [-93, 42],
        [-92, 42],
      ],
    };
    expect(read(points).features.map((f) => f.record)).toEqual([1, 1]);
    const line = {
      type: "LineString",
      coordinates: [
        [-93, 42],
        [-92, 42],
      ],
    };
    const mixed = { type: "GeometryCollection", geometries: [points, line, polygon([SQUARE]).geometry] };
    expect(read(mixed).notices.map((notice) => notice.message)).toEqual([
      "a line and 2 points were ignored; the polygons of this feature are read",
    ]);
  });

  it("reads a multipoint of more points than a call takes arguments", () => {
    const coordinates = Array.from({ length: 200_000 }, (_, i) => [-93 + i * 1e-6, 42]);
    expect(read({ type: "MultiPoint", coordinates }).features).toHaveLength(200_000);
  });

  it("keeps a key named __proto__ as a plain property", () => {
    const text = `{"type":"Feature","properties":{"__proto__":5},"geometry":null}`;
    const layer = readGeoJson(bytesOf(text), "x.geojson");
    expect(Object.entries(layer.features[0]!.properties)).toEqual([["__proto__", 5]]);
  });

  it("takes a number beyond all numbers for no value, and says so", () => {
    const text = `{"type":"Feature","properties":{"rate":1e999,"n":-1e999},"geometry":null}`;
    const layer = readGeoJson(bytesOf(text), "x.geojson");
    expect(layer.features[0]!.properties).toEqual({ rate: null, n: null });
    expect(layer.notices.map(({ code, where }) => [code, where])).toEqual([
      ["unreadable-value", "x.geojson, feature 1"],
      ["unreadable-value", "x.geojson, feature 1"],
    ]);
  });

  it("reads one feature a line and names the line that is no JSON (common practice)", () => {
    const line = JSON.stringify(polygon([SQUARE]));
    expect(readGeoJson(bytesOf(`${line}\n\n${line}\n`), "x.geojsonl").features).toHaveLength(2);
    const error = refusal(() => readGeoJson(bytesOf(`${line}\n{"type":\n`), "x.geojsonl"));
    expect([error.code, error.message]).toEqual(["not-json", expect.stringContaining("x.geojsonl, line 2")]);
  });

  it.each([
    ["no-shapes", collection(), "no shapes in this file"],
    ["not-geojson", collection(polygon([SQUARE]), { type: "Fun" }), "feature 2"],
    ["not-geojson", { type: "Square", coordinates: [1] }, "Square"],
    ["not-geojson", { type: "FeatureCollection" }, "list of features"],
    ["not-geojson", collection({ ...polygon([SQUARE]), properties: [1] }), "properties"],
    ["bad-coordinate", collection(polygon([SQUARE]), polygon([[[-93, "42"], ...SQUARE]])), "feature 2"],
    ["bad-coordinate", collection(polygon([[[-93, null], ...SQUARE]])), "feature 1"],
    ["close-ring", collection(polygon([SQUARE.slice(0, 4)])), "feature 1"],
    [
      "ring-too-short",
      collection(
        polygon([
          [
            [1, 1],
            [2, 2],
            [1, 1],
          ],
        ]),
      ),
      "3 positions",
    ],
    ["line-too-short", { type: "LineString", coordinates: [[1, 1]] }, "1 positions"],
    ["swap-lon-lat", { type: "Point", coordinates: [42, -93.6] }, "latitude -93.6"],
    ["coordinate-system", { type: "Point", coordinates: [-10422579, 5156977] }, "-10422579"],
    ["coordinate-system", { type: "Point", coordinates: [266.4, 42] }, "266.4"],
    [
      "coordinate-system",
      { ...polygon([SQUARE]), crs: { type: "name", properties: { name: "EPSG:26915" } } },
      "EPSG:26915 is stated, but numbers such as -93, 42 look like degrees",
    ],
    [
      "coordinate-system",
      { ...polygon([SQUARE]), crs: { type: "name", properties: { name: "EPSG:31467" } } },
      "EPSG:31467 of the crs member is not known",
    ],
  ])("refuses %s and says where", (code, value, where) => {
    const error = refusal(() => read(value));
    expect(error.code).toBe(code);
    expect(error.message).toContain("maps/yard.geojson");
    expect(error.message).toContain(where);
  });

  it("refuses a file cut short, NaN, and nesting that would overflow, before parsing it", () => {
    const whole = JSON.stringify(collection(polygon([SQUARE])));
    expect(refusal(() => readGeoJson(bytesOf(whole.slice(0, -3)), "x")).code).toBe("not-json");
    expect(refusal(() => readGeoJson(bytesOf(whole.replace("42", "NaN")), "x")).code).toBe("not-json");
    const deep = `{"type":"Polygon","coordinates":${"[".repeat(100_000)}`;
    expect(refusal(() => readGeoJson(bytesOf(deep), "x")).code).toBe("too-deep");
    expect(read(polygon([SQUARE], { note: "[".repeat(300) })).features).toHaveLength(1);
  });
});
