import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  ellipsoidArea,
  fieldFrame,
  type MultiPolygon,
  tilingFaults,
  writtenPositions,
} from "../../src/geo/index.ts";
import { sum } from "../../src/numeric/index.ts";
import { holeLand, meltTiles, Neighbours, plainPolygons } from "../../src/prescription/melt-tiles.ts";
import { stripSegments } from "../../src/strips/index.ts";

// A made-up field of 300 by 240 m with a hole, cut along a line that runs askew, as its tiles are written.
const frame = fieldFrame(-93.5, 42);
const boundary: MultiPolygon = [
  [
    [
      [0, 0],
      [300, 10],
      [290, 240],
      [-5, 230],
    ],
    [
      [100, 100],
      [95, 150],
      [160, 155],
      [150, 100],
    ],
  ],
];
const segments = stripSegments({
  boundary,
  line: [
    [20, 0],
    [47, 230],
  ],
  widthM: 12.192,
  segmentM: 30,
});
const tiles = writtenPositions(
  segments.map(({ polygon }) => [polygon]),
  frame,
).map(([polygon]) => polygon!);
const outline = meltTiles(tiles, new Int32Array(tiles.length), 1).map(({ polygon }) => polygon);
const area = (polygons: MultiPolygon) => sum(polygons.map((polygon) => ellipsoidArea([polygon])));

const classes = fc.array(fc.integer({ min: 0, max: 3 }), {
  minLength: tiles.length,
  maxLength: tiles.length,
});
/** Blocks of one class with others inside, so that many polygons have holes. */
const blocks = fc
  .array(fc.integer({ min: 0, max: 2 }), { minLength: 64, maxLength: 64 })
  .map((kinds) => segments.map(({ pass, column }) => kinds[(((pass >> 1) & 7) * 8 + (column & 7)) % 64]!));

describe("meltTiles and plainPolygons", () => {
  it("give the outline when there is one class, and the hole for itself", () => {
    expect(outline).toHaveLength(1);
    expect(outline[0]).toHaveLength(2);
    const hole = holeLand(outline);
    expect(hole.map((polygon) => polygon.length)).toEqual([1]);
    expect(area([[outline[0]![0]!]])).toBeCloseTo(area(outline) + area(hole), 6);
  });

  it("tile the field with as few polygons as Neighbours says, class by class the same ground", () => {
    const neighbours = new Neighbours(tiles);
    fc.assert(
      fc.property(fc.oneof(classes, blocks), (classOf) => {
        const melted = meltTiles(tiles, classOf, 4);
        expect(melted).toHaveLength(neighbours.groups(classOf));
        expect(
          tilingFaults(
            melted.map(({ polygon }) => [polygon]),
            outline,
          ),
        ).toEqual([]);
        for (let k = 0; k < 4; k++) {
          const own = tiles.filter((_, i) => classOf[i] === k);
          const made = melted.filter((one) => one.class === k).map(({ polygon }) => polygon);
          expect(area(made)).toBeCloseTo(area(own), 5);
        }
      }),
      { seed: 4_711, numRuns: 25 },
    );
  });

  it("cut up have no holes and few vertices and still tile", () => {
    fc.assert(
      fc.property(fc.oneof(classes, blocks), fc.constantFrom(20, 40, 500), (classOf, most) => {
        const melted = meltTiles(tiles, classOf, 4);
        const plain = plainPolygons(melted, most);
        expect(plain.every(({ polygon }) => polygon.length === 1)).toBe(true);
        // Vertices that cuts put on neighbours come on top; a limit is held in the end by the file's own check.
        expect(
          tilingFaults(
            plain.map(({ polygon }) => [polygon]),
            outline,
            1e-7,
          ),
        ).toEqual([]);
        expect(Math.abs(area(plain.map(({ polygon }) => polygon)) - area(outline))).toBeLessThan(0.01);
      }),
      { seed: 815, numRuns: 25 },
    );
  });

  // Found on a field of the home farm: each cut's end was rounded by itself, and the neighbour's edge then missed it.
  it("neighbours that are cut at two places of one long edge still share it", () => {
    const step = (n: number) => n / 1e9;
    const place = fc.integer({ min: 200, max: 799 });
    fc.assert(
      fc.property(place, place, fc.integer({ min: 1, max: 99_999 }), (left, right, rise) => {
        const [a, b] = [
          [0, 0],
          [step(1_000_003), step(rise)],
        ] as const;
        const hole = (at: number, y: number) => {
          const [west, east] = [step(at * 1000), step(at * 1000 + 101_001)];
          return [
            [west, step(y)],
            [west, step(y + 50_000)],
            [east, step(y + 50_000)],
            [east, step(y)],
          ] as const;
        };
        const above = [[a, b, [b[0], step(400_000)], [0, step(400_000)]], hole(left, 200_000)] as const;
        const below = [[b, a, [0, step(-400_000)], [b[0], step(-400_000)]], hole(right, -200_000)] as const;
        const plain = plainPolygons(
          [
            { class: 0, polygon: above },
            { class: 1, polygon: below },
          ],
          500,
        );
        const outer = [
          [[0, step(-400_000)], [b[0], step(-400_000)], b, [b[0], step(400_000)], [0, step(400_000)], a],
        ] as const;
        const holes = [hole(left, 200_000), hole(right, -200_000)];
        expect(plain).toHaveLength(4);
        expect(
          tilingFaults(
            plain.map(({ polygon }) => [polygon]),
            [[...outer, ...holes]],
            2e-9,
          ),
        ).toEqual([]);
      }),
      { seed: 41_021, numRuns: 60 },
    );
  });

  it("the ground of islands in a hole is no hole", () => {
    const ring = (x: number, y: number, size: number) =>
      [
        [x, y],
        [x + size, y],
        [x + size, y + size],
        [x, y + size],
      ] as const;
    const field = [[ring(0, 0, 10), ring(2, 2, 6).toReversed()], [ring(4, 4, 2)]];
    const holes = holeLand(field);
    expect(holes.map((polygon) => polygon.length)).toEqual([2]);
    expect(Math.abs(area(holes) / area([[ring(2, 2, 6)], [ring(4, 4, 2)]]) - 32 / 40)).toBeLessThan(1e-3);
  });
});
