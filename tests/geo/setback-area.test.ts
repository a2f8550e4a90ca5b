import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  commonArea,
  containsPoint,
  distanceToBoundary,
  innerPoint,
  joinedArea,
  type MultiPolygon,
  multiPolygonArea,
  type Point,
  setbackArea,
} from "../../src/geo/index.ts";

// Areas of widened shapes by elementary geometry: a polygon widened by d gains perimeter x d + pi d2 (Steiner), a
// line of length L becomes 2 d L + pi d2, a point pi d2.
const square = (x: number, y: number, side: number): MultiPolygon => [
  [
    [
      [x, y],
      [x + side, y],
      [x + side, y + side],
      [x, y + side],
    ],
  ],
];

describe("setbackArea", () => {
  test("a square of 100 m widened by 10 m, with or without a hole", () => {
    const wide = setbackArea({ kind: "polygon", polygons: square(0, 0, 100) }, 10);
    expect(multiPolygonArea(wide)).toBeCloseTo(10_000 + 4_000 + Math.PI * 100, 0);
    const hole = square(40, 40, 20)[0]![0]!.toReversed();
    const ring = setbackArea({ kind: "polygon", polygons: [[square(0, 0, 100)[0]![0]!, hole]] }, 5);
    expect(multiPolygonArea(ring)).toBeCloseTo(10_000 + 2_000 + Math.PI * 25 - 10 * 10, 0);
    expect(ring[0]).toHaveLength(2);
  });

  test("a line and a point", () => {
    const line = setbackArea(
      {
        kind: "line",
        parts: [
          [
            [0, 0],
            [200, 0],
          ],
        ],
      },
      7.5,
    );
    expect(multiPolygonArea(line)).toBeCloseTo(2 * 7.5 * 200 + Math.PI * 7.5 ** 2, 0);
    const well = setbackArea({ kind: "point", at: [3, 4] }, 15);
    expect(multiPolygonArea(well)).toBeCloseTo(Math.PI * 225, 0);
  });

  test("at distance 0 a polygon is itself, a point and a line are nothing", () => {
    expect(multiPolygonArea(setbackArea({ kind: "polygon", polygons: square(0, 0, 10) }, 0))).toBeCloseTo(
      100,
      6,
    );
    expect(setbackArea({ kind: "point", at: [0, 0] }, 0)).toEqual([]);
    expect(() => setbackArea({ kind: "point", at: [0, 0] }, -1)).toThrow(/-1/);
  });

  test("every place nearer than the distance lies in it, every place farther does not (5 mm apart)", () => {
    const outer: Point[] = [
      [0, 0],
      [120, 10],
      [90, 80],
      [60, 30],
      [10, 90],
    ];
    const land: MultiPolygon = [[outer]];
    const wide = setbackArea({ kind: "polygon", polygons: land }, 12);
    fc.assert(
      fc.property(
        fc.double({ min: -40, max: 160, noNaN: true }),
        fc.double({ min: -40, max: 130, noNaN: true }),
        (x, y) => {
          const away = containsPoint(land, [x, y]) ? 0 : distanceToBoundary(land, [x, y]);
          if (Math.abs(away - 12) > 0.006) expect(containsPoint(wide, [x, y])).toBe(away < 12);
        },
      ),
      { seed: 20_261_125, numRuns: 400 },
    );
  });
});

describe("joinedArea, commonArea, innerPoint", () => {
  test("areas of squares that overlap", () => {
    const [a, b] = [square(0, 0, 10), square(5, 5, 10)];
    expect(multiPolygonArea(joinedArea([a, b]))).toBeCloseTo(175, 6);
    expect(multiPolygonArea(commonArea(a, b))).toBeCloseTo(25, 6);
    expect(commonArea(a, square(50, 50, 5))).toEqual([]);
    expect(commonArea(a, [])).toEqual([]);
  });

  test("a piece whose edge lies along a hole of the other, to a millimetre", () => {
    const hole = square(40, 40, 20)[0]![0]!.toReversed();
    const land: MultiPolygon = [[square(0, 0, 100)[0]![0]!, hole]];
    for (const offM of [-0.001, -0.00003, 0, 0.00003, 0.001]) {
      const half = square(40 + offM, -10, 120);
      const wanted = (60 - offM) * 100 - (20 - Math.max(0, offM)) * 20;
      expect(multiPolygonArea(commonArea(half, land))).toBeCloseTo(wanted, 1);
    }
  });

  test("the inner point lies inside, also in a bent shape and beside a hole", () => {
    const bent: MultiPolygon = [
      [
        [
          [0, 0],
          [100, 0],
          [100, 5],
          [5, 5],
          [5, 100],
          [0, 100],
        ],
      ],
    ];
    expect(containsPoint(bent, innerPoint(bent)!)).toBe(true);
    const ring: MultiPolygon = [[square(0, 0, 100)[0]![0]!, square(2, 2, 96)[0]![0]!.toReversed()]];
    expect(containsPoint(ring, innerPoint(ring)!)).toBe(true);
    expect(innerPoint([])).toBeUndefined();
  });
});
