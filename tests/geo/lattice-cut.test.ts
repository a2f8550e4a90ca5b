import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  ellipsoidArea,
  fieldFrame,
  latticeTiles,
  type MultiPolygon,
  multiPolygonArea,
  type Point,
  polygonArea,
  tilingFaults,
} from "../../src/geo/index.ts";
import { sum } from "../../src/numeric/index.ts";
import { frozen } from "../formats/support.ts";
import { expectedBoundaries, readBoundary, VALID_FILES } from "./boundaries.ts";
import { box } from "./box.ts";
import { nastyField } from "./nasty-fields.ts";
import {
  invalidTiles,
  latticeCut,
  outlineBeside,
  perimeter,
  rawArea,
  tilesOf,
  totalArea,
  written,
} from "./tiles.ts";

/** The field seen along its guidance line: [to the right, along]. */
const alongLine = (area: MultiPolygon, [[ax, ay], [bx, by]]: readonly [Point, Point]): MultiPolygon => {
  const length = Math.hypot(bx - ax, by - ay);
  const [ux, uy] = [(bx - ax) / length, (by - ay) / length];
  return area.map((polygon) =>
    polygon.map((ring) =>
      ring.map(([x, y]): Point => [(x - ax) * uy - (y - ay) * ux, (x - ax) * ux + (y - ay) * uy]),
    ),
  );
};

describe("a cut by hand", () => {
  test("a box: passes centred on the line, columns from its start", () => {
    const pieces = latticeCut([[box(-6, -5, 9, 12)]], { widthM: 6, lengthM: 10 });
    expect(pieces.map(({ pass, column, polygon }) => [pass, column, polygonArea(polygon)])).toEqual([
      [-1, -1, 15],
      [-1, 0, 30],
      [-1, 1, 6],
      [0, -1, 30],
      [0, 0, 60],
      [0, 1, 12],
      [1, -1, 30],
      [1, 0, 60],
      [1, 1, 12],
    ]);
    expect(pieces[4]!.polygon).toEqual([
      [
        [-3, 0],
        [3, 0],
        [3, 10],
        [-3, 10],
      ],
    ]);
  });

  test("a hole inside one cell stays a hole; one across a line opens the outline", () => {
    const land: MultiPolygon = [
      [box(-3, 0, 9, 10), box(-1, 4, 1, 6).toReversed(), box(2, 4, 4, 6).toReversed()],
    ];
    const pieces = latticeCut(land, { widthM: 6, lengthM: 10 });
    expect(pieces.map(({ pass, polygon }) => [pass, polygon.length, polygonArea(polygon)])).toEqual([
      [0, 2, 54],
      [1, 1, 58],
    ]);
  });

  test("a neighbour's corner on a shared edge is a vertex of both", () => {
    // The hole's corners lie on the line between passes 0 and 1.
    const pieces = latticeCut([[box(-3, 0, 9, 10), box(3, 4, 5, 6).toReversed()]], {
      widthM: 6,
      lengthM: 10,
    });
    expect(pieces).toHaveLength(2);
    expect(pieces[0]!.polygon).toEqual([
      [
        [-3, 0],
        [3, 0],
        [3, 4],
        [3, 6],
        [3, 10],
        [-3, 10],
      ],
    ]);
  });

  test("one cell may hold several pieces, each with one outer ring", () => {
    const land: MultiPolygon = [
      [
        [
          [-3, 0],
          [3, 0],
          [3, 10],
          [2, 1],
          [-2, 1],
          [-3, 10],
        ],
      ],
      [box(-1, 5, 1, 6)],
    ];
    const pieces = latticeCut(land, { widthM: 6, lengthM: 5 });
    expect(pieces.map(({ column }) => column)).toEqual([0, 1, 1, 1]);
  });

  test("land left of the line is not mirrored to its right", () => {
    // A right triangle with its land on the left; on the right side it would cover other cells.
    const pieces = latticeCut(
      [
        [
          [
            [-30, 0],
            [0, 0],
            [-30, 60],
          ],
        ],
      ],
      { widthM: 10, lengthM: 20 },
    );
    expect(pieces.map(({ pass, column }) => `${pass},${column}`)).toEqual([
      "-3,0",
      "-3,1",
      "-3,2",
      "-2,0",
      "-2,1",
      "-2,2",
      "-1,0",
      "-1,1",
      "0,0",
    ]);
  });

  test("a vertex that is no number is our mistake", () => {
    expect(() =>
      latticeCut(
        [
          [
            [
              [0, 0],
              [1, 0],
              [Number.NaN, 1],
            ],
          ],
        ],
        { widthM: 1, lengthM: 1 },
      ),
    ).toThrow("not finite");
  });
});

describe("awkward boundaries, implement width by 15 m", () => {
  test.each(VALID_FILES)("%s: pieces tile exactly before and after rounding, and as written", (file) => {
    const { frame, plane, line, lonLat } = readBoundary(file);
    const widthM = expectedBoundaries().find((expected) => expected.file === file)!.implement_width_m;
    const land = alongLine(plane, line);
    const area = multiPolygonArea(plane);
    expect(Math.abs(rawArea(latticeTiles(land, { widthM, lengthM: 15 })) / area - 1)).toBeLessThan(1e-9);

    const tiles = tilesOf(latticeCut(land, { widthM, lengthM: 15 }));
    expect(Math.abs(totalArea(tiles) / area - 1)).toBeLessThan(1e-7);
    const outline = outlineBeside(tiles, land);
    expect(tilingFaults(tiles, outline)).toEqual([]);
    expect(tilingFaults(tiles, land, 1e-4)).toEqual([]);
    expect(invalidTiles(tiles)).toEqual([]);

    // Turned back into the field's plane, then written.
    const [[ax, ay], [bx, by]] = line;
    const length = Math.hypot(bx - ax, by - ay);
    const [ux, uy] = [(bx - ax) / length, (by - ay) / length];
    const back = (tile: MultiPolygon): MultiPolygon =>
      tile.map((polygon) =>
        polygon.map((ring) =>
          ring.map(([right, along]): Point => [ax + right * uy + along * ux, ay - right * ux + along * uy]),
        ),
      );
    const result = written(tiles.map(back), back(outline), frame);
    expect(result.faults).toEqual([]);
    expect(result.tiles.every((tile) => tile.length > 0)).toBe(true);
    const total = sum(result.tiles.map(ellipsoidArea));
    expect(Math.abs(total / area - 1)).toBeLessThan(1e-7);
    // The boundary's long edges drawn straight in degrees would be off by up to 4.6e-6.
    expect(Math.abs(total / ellipsoidArea(lonLat) - 1)).toBeLessThan(5e-6);
  });
});

describe("what must not matter", () => {
  const { plane, line } = readBoundary("02-waterways-ponds.geojson");
  const land = alongLine(plane, line);
  const lattice = { widthM: 9.144, lengthM: 15 };

  test("which way rings run and where they begin", () => {
    const turned = land.map((polygon) =>
      polygon.map((ring) => [...ring.slice(7), ...ring.slice(0, 7)].toReversed()),
    );
    expect(latticeCut(turned, lattice)).toEqual(latticeCut(land, lattice));
  });

  test("the input, which is left as it was", () => {
    expect(latticeCut(frozen(structuredClone(land)), lattice)).toEqual(latticeCut(land, lattice));
  });
});

test("random nasty fields: 1,000 are tiled exactly, by positive and valid pieces, also as written", () => {
  const frame = fieldFrame(-93.4, 42.03);
  let pieces = 0;
  fc.assert(
    fc.property(nastyField, ({ land, widthM, lengthM }) => {
      const area = multiPolygonArea(land);
      const raw = rawArea(latticeTiles(land, { widthM, lengthM }));
      expect(Math.abs(raw / area - 1)).toBeLessThan(1e-9);

      const tiles = tilesOf(latticeCut(land, { widthM, lengthM }));
      pieces += tiles.length;
      // Every edge may move by half the diagonal of a 0.1 mm square.
      expect(Math.abs(totalArea(tiles) - area)).toBeLessThan(0.71e-4 * perimeter(land));
      const outline = outlineBeside(tiles, land);
      expect(tilingFaults(tiles, outline)).toEqual([]);
      expect(invalidTiles(tiles)).toEqual([]);
      expect(written(tiles, outline, frame).faults).toEqual([]);
    }),
    { seed: 8, numRuns: 1_000 },
  );
  expect(pieces).toBeGreaterThan(30_000);
});
