import { describe, expect, test } from "vitest";
import { type MultiPolygon, type Point, type Polygon, tilingFaults } from "../../src/geo/index.ts";
import { sum } from "../../src/numeric/index.ts";
import { type LaidStrips, layoutFigures, stripLayout } from "../../src/strips/index.ts";
import { acres } from "../../src/units/index.ts";
import { invalidTiles } from "../geo/tiles.ts";

/** Twelve rows of 30 in. */
const WIDTH_M = 9.144;
const LENGTH_M = 420;
const SEGMENT_M = 15;
const TENTH_MM = 1e-4;

const rectangle = (west: number, south: number, east: number, north: number): Polygon => [
  [
    [west, south],
    [east, south],
    [east, north],
    [west, north],
  ],
];

/** Eighteen widths from half a width left of the line, and as much more on either side. */
const eighteen = (overM: number): Polygon =>
  rectangle(-WIDTH_M / 2 - overM, 0, 17.5 * WIDTH_M + overM, LENGTH_M);

const straight: readonly Point[] = [
  [0, 5],
  [0, 415],
];

const layOut = (
  boundary: MultiPolygon,
  more: Partial<Parameters<typeof stripLayout>[0]> = {},
): LaidStrips => {
  const laid = stripLayout({
    boundary,
    guidance: straight,
    widthM: WIDTH_M,
    segmentM: SEGMENT_M,
    headlandPasses: 0,
    ...more,
  });
  const tiles = laid.segments.map(({ polygon }): MultiPolygon => [polygon]);
  expect(tilingFaults(tiles, boundary, 2e-4)).toEqual([]);
  expect(invalidTiles(tiles)).toEqual([]);
  expect(Math.abs(sum(laid.segments.map(({ areaM2 }) => areaM2)) / laid.boundaryM2 - 1)).toBeLessThan(1e-7);
  return laid;
};

const passesOf = ({ runs }: LaidStrips, kind = "interior"): number[] =>
  runs
    .filter((run) => run.kind === kind)
    .map(({ pass }) => pass)
    .sort((a, b) => a - b);
const upTo = (last: number, first = 0): number[] =>
  Array.from({ length: last - first + 1 }, (_, i) => first + i);

describe("a run under 2 cm wide all along is none, and its land goes to the pass beside it", () => {
  test.each([
    ["0.1 mm", TENTH_MM],
    ["1.5 cm", 0.015],
  ])("a field of 18 widths and %s over on either side has passes 0 to 17", (_, overM) => {
    const laid = layOut([eighteen(overM)]);
    expect(passesOf(laid)).toEqual(upTo(17));
    // The outermost passes have their own width and what is over: 9.144 m and overM by 420 m.
    const outer = laid.runs.filter(({ pass }) => pass === 0 || pass === 17);
    expect(outer.map(({ areaM2 }) => areaM2)).toEqual([
      expect.closeTo((WIDTH_M + overM) * LENGTH_M, 1),
      expect.closeTo((WIDTH_M + overM) * LENGTH_M, 1),
    ]);
    expect(acres(laid.boundaryM2)).toBeCloseTo(
      ((18 * WIDTH_M + 2 * overM) * LENGTH_M) / (43560 * 0.3048 ** 2),
      6,
    );
    // Runs are what counts stops and `driven:`; the cab sheet's figure is the same.
    const row = { rows: 12, rowSpacingM: WIDTH_M / 12, segmentM: SEGMENT_M, guidance: straight };
    expect(layoutFigures(laid, row).passes).toBe(laid.runs.length);
  });

  test("5 cm over are passes of their own, as drawn", () => {
    const laid = layOut([eighteen(0.05)]);
    expect(passesOf(laid)).toEqual(upTo(18, -1));
    expect(laid.runs.find(({ pass }) => pass === -1)!.areaM2).toBeCloseTo(0.05 * LENGTH_M, 1);
  });

  test("only where it is one: another part of the field keeps its pass of that number", () => {
    const part = rectangle(-2 * WIDTH_M, 500, 3.5 * WIDTH_M, 700);
    const laid = layOut([eighteen(TENTH_MM), part]);
    // The part: half of pass -2, passes -1 to 3.
    expect(passesOf(laid)).toEqual([...upTo(17), ...upTo(3, -2)].sort((a, b) => a - b));
    const least = Math.min(...laid.runs.map(({ areaM2 }) => areaM2));
    expect(least).toBeCloseTo(0.5 * WIDTH_M * 200, 1);
  });

  test("a hair that widens to a bump is a pass", () => {
    const [west, bump] = [-WIDTH_M / 2, -WIDTH_M / 2 - 3];
    const laid = layOut([
      [
        [
          [west - TENTH_MM, 0],
          [17.5 * WIDTH_M, 0],
          [17.5 * WIDTH_M, LENGTH_M],
          [west - TENTH_MM, LENGTH_M],
          [west - TENTH_MM, 220],
          [bump, 220],
          [bump, 200],
          [west - TENTH_MM, 200],
        ],
      ],
    ]);
    expect(passesOf(laid)).toEqual(upTo(17, -1));
  });

  test("the same along a line of three points", () => {
    const guidance: Point[] = [
      [0, 5],
      [0, 200],
      [0, 415],
    ];
    expect(passesOf(layOut([eighteen(TENTH_MM)], { guidance }))).toEqual(upTo(17));
  });

  test("inside two headland passes 14 widths are left", () => {
    const laid = layOut([eighteen(TENTH_MM)], { headlandPasses: 2 });
    expect(passesOf(laid)).toEqual(upTo(15, 2));
    expect(passesOf(laid, "headland")).toEqual([1, 2]);
    const interior = laid.segments.filter(({ kind }) => kind === "interior");
    expect(Math.abs(sum(interior.map(({ areaM2 }) => areaM2)) / laid.interiorM2 - 1)).toBeLessThan(1e-7);
  });

  test("ground kept off at the edge stays so", () => {
    // From 3 m inside the field's edge outward, 100 to 140 m along the passes: pass 0 is kept off there, cut 5 mm clear of it.
    const keptOff: MultiPolygon = [rectangle(-WIDTH_M, 100, 3 - WIDTH_M / 2, 140)];
    const laid = layOut([eighteen(TENTH_MM)], { keptOff });
    expect([...new Set(passesOf(laid))]).toEqual(upTo(17));
    const off = laid.segments.filter((segment) => segment.keptOff);
    expect(new Set(off.map(({ pass }) => pass))).toEqual(new Set([0]));
    expect(sum(off.map(({ areaM2 }) => areaM2))).toBeCloseTo(WIDTH_M * 40.01, 1);
  });
});
