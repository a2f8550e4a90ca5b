// RFC 7946, sections named beside the checks.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { type Feature, writeGeoJson } from "../../src/formats/index.ts";
import type { MultiPolygon } from "../../src/geo/index.ts";
import { readGeoJson } from "../support/read-layers.ts";
import { frozen, textOf } from "./support.ts";

const feature = (polygons: MultiPolygon, properties: Feature["properties"] = {}): Feature =>
  frozen({
    record: 1,
    geometry: { kind: "polygon", polygons },
    properties,
  });

describe("writeGeoJson", () => {
  it("closes rings, turns outer rings counter-clockwise and holes clockwise (3.1.6)", () => {
    const text = textOf(
      writeGeoJson([
        feature([
          [
            [
              [0, 0],
              [0, 1],
              [1, 0],
            ],
            [
              [0.1, 0.1],
              [0.2, 0.1],
              [0.1, 0.2],
            ],
          ],
        ]),
      ]),
    );
    expect(text).toContain("[[[0,0],[1,0],[0,1],[0,0]],[[0.1,0.1],[0.1,0.2],[0.2,0.1],[0.1,0.1]]]");
    expect(text).not.toContain("bbox");
  });

  it("writes at most nine decimals, in the shortest form, and the asked number for boundaries", () => {
    const triangle: MultiPolygon = [
      [
        [
          [-93.1234567891, 42.1],
          [-93, 42.1],
          [-93, 42.30000000049],
        ],
      ],
    ];
    expect(textOf(writeGeoJson([feature(triangle)]))).toContain(
      "[[[-93.123456789,42.1],[-93,42.1],[-93,42.3]",
    );
  });

  it("writes the properties in their own order", () => {
    const features = [
      feature(
        [
          [
            [
              [0, 0],
              [1, 0],
              [0, 1],
            ],
          ],
        ],
        { b: 1, a: "x", c: null },
      ),
    ];
    expect(textOf(writeGeoJson(features))).toContain('"properties":{"b":1,"a":"x","c":null}');
  });

  it("writes points, lines, several polygons and null", () => {
    const geometries: Feature["geometry"][] = [
      { kind: "point", at: [-93, 42] },
      {
        kind: "line",
        parts: [
          [
            [-93, 42],
            [-92, 42],
          ],
        ],
      },
      {
        kind: "line",
        parts: [
          [
            [-93, 42],
            [-92, 42],
          ],
          [
            [-91, 42],
            [-90, 42],
          ],
        ],
      },
      {
        kind: "polygon",
        polygons: [
          [
            [
              [0, 0],
              [1, 0],
              [0, 1],
            ],
          ],
          [
            [
              [2, 0],
              [3, 0],
              [2, 1],
            ],
          ],
        ],
      },
      null,
    ];
    const features = geometries.map(
      (geometry, i): Feature => ({ record: i + 1, geometry, properties: { i } }),
    );
    const bytes = writeGeoJson(features);
    expect(readGeoJson(bytes, "x.geojson").features).toEqual(features);
  });

  it("crashes on what no file may hold", () => {
    expect(() =>
      writeGeoJson([
        feature([
          [
            [
              [0, 0],
              [1, 0],
              [0, 91],
            ],
          ],
        ]),
      ]),
    ).toThrow("no longitude and latitude");
    expect(() =>
      writeGeoJson([
        feature([
          [
            [
              [0, 0],
              [1, 0],
              [Number.NaN, 1],
            ],
          ],
        ]),
      ]),
    ).toThrow("no longitude");
    expect(() =>
      writeGeoJson([
        feature([
          [
            [
              [0, 0],
              [1, 1],
              [2, 2],
            ],
          ],
        ]),
      ]),
    ).toThrow("without area");
    expect(() =>
      writeGeoJson([
        feature(
          [
            [
              [
                [0, 0],
                [1, 0],
                [0, 1],
              ],
            ],
          ],
          { r: Number.NaN },
        ),
      ]),
    ).toThrow("r is NaN");
  });

  it("reads back what it wrote, to the last digit of nine", () => {
    const rounded = (value: number) => Math.round(value * 1e9) / 1e9 + 0; // + 0: no negative zero
    const triangle = fc
      .tuple(
        fc.double({ min: -179, max: 178, noNaN: true }),
        fc.double({ min: -89, max: 88, noNaN: true }),
        fc.double({ min: 1e-8, max: 1, noNaN: true }),
      )
      .map(([x, y, size]): MultiPolygon => {
        const [west, south, east, north] = [x, y, x + size, y + size].map(rounded) as [
          number,
          number,
          number,
          number,
        ];
        return [
          [
            [
              [west, south],
              [east, south],
              [west, north],
            ],
          ],
        ];
      });
    fc.assert(
      fc.property(triangle, fc.string(), (polygons, name) => {
        const bytes = writeGeoJson([feature(polygons, { name })]);
        expect(textOf(bytes)).not.toMatch(/\.\d{10}/);
        // Also where no land is farmed.
        const back = readGeoJson(bytes, "x.geojson", { "swap-lon-lat": "no" }).features[0];
        expect(back).toEqual(feature(polygons, { name }));
        expect(writeGeoJson([back!])).toEqual(bytes);
      }),
      { seed: 20260415, numRuns: 300 },
    );
  });
});
