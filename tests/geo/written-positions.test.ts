import { describe, expect, test } from "vitest";
import {
  ellipsoidArea,
  fieldFrame,
  type MultiPolygon,
  type Ring,
  ringFaults,
  tilingFaults,
  writtenPositions,
} from "../../src/geo/index.ts";
import { box } from "./box.ts";

const frame = fieldFrame(-93.4, 42.03);

describe("numbers to write", () => {
  const tiles = [[[box(-400, -400, 0, 400)]], [[box(0, -400, 400, 400)]]];
  const degrees = writtenPositions(tiles, frame);
  const numbers = degrees.flat(3).flat();

  test("have at most nine decimals and read back as themselves", () => {
    expect(numbers.length).toBeGreaterThan(60);
    for (const value of numbers) {
      expect(String(value)).toMatch(/^-?\d+(\.\d{1,9})?$/);
      expect(Number(value.toFixed(9))).toBe(value);
    }
  });

  test("lie within 0.1 mm of the plane's corners", () => {
    const [outer] = degrees[0]![0]!;
    for (const [x, y] of box(-400, -400, 0, 400)) {
      const off = outer!.map(frame.toPlane).map(([ownX, ownY]) => Math.hypot(ownX - x, ownY - y));
      expect(Math.min(...off)).toBeLessThan(1e-4);
    }
  });

  test("long edges get vertices, the same on both sides", () => {
    // 400 m and 800 m edges in pieces of at most 100 m: 4 + 8 + 4 + 8 vertices.
    expect(degrees.map((tile) => tile[0]![0]!.length)).toEqual([24, 24]);
    expect(
      tilingFaults(degrees, writtenPositions([...tiles, [[box(-400, -400, 400, 400)]]], frame).at(-1)!),
    ).toEqual([]);
  });

  test("without them the area would be off by 10 m2; with them it is right to 1e-7", () => {
    const corners = box(-400, -400, 400, 400).map(frame.toLonLat);
    expect(Math.abs(ellipsoidArea([[corners]]) - 640_000)).toBeLessThan(1);
    const total = degrees.map(ellipsoidArea).reduce((a, b) => a + b);
    expect(Math.abs(total / 640_000 - 1)).toBeLessThan(1e-7);
  });
});

test("a vertex a hair off a long edge keeps its side when the edge bows", () => {
  // Drawn straight in degrees the 100 m edge bows south by 0.18 mm; the notch comes within 0.1 mm of it from there.
  const long: Ring = box(-50, 0, 50, 30);
  const notched: Ring = [
    [-50, -10],
    [50, -10],
    [50, -0.02],
    [0.3, -1e-4],
    [-50, -0.02],
  ];
  const degrees = writtenPositions([[[long]], [[notched]]], frame);
  expect(ringFaults(degrees.flat())).toEqual([]);
  expect(degrees.map((tile) => tile.length)).toEqual([1, 1]);
  const drawn = [[long], [notched]].map((polygon) => polygon.map((ring) => ring.map(frame.toLonLat)));
  expect(ringFaults(drawn).map(({ kind }) => kind)).toEqual(["crossing", "crossing"]);
});

test("a tile narrower than a step vanishes, and its neighbours meet", () => {
  const width = 2e-5;
  const tiles: MultiPolygon[] = [[[box(-10, 0, 0, 10)]], [[box(0, 0, width, 10)]], [[box(width, 0, 10, 10)]]];
  const degrees = writtenPositions([...tiles, [[box(-10, 0, 10, 10)]]], frame);
  expect(degrees[1]).toEqual([]);
  expect(tilingFaults(degrees.slice(0, 3), degrees[3]!)).toEqual([]);
});
