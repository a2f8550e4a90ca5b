// Even-odd and non-zero are held against their definitions, counted point by point; areas against ones worked out by hand.
import fc from "fast-check";
import { describe, expect, it } from "vitest";
import {
  boundaryReadings,
  containsPoint,
  fillRings,
  type MultiPolygon,
  multiPolygonArea,
  overlapAreas,
  type Point,
  type Ring,
  ringFaults,
} from "../../src/geo/index.ts";

const square = (x: number, y: number, size: number): Ring => [
  [x, y],
  [x + size, y],
  [x + size, y + size],
  [x, y + size],
];

/** How often and which way a ring goes round a point: by its angle, another way than the code's. */
function turnsRound(ring: Ring, [x, y]: Point): number {
  let angle = 0;
  ring.forEach(([ax, ay], i) => {
    const [bx, by] = ring[(i + 1) % ring.length]!;
    const [ux, uy, vx, vy] = [ax - x, ay - y, bx - x, by - y];
    angle += Math.atan2(ux * vy - uy * vx, ux * vx + uy * vy);
  });
  return Math.round(angle / (2 * Math.PI));
}

describe("fillRings", () => {
  it("leaves sound polygons as they are", () => {
    const area: MultiPolygon = [[square(0, 0, 10), square(2, 2, 3).toReversed()], [square(20, 0, 5)]];
    for (const rule of ["even-odd", "non-zero"] as const) {
      expect(multiPolygonArea(fillRings(area, rule))).toBe(100 - 9 + 25);
      expect(fillRings(area, rule).map((rings) => rings.length)).toEqual([2, 1]);
    }
  });

  it("tells a figure of eight, a doubled ring, a hole over a border and parts that share an edge", () => {
    const eight: MultiPolygon = [
      [
        [
          [0, 0],
          [2, 2],
          [2, 0],
          [0, 2],
        ],
      ],
    ]; // prettier as one line
    expect(multiPolygonArea(fillRings(eight, "non-zero"))).toBeCloseTo(2, 12);
    expect(fillRings(eight, "non-zero")).toHaveLength(2);
    const doubled: MultiPolygon = [[[...square(0, 0, 3), ...square(0, 0, 3)]]];
    expect(multiPolygonArea(fillRings(doubled, "non-zero"))).toBeCloseTo(9, 12);
    expect(fillRings(doubled, "even-odd")).toEqual([]);
    const across: MultiPolygon = [[square(0, 0, 4), square(3, 1, 2).toReversed()]];
    expect(multiPolygonArea(fillRings(across, "even-odd"))).toBeCloseTo(16 - 2 + 2, 12);
    const side: MultiPolygon = [[square(0, 0, 2)], [square(2, 0, 2)]];
    expect(fillRings(side, "non-zero")).toHaveLength(1);
    expect(multiPolygonArea(fillRings(side, "non-zero"))).toBe(8);
  });

  it("holds to both rules at every point of any ring, and gives sound polygons", () => {
    const coordinate = fc.integer({ min: 0, max: 12 }).map((n) => n + 0);
    const ring = fc.array(fc.tuple(coordinate, coordinate), { minLength: 3, maxLength: 9 });
    fc.assert(
      fc.property(fc.array(ring, { minLength: 1, maxLength: 2 }), (rings) => {
        for (const rule of ["even-odd", "non-zero"] as const) {
          const filled = fillRings(
            rings.map((one) => [one]),
            rule,
          );
          expect(ringFaults(filled).filter(({ kind }) => kind !== "repeated")).toEqual([]);
          for (let i = 0; i < 60; i++) {
            // Off every line through two lattice points of so small a grid.
            const at: Point = [(i % 8) * 1.5 + 0.4142135, Math.floor(i / 8) * 1.5 + 0.7320508];
            const turns = rings.reduce((sum, one) => sum + turnsRound(one, at), 0);
            const isLand = rule === "even-odd" ? turns % 2 !== 0 : turns !== 0;
            if (containsPoint(filled, at) !== isLand) {
              throw new Error(`${rule} at ${at}: ${turns} turns, land ${!isLand}`);
            }
          }
        }
      }),
      { seed: 20260415, numRuns: 150 },
    );
  });
});

describe("boundaryReadings", () => {
  const degrees = (rings: Ring[]): MultiPolygon => [
    rings.map((ring) => ring.map(([x, y]) => [-93 + x * 1e-4, 42 + y * 1e-4])),
  ];

  it("agree on sound rings and on crossings that change nothing", () => {
    const sound = boundaryReadings(degrees([square(0, 0, 60)]));
    expect(sound).toMatchObject({ agree: true, faults: [] });
    // A loop of a few centimetres at a corner, as receivers leave.
    const loop: Ring = [
      [0, 0],
      [60, 0],
      [60, 60],
      [60.004, 60.004],
      [60.004, 60],
      [60, 60.004],
      [0, 60],
    ]; // prettier as one line
    const readings = boundaryReadings(degrees([loop]));
    expect(readings.faults.length).toBeGreaterThan(0);
    expect(readings.agree).toBe(true);
  });

  it("disagree where corners stand in the wrong order", () => {
    const readings = boundaryReadings(
      degrees([
        [
          [0, 0],
          [60, 60],
          [60, 0],
          [0, 40],
        ],
      ]),
    ); // prettier as one line
    expect(readings.agree).toBe(false);
    expect(readings.ringSumM2).toBeLessThan(0.7 * readings.nonZeroM2);
    expect(readings.evenOddM2).toBeCloseTo(readings.nonZeroM2, 3);
  });
});

describe("overlapAreas", () => {
  const at = (x: number, y: number, size: number): MultiPolygon => [
    [square(x, y, size).map(([a, b]): Point => [-93 + a * 1e-4, 42 + b * 1e-4])],
  ];

  it("finds what two share, and nothing where they only touch", () => {
    const found = overlapAreas([at(0, 0, 10), at(8, 0, 10), at(18, 0, 10), at(0, 10, 10), at(2, 2, 3)]);
    expect(found.filter(({ areaM2 }) => areaM2 > 0.01).map(({ one, other }) => [one, other])).toEqual([
      [0, 1],
      [0, 4],
    ]);
    // 2 x 10 and 3 x 3 units of 1e-4 degree: 11.1069 m of latitude, 8.2838 m of longitude at 42 N (to 1 %).
    expect(found[0]!.areaM2 / (20 * 11.1069 * 8.2838)).toBeCloseTo(1, 2);
    expect(found[1]!.areaM2 / (9 * 11.1069 * 8.2838)).toBeCloseTo(1, 2);
  });
});
