import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  boundsOf,
  containsPoint,
  distanceToBoundary,
  type MultiPolygon,
  multiPolygonArea,
  nestRings,
  orient,
  type Point,
  type Ring,
  ringArea,
} from "../../src/geo/index.ts";
import { box } from "./box.ts";
import { nastyField } from "./nasty-fields.ts";

/** A yard in a lot in a pond in a field, and a field beside it. */
const field = box(0, 0, 100, 100);
const pond = box(20, 20, 80, 80);
const island = box(30, 30, 70, 70);
const well = box(45, 45, 55, 55);
const beside = box(120, 0, 140, 20);

test("bounds hold every vertex; of nothing they are inside out", () => {
  expect(boundsOf([[field, pond], [beside]])).toEqual({ minX: 0, minY: 0, maxX: 140, maxY: 100 });
  expect(boundsOf([]).minX).toBeGreaterThan(boundsOf([]).maxX);
});

test("orient turns outer rings counter-clockwise and holes clockwise, and leaves its input", () => {
  const given: MultiPolygon = [[field.toReversed(), pond], [beside]];
  const copy = structuredClone(given);
  const [[outer, hole], [other]] = orient(given) as [[Ring, Ring], [Ring]];
  expect([outer, hole, other].map(ringArea)).toEqual([10_000, -3_600, 400]);
  expect(given).toEqual(copy);
});

describe("nestRings", () => {
  test("tells outer rings from holes by nesting, whatever the order and direction", () => {
    const rings = [well, pond, beside, field, island];
    for (let turned = 0; turned < 32; turned++) {
      const given = rings.map((ring, i) => ((turned >> i) & 1 ? ring.toReversed() : ring));
      const nested = nestRings(given);
      expect(nested.map((polygon) => polygon.map(ringArea))).toEqual([
        [400],
        [10_000, -3_600],
        [1_600, -100],
      ]);
    }
  });

  test("a hole that touches its shell at a vertex, on an edge or all round is still a hole", () => {
    const touching: Ring[] = [
      [
        [0, 0],
        [50, 10],
        [10, 50],
      ],
      [
        [50, 0],
        [60, 30],
        [40, 30],
      ],
      [
        [50, 0],
        [100, 50],
        [50, 100],
        [0, 50],
      ],
    ];
    for (const hole of touching)
      expect(nestRings([hole, field]).map((polygon) => polygon.length)).toEqual([2]);
  });

  test("puts random fields together again from their loose rings", () => {
    fc.assert(
      fc.property(nastyField, ({ land }) => {
        const rings = land.flat().map((ring, i) => (i % 2 === 0 ? ring.toReversed() : ring));
        const nested = nestRings(rings.toReversed());
        expect(nested.length).toBe(land.length);
        expect(multiPolygonArea(nested)).toBeCloseTo(multiPolygonArea(land), 6);
      }),
      { seed: 20, numRuns: 60 },
    );
  });
});

test("containsPoint: on land, in a hole, on an island, outside", () => {
  const land: MultiPolygon = [[field, pond.toReversed()], [island]];
  const answers = (
    [
      [10, 10],
      [25, 25],
      [50, 50],
      [150, 50],
      [-1, 50],
    ] as Point[]
  ).map((point) => containsPoint(land, point));
  expect(answers).toEqual([true, false, true, false, false]);
});

test("containsPoint: a ray through vertices is counted once", () => {
  const diamond: Ring = [
    [0, -10],
    [10, 0],
    [0, 10],
    [-10, 0],
  ];
  expect(containsPoint([[diamond]], [-20, 0])).toBe(false);
  expect(containsPoint([[diamond]], [-5, 0])).toBe(true);
  expect(containsPoint([[diamond]], [20, 0])).toBe(false);
});

test("distanceToBoundary: to the nearest edge or vertex of any ring", () => {
  const land: MultiPolygon = [[field, pond], [beside]];
  expect(distanceToBoundary(land, [10, 50])).toBe(10);
  expect(distanceToBoundary(land, [50, 75])).toBe(5);
  expect(distanceToBoundary(land, [103, 104])).toBe(5);
  expect(distanceToBoundary(land, [130, 10])).toBe(10);
  expect(distanceToBoundary([], [0, 0])).toBe(Number.POSITIVE_INFINITY);
});
