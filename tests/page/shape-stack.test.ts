import { describe, expect, test } from "vitest";
import type { StepShapes } from "../../app/src/engine/protocol.ts";
import { ShapeStack } from "../../app/src/engine/shape-stack.ts";
import { nestRings, type Point, polygonArea, ringArea } from "../../src/geo/index.ts";
import { regionsAbove, surfaceOf } from "../../src/report/index.ts";
import { seededDraws } from "../support/seeded-draws.ts";

const asTheyAre = (place: Point): Point => place;

/** Area of the triangles of each limit's regions, m2. */
function filled({ places, rings, limits, triangles }: StepShapes): Map<number, number> {
  const areas = new Map<number, number>();
  const place = (corner: number): Point => [places[2 * corner]!, places[2 * corner + 1]!];
  for (let at = 0; at < triangles.length; at += 3) {
    const corners = [...triangles.slice(at, at + 3)];
    const limit = limits[rings.findLastIndex((first) => first <= corners[0]!)]!;
    areas.set(limit, (areas.get(limit) ?? 0) + Math.abs(ringArea(corners.map(place))));
  }
  return areas;
}

/** Corners of every ring of a limit, in order. */
const ringsOf = ({ places, rings, limits }: StepShapes, limit: number): number[][] =>
  [...limits].flatMap((one, k) =>
    one === limit ? [[...places.slice(2 * rings[k]!, 2 * rings[k + 1]!)]] : [],
  );

describe("shapes of flat steps", () => {
  const square = (least: number, most: number): Point[] => [
    [least, least],
    [most, least],
    [most, most],
    [least, most],
  ];

  test("a region with a hole is filled but for the hole; a line bounds nothing", () => {
    const stack = new ShapeStack();
    stack.fill([square(0, 100), square(20, 50).toReversed()], 3);
    stack.line(square(-5, 5));
    stack.fill([square(200, 210)], 4);
    const shapes = stack.shapes(asTheyAre);
    expect(filled(shapes).get(3)).toBeCloseTo(100 ** 2 - 30 ** 2, 6);
    expect(filled(shapes).get(4)).toBeCloseTo(100, 6);
    expect(filled(shapes).has(-1)).toBe(false);
    expect(ringsOf(shapes, -1)).toEqual([square(-5, 5).flat()]);
    expect(ringsOf(shapes, 3)).toHaveLength(2);
  });

  test("nothing gives empty arrays", () => {
    const { places, rings, limits, triangles } = new ShapeStack().shapes(asTheyAre);
    expect([places.length, [...rings], limits.length, triangles.length]).toEqual([0, [0], 0, 0]);
  });

  test("regions of random ground are filled to their area, each limit's after those below it", () => {
    for (let seed = 1; seed <= 40; seed++) {
      const draw = seededDraws(seed);
      const grid = { nx: 25, ny: 20, ix0: 0, iy0: 0, cellM: 10 };
      const value = Float64Array.from({ length: 500 }, () => (draw() < 0.1 ? Number.NaN : 100 * draw()));
      const stack = new ShapeStack();
      const wanted: number[] = [];
      for (const [limit, rings] of regionsAbove(surfaceOf(grid, value), [20, 40, 60, 80]).entries()) {
        const polygons = nestRings(rings.filter((ring) => ring.length > 2));
        wanted.push(polygons.reduce((all, polygon) => all + polygonArea(polygon), 0));
        for (const polygon of polygons) stack.fill(polygon, limit);
      }
      const shapes = stack.shapes(asTheyAre);
      const areas = filled(shapes);
      for (const [limit, area] of wanted.entries())
        expect(Math.abs((areas.get(limit) ?? 0) - area), `seed ${seed}`).toBeLessThan(1e-6 * area + 1e-6);
      expect([...areas.keys()]).toEqual([...areas.keys()].sort((a, b) => a - b));
    }
  });
});
