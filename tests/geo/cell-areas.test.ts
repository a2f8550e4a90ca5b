import { readFileSync } from "node:fs";
import { gunzipSync } from "node:zlib";
import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  boundingGrid,
  cellAreas,
  type Grid,
  latticeTiles,
  type MultiPolygon,
  multiPolygonArea,
  orient,
  overlapCounter,
  type Point,
  type Ring,
  ringArea,
} from "../../src/geo/index.ts";
import { sum } from "../../src/numeric/index.ts";
import { readBoundary, readChain, VALID_FILES } from "./boundaries.ts";
import { nastyField } from "./nasty-fields.ts";

/** Areas per cell by cutting the land at the cells' edges and measuring the pieces: another way to the same figure. */
const areasByCutting = (land: MultiPolygon, grid: Grid): Float64Array => {
  const { cellM } = grid;
  const areas = new Float64Array(grid.nx * grid.ny);
  // The lattice has its first line half a cell off.
  const moved = land.map((polygon) => polygon.map((ring) => ring.map(([x, y]): Point => [x - cellM / 2, y])));
  for (const { pass, column, rings } of latticeTiles(moved, { widthM: cellM, lengthM: cellM })) {
    const area = sum(
      rings.map((flat) =>
        ringArea(Array.from({ length: flat.length / 2 }, (_, i): Point => [flat[2 * i]!, flat[2 * i + 1]!])),
      ),
    );
    const index = (column - grid.iy0) * grid.nx + pass - grid.ix0;
    if (index in areas) areas[index]! += area;
  }
  return areas;
};

describe("a field of 306 acres on a 10 m grid, cut in R", () => {
  // tests/data/chain-need/cells.csv.gz: sf 1.0-9 (GEOS 3.11), area to 6 digits, cells under 0.001 m2 left out.
  const lines = gunzipSync(readFileSync(new URL("../data/chain-need/cells.csv.gz", import.meta.url)))
    .toString()
    .trim()
    .split("\n");
  const expected = lines.slice(1).map((line) => line.split(",").map(Number) as [number, number, number]);
  const { plane } = readChain();
  const grid = boundingGrid(plane, 10);
  const areas = cellAreas(orient(plane), grid);

  test("the boundary has the area", () => {
    expect(multiPolygonArea(plane) / 1_238_105.7317 - 1).toBeLessThan(1e-9);
  });

  test("every cell has the area, and no cell is missing or too many", () => {
    expect(expected).toHaveLength(12_472);
    const known = new Set<number>();
    for (const [ix, iy, areaM2] of expected) {
      const index = (iy - grid.iy0) * grid.nx + ix - grid.ix0;
      known.add(index);
      expect(Math.abs(areas[index]! - areaM2)).toBeLessThan(1e-4);
    }
    const covered = areas.filter((area) => area > 0).length;
    expect(covered).toBeGreaterThanOrEqual(12_472);
    expect(covered).toBeLessThanOrEqual(12_799);
    areas.forEach((area, index) => {
      if (!known.has(index)) expect(area).toBeLessThan(1e-3);
    });
  });

  test("the cells add up to the boundary, and whole cells are whole", () => {
    expect(Math.abs(sum(areas) / multiPolygonArea(plane) - 1)).toBeLessThan(1e-12);
    expect(areas.filter((area) => area === 100).length).toBeGreaterThan(11_000);
    expect(Math.max(...areas)).toBe(100);
  });
});

test.each(VALID_FILES)("%s: cells add up, for cells small and large", (file) => {
  const { plane } = readBoundary(file);
  const land = orient(plane);
  for (const cellM of [5, 10, 33, 1_000]) {
    const areas = cellAreas(land, boundingGrid(land, cellM));
    expect(Math.abs(sum(areas) / multiPolygonArea(land) - 1)).toBeLessThan(1e-12);
    expect(areas.every((area) => area >= 0 && area <= cellM * cellM)).toBe(true);
  }
});

test("each cell as by cutting, on random fields, also with edges on cell edges", () => {
  fc.assert(
    fc.property(nastyField, fc.constantFrom(4.572, 10, 20 / 3, 7.5), ({ land }, cellM) => {
      const grid = boundingGrid(land, cellM);
      const areas = cellAreas(land, grid);
      const cut = areasByCutting(land, grid);
      expect(Math.abs(sum(areas) / multiPolygonArea(land) - 1)).toBeLessThan(1e-11);
      areas.forEach((area, index) => {
        expect(Math.abs(area - cut[index]!)).toBeLessThan(1e-10);
      });
    }),
    { seed: 31, numRuns: 200 },
  );
});

describe("overlapCounter", () => {
  const grid: Grid = { nx: 4, ny: 3, ix0: -2, iy0: -1, cellM: 10 };
  const overlaps = (ring: Ring): [number, number][] => {
    const found: [number, number][] = [];
    overlapCounter(grid)([ring], (cell, areaM2) => found.push([cell, areaM2]));
    return found;
  };

  test("visits the cells a polygon covers, row by row, and only those", () => {
    const found = overlaps([
      [-5, -5],
      [5, -5],
      [5, 5],
      [-5, 5],
    ]);
    expect(found).toEqual([
      [1, 25],
      [2, 25],
      [5, 25],
      [6, 25],
    ]);
  });

  test("leaves out what lies off the grid, on every side", () => {
    const found = overlaps([
      [-100, -100],
      [100, -100],
      [100, 100],
      [-100, 100],
    ]);
    expect(found).toEqual(Array.from({ length: 12 }, (_, cell) => [cell, 100]));
    expect(
      overlaps([
        [50, 50],
        [60, 50],
        [60, 60],
      ]),
    ).toEqual([]);
  });

  test("a polygon on the edges of one cell covers that cell", () => {
    expect(
      overlaps([
        [0, 0],
        [10, 0],
        [10, 10],
        [0, 10],
      ]),
    ).toEqual([[6, 100]]);
  });

  test("keeps nothing from one polygon to the next", () => {
    const count = overlapCounter(grid);
    const shapes: Ring[] = [
      [
        [-19, -9],
        [19, -9],
        [0, 19],
      ],
      [
        [1, 1],
        [2, 1],
        [2, 2],
      ],
    ];
    for (const ring of [...shapes, ...shapes]) {
      let total = 0;
      count([ring], (_, areaM2) => {
        total += areaM2;
      });
      expect(total).toBeCloseTo(ringArea(ring), 10);
    }
  });

  // A cell with under 1e-13 of itself covered, here 1e-11 m2, counts as untouched.
  test("small polygons keep their digits: their overlaps add up to their area", () => {
    fc.assert(
      fc.property(
        fc.tuple(fc.double({ min: -19, max: 18, noNaN: true }), fc.double({ min: -9, max: 18, noNaN: true })),
        fc.constantFrom(1e-3, 0.1, 1),
        ([x, y], size) => {
          const ring: Ring = [
            [x, y],
            [x + size, y + 0.3 * size],
            [x + 0.2 * size, y + size],
          ];
          const total = sum(overlaps(ring).map(([, areaM2]) => areaM2));
          expect(Math.abs(total - ringArea(ring))).toBeLessThan(1e-9 * ringArea(ring) + 3e-11);
        },
      ),
      { seed: 32, numRuns: 300 },
    );
  });
});

test("boundingGrid holds every vertex with edges on multiples of the cell", () => {
  const triangle: Ring = [
    [-3, 21],
    [40, 22],
    [5, 59.9],
  ];
  expect(boundingGrid([[triangle]], 10)).toEqual({ nx: 5, ny: 4, ix0: -1, iy0: 2, cellM: 10 });
});
