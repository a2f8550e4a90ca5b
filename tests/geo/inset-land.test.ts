import { describe, expect, test } from "vitest";
import {
  distanceToBoundary,
  insetLand,
  type MultiPolygon,
  multiPolygonArea,
  type Ring,
  repairBoundary,
  ringFaults,
} from "../../src/geo/index.ts";
import { acres } from "../../src/units/index.ts";
import { expectedBoundaries, readBoundary } from "./boundaries.ts";

describe.each(expectedBoundaries())(
  "$file",
  ({ file, implement_width_m: widthM, headlands, ...expected }) => {
    const { repaired } = repairBoundary(readBoundary(file).plane);
    const rings: MultiPolygon[] = [repaired];
    for (const _ of headlands) rings.push(insetLand(rings.at(-1)!, widthM));

    // tests/data/boundaries: GEOS 3.11.1 buffers with 100 segments a quarter circle.
    test.each(headlands.map((headland, k) => [k + 1, headland] as const))(
      "%i widths in: the area and parts that GEOS leaves",
      (k, { interior_ac, headland_ac, interior_parts }) => {
        const interiorAc = acres(multiPolygonArea(rings[k]!));
        expect(Math.abs(interiorAc / interior_ac - 1)).toBeLessThan(expected.rel_tol_offset_area);
        expect(rings[k]!.length).toBe(interior_parts);
        expect(ringFaults(rings[k]!)).toEqual([]);
        // The headland is small against the field: the same error counts for more, most where crumbs were dropped.
        const headlandAc = acres(multiPolygonArea(repaired)) - interiorAc;
        expect(Math.abs(headlandAc - headland_ac)).toBeLessThan(expected.rel_tol_offset_area * interior_ac);
      },
    );

    test("every corner of a ring lies the right way from the border, with no reference at all", () => {
      rings.slice(1).forEach((ring, index) => {
        const points = ring.flat(2);
        // A sample of the corners: every one is slow on 08.
        const probes = points.filter((_, i) => i % Math.ceil(points.length / 150) === 0);
        for (const point of probes) {
          expect(Math.abs(distanceToBoundary(repaired, point) - (index + 1) * widthM)).toBeLessThan(0.012);
        }
      });
    });
  },
);

describe("by hand", () => {
  const square: Ring = [
    [0, 0],
    [100, 0],
    [100, 100],
    [0, 100],
  ];

  test("a square stays square", () => {
    expect(multiPolygonArea(insetLand([[square]], 10))).toBeCloseTo(80 * 80, 6);
  });

  test("a corner that sticks into the land comes out round", () => {
    const corner: Ring = [
      [0, 0],
      [100, 0],
      [100, 100],
      [50, 100],
      [50, 50],
      [0, 50],
    ];
    // The two legs less their strips, and the quarter circle's square less the circle at the inner corner.
    const exact = 80 * 30 + 30 * 50 + (100 - (Math.PI / 4) * 100);
    // Chords lie within 2 mm of the arc and dropped vertices within 1.5 mm of what stays, along 15.7 m.
    expect(Math.abs(multiPolygonArea(insetLand([[corner]], 10)) - exact)).toBeLessThan(0.0035 * 5 * Math.PI);
  });

  test("nothing is left of land narrower than twice the distance", () => {
    expect(insetLand([[square]], 50.01)).toEqual([]);
  });

  test("a hole grows round, and holes that meet leave no land between", () => {
    const hole: Ring = [
      [40, 40],
      [40, 60],
      [60, 60],
      [60, 40],
    ];
    const [polygon, ...more] = insetLand([[square, hole]], 5);
    expect(more).toEqual([]);
    const grown = 400 + 4 * 20 * 5 + Math.PI * 25;
    expect(Math.abs(multiPolygonArea([polygon!]) - (90 * 90 - grown))).toBeLessThan(0.05);
  });
});
