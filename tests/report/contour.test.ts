import { describe, expect, test } from "vitest";
import { type Grid, ringArea } from "../../src/geo/index.ts";
import { contour, regionsAbove, surfaceOf } from "../../src/report/index.ts";

const grid: Grid = { nx: 60, ny: 50, ix0: -30, iy0: -25, cellM: 10 };

/** A value at every cell centre, metres east and north. */
const over = (value: (east: number, north: number) => number): Float64Array =>
  Float64Array.from({ length: grid.nx * grid.ny }, (_, i) =>
    value(
      (grid.ix0 + (i % grid.nx) + 0.5) * grid.cellM,
      (grid.iy0 + Math.floor(i / grid.nx) + 0.5) * grid.cellM,
    ),
  );

const areaOf = (rings: readonly (readonly (readonly [number, number])[])[]): number =>
  rings.reduce((all, ring) => all + ringArea(ring), 0);

describe("regionsAbove", () => {
  // Area of a circle, pi r^2; a cone's contours are circles.
  test("of a cone are circles, high ground to the left, one within the other", () => {
    const cone = surfaceOf(
      grid,
      over((east, north) => 100 - Math.hypot(east - 3, north + 7)),
    );
    const regions = regionsAbove(cone, [-80, -40, 0, 40]);
    regions.forEach((rings, k) => {
      const radius = 180 - 40 * k;
      expect(rings).toHaveLength(1);
      expect(Math.abs(areaOf(rings) / (Math.PI * radius ** 2) - 1)).toBeLessThan(0.01);
    });
  });

  test("of a tilted plane lie on straight lines at their limits", () => {
    const plane = surfaceOf(
      grid,
      over((east) => east / 10),
    );
    const [rings] = regionsAbove(plane, [7.3]);
    const inside = rings![0]!.filter(([east, north]) => east < 280 && Math.abs(north) < 240);
    expect(inside.length).toBeGreaterThan(40);
    for (const [east] of inside) expect(east).toBeCloseTo(73, 6);
  });

  test("show no class that no cell has: at a cliff all limits cross half-way", () => {
    const cliff = surfaceOf(
      grid,
      over((east) => (east < 0 ? 0 : 100)),
    );
    const regions = regionsAbove(cliff, [20, 40, 60, 80]);
    const areas = regions.map(areaOf);
    for (const area of areas) expect(area).toBeCloseTo(areas[0]!, 6);
    expect(Math.min(...regions[0]![0]!.map(([east]) => east))).toBeCloseTo(0, 6);
  });

  test("saddles leave no crossing rings: areas above fall as the limit rises", () => {
    const saddles = surfaceOf(
      grid,
      over((east, north) => Math.sin(east / 17) * Math.cos(north / 13)),
    );
    const limits = [-0.8, -0.4, -0.1, 0.1, 0.4, 0.8];
    const areas = regionsAbove(saddles, limits).map(areaOf);
    areas.slice(1).forEach((area, k) => {
      expect(area).toBeLessThan(areas[k]!);
    });
  });
});

test("places without a value take the nearest one's, and a map without values is refused", () => {
  const half = over((east) => (east < 0 ? 5 : Number.NaN));
  const rings = contour(surfaceOf(grid, half), 4);
  expect(rings).toHaveLength(1);
  expect(areaOf(rings)).toBeGreaterThan(grid.nx * grid.ny * 100);
  expect(() => surfaceOf(grid, new Float64Array(grid.nx * grid.ny).fill(Number.NaN))).toThrow(/single value/);
});
