import fc from "fast-check";
import { describe, expect, test } from "vitest";
import { fieldFrame, type MultiPolygon, type Point, type Ring, tilingFaults } from "../../src/geo/index.ts";
import { box } from "./box.ts";
import { nastyField } from "./nasty-fields.ts";
import { latticeCut, outlineBeside, tilesOf, totalArea, written } from "./tiles.ts";

const land: MultiPolygon = [
  [
    [
      [-40, -20],
      [70, -10],
      [60, 90],
      [-30, 70],
    ],
    [
      [0, 20],
      [10, 40],
      [25, 30],
    ],
  ],
];
const tiles = tilesOf(latticeCut(land, { widthM: 12.192, lengthM: 15 }));
const outline = outlineBeside(tiles, land);

const moved = (tile: MultiPolygon, move: (point: Point) => Point): MultiPolygon =>
  tile.map((polygon) => polygon.map((ring) => ring.map(move)));
const withTile = (all: readonly MultiPolygon[], index: number, tile: MultiPolygon): MultiPolygon[] =>
  all.map((old, i) => (i === index ? tile : old));
const kinds = (some: readonly MultiPolygon[], border = outline, tolerance = 0): string[] => [
  ...new Set(tilingFaults(some, border, tolerance).map(({ kind }) => kind)),
];

test("sound tiles have no fault, against the rounded outline or the one given", () => {
  expect(tilingFaults(tiles, outline)).toEqual([]);
  expect(tilingFaults(tiles, land, 1e-4)).toEqual([]);
  expect(tilingFaults([], [])).toEqual([]);
});

describe("a planted fault is found and placed", () => {
  const inner = tiles.findIndex((tile) =>
    tile[0]![0]!.every(([x, y]) => x > 30 && x < 60 && y > 30 && y < 70),
  );
  const [corner] = tiles[inner]![0]![0]!;

  test("one vertex of one tile moved: a gap and an overlap of the same area", () => {
    // Two opposite corners moved alike: the area stays.
    const ring = tiles[inner]![0]![0]!;
    const shifted = ring.map(([x, y], i): Point => (i === 0 || i === 2 ? [x + 0.5, y] : [x, y]));
    const some = withTile(tiles, inner, [[shifted]]);
    expect(Math.abs(totalArea(some) / totalArea(tiles) - 1)).toBeLessThan(1e-12);
    const faults = tilingFaults(some, outline);
    expect(new Set(faults.map(({ kind }) => kind))).toEqual(new Set(["open"]));
    expect(
      Math.min(...faults.map(({ place }) => Math.hypot(place[0] - corner![0], place[1] - corner![1]))),
    ).toBeLessThan(15);
    expect(kinds(some, land, 1e-4)).toEqual(["open"]);
  });

  test("a vertex moved along the edge it lies on, which opens no gap but parts two neighbours", () => {
    const left = (y: number): Ring => [
      [-10, 0],
      [0, 0],
      [0, y],
      [0, 10],
      [-10, 10],
    ];
    const right: MultiPolygon[] = [[[box(0, 0, 10, 4)]], [[box(0, 4, 10, 10)]]];
    const whole: MultiPolygon = [[box(-10, 0, 10, 10)]];
    expect(tilingFaults([[[left(4)]], ...right], whole, 1e-4)).toEqual([]);
    expect(kinds([[[left(4.0001)]], ...right], whole, 1e-4)).toEqual(["open"]);
  });

  test("a tile shifted by 0.1 mm", () => {
    const some = withTile(
      tiles,
      inner,
      moved(tiles[inner]!, ([x, y]) => [x + 1e-4, y]),
    );
    expect(kinds(some)).toEqual(["open"]);
  });

  test("a tile left out and another laid twice: the count and the area stay", () => {
    const twin = tiles.findIndex(
      (tile, i) => i !== inner && Math.abs(totalArea([tile]) - totalArea([tiles[inner]!])) < 1e-9,
    );
    expect(twin).toBeGreaterThanOrEqual(0);
    const some = withTile(tiles, inner, tiles[twin]!);
    expect(totalArea(some)).toBeCloseTo(totalArea(tiles), 9);
    expect(kinds(some)).toEqual(["doubled", "open"]);
    expect(kinds(some, land, 1e-4)).toEqual(["doubled", "open"]);
  });

  test("a tile turned round, beside another laid twice: the sums would hide it", () => {
    const turned = tiles[inner]!.map((polygon) => polygon.map((ring) => ring.toReversed()));
    expect(kinds([...tiles, tiles[inner]!, turned])).toEqual(["turned", "doubled"]);
  });

  test("a part of the land left out, or land beyond it taken in", () => {
    const shed: MultiPolygon = [
      [
        [
          [200, 0],
          [205, 0],
          [200, 4],
        ],
      ],
    ];
    expect(kinds(tiles, [...outline, ...shed])).toEqual(["uncovered"]);
    expect(kinds(tiles, [...land, ...shed], 1e-4)).toEqual(["area", "uncovered"]);
    expect(kinds([...tiles, shed])).toEqual(["open"]);
    expect(kinds([...tiles, shed], land, 1e-4)).toEqual(["area", "open"]);
  });

  test("a hole filled in", () => {
    const hole = outline.map((polygon) => polygon.slice(1).map((ring) => ring.toReversed()));
    expect(kinds([...tiles, hole])).toEqual(["uncovered"]);
  });
});

/** Kinds of fault, each with what it does to tile `index` of a set. */
const planted: [string, (all: MultiPolygon[], index: number, by: Point, other: number) => MultiPolygon[]][] =
  [
    [
      "vertex moved",
      (all, index, [dx, dy]) =>
        withTile(all, index, [
          all[index]![0]!.map((ring, r) =>
            r > 0 ? ring : ring.map(([x, y], i): Point => (i === 0 ? [x + dx, y + dy] : [x, y])),
          ),
          ...all[index]!.slice(1),
        ]),
    ],
    [
      "tile shifted",
      (all, index, [dx, dy]) =>
        withTile(
          all,
          index,
          moved(all[index]!, ([x, y]) => [x + dx, y + dy]),
        ),
    ],
    ["tile left out", (all, index) => all.filter((_, i) => i !== index)],
    ["tile doubled", (all, index) => [...all, all[index]!]],
    [
      "one left out, one doubled",
      (all, index, _, other) => (other === index ? [...all, all[index]!] : withTile(all, index, all[other]!)),
    ],
    [
      "tile turned",
      (all, index) =>
        withTile(
          all,
          index,
          all[index]!.map((polygon) => polygon.map((ring) => ring.toReversed())),
        ),
    ],
  ];

test("random nasty fields: 1,000 planted faults of each kind are all found, in the plane and as written", () => {
  const frame = fieldFrame(-93.4, 42.03);
  const place = fc.integer({ min: 0, max: 1_000_000 });
  fc.assert(
    fc.property(nastyField, place, place, fc.integer({ min: 0, max: 7 }), (field, at, beside, way) => {
      const all = tilesOf(latticeCut(field.land, field));
      const border = outlineBeside(all, field.land);
      const index = Math.floor((at / 1_000_001) * all.length);
      const other = Math.floor((beside / 1_000_001) * all.length);
      // One step of the lattice in one of eight directions, or more.
      const step = way % 2 === 0 ? 1e-4 : 0.37;
      const by: Point = [step * Math.cos((way * Math.PI) / 4), step * Math.sin((way * Math.PI) / 4)];
      for (const [name, plant] of planted) {
        expect(tilingFaults(plant(all, index, by, other), border).length, name).toBeGreaterThan(0);
      }
      if (at % 10 > 0) return;
      const degrees = written(all, border, frame);
      const kept = degrees.tiles.filter((tile) => tile.length > 0);
      for (const [name, plant] of planted) {
        const some = plant(kept, index % kept.length, [1e-9 * Math.sign(by[0]), 1e-9], other % kept.length);
        expect(tilingFaults(some, degrees.outline).length, `${name}, written`).toBeGreaterThan(0);
      }
    }),
    { seed: 9, numRuns: 1_000 },
  );
});
