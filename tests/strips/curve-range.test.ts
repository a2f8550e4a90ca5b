import fc from "fast-check";
import { describe, expect, test } from "vitest";
import type { MultiPolygon, Point } from "../../src/geo/index.ts";
import { stripLayout } from "../../src/strips/index.ts";
import { layAndCheck } from "./nasty-layouts.ts";

/** Rows 30 inches apart. */
const widthOf = (rows: number): number => rows * 30 * 0.0254;

const turned = ([x, y]: Point, by: number): Point => [
  x * Math.cos(by) - y * Math.sin(by),
  x * Math.sin(by) + y * Math.cos(by),
];

const squareOf = (sideM: number, by: number): MultiPolygon => [
  [
    [
      [0, 0],
      [sideM, 0],
      [sideM, sideM],
      [0, sideM],
    ].map((corner) => turned(corner as unknown as Point, by)),
  ],
];

/** An arc of a circle about a centre, from one angle through another, in chords of about so many metres. */
const arcOf = ([cx, cy]: Point, radiusM: number, from: number, through: number, chordM: number): Point[] => {
  const steps = Math.max(2, Math.ceil((radiusM * Math.abs(through)) / chordM));
  return Array.from({ length: steps + 1 }, (_, i): Point => {
    const angle = from + (through * i) / steps;
    return [cx + radiusM * Math.cos(angle), cy + radiusM * Math.sin(angle)];
  });
};

describe("land that lies farther from a curve than any corner", () => {
  test("a square open to a bend: the far edge's middle gets its passes, each where its distance says", () => {
    // An eighth of a circle each way round (200, 300), 300 m off, then straight at 45 degrees. By hand: a top corner lies
    // (12.1 + 312.1) / sqrt(2) = 229.3 m from it, the middle of the top edge 300 + 100 / sqrt(2) = 370.7 m.
    const widthM = widthOf(16);
    const guidance: Point[] = [
      [-112.132, 187.868],
      ...arcOf([200, 300], 300, 1.25 * Math.PI, Math.PI / 2, 1),
      [512.132, 187.868],
    ];
    const { segments } = stripLayout({
      boundary: squareOf(400, 0),
      guidance,
      widthM,
      segmentM: 30,
      headlandPasses: 0,
    });
    expect(Math.min(...segments.map(({ pass }) => pass))).toBe(-Math.floor(370.7 / widthM + 0.5));
    expect(segments.reduce((total, { areaM2 }) => total + areaM2, 0)).toBeCloseTo(160_000, 1);
    // Left of the line positive. Each ring is good to about 4 mm, and one far in may be cut from three others.
    const leftOfBendM = (x: number, y: number): number => {
      const [out, up] = [Math.abs(x - 200), y - 300];
      return out + up <= 0 ? 300 - Math.hypot(out, up) : 300 - (out - up) / Math.SQRT2;
    };
    for (const { pass, polygon } of segments) {
      for (const [x, y] of polygon.flat()) {
        expect(Math.abs(leftOfBendM(x, y) + pass * widthM)).toBeLessThan(widthM / 2 + 0.012);
      }
    }
  });

  test("four-cornered squares along gentle curves: passes tile the field (60 runs)", () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 200, max: 500 }),
        fc.integer({ min: 0, max: 359 }),
        fc.integer({ min: 260, max: 1_000 }),
        fc.integer({ min: -9, max: 9 }),
        fc.constantFrom(8, 12, 16, 24),
        (sideM, degrees, radiusM, tenths, rows) => {
          const land = squareOf(sideM, (degrees * Math.PI) / 180);
          const through = Math.min(1.2, (1.1 * sideM) / radiusM);
          const guidance = arcOf([(tenths * sideM) / 10, -radiusM], radiusM, 1.2, through, 10);
          const layout = { boundary: land, guidance, widthM: widthOf(rows), segmentM: 30, headlandPasses: 0 };
          const { laid, faults } = layAndCheck(layout);
          expect(faults).toEqual([]);
          const areaM2 = laid.segments.reduce((total, segment) => total + segment.areaM2, 0);
          expect(Math.abs(areaM2 / sideM ** 2 - 1)).toBeLessThan(1e-6);
        },
      ),
      { seed: 2_027, numRuns: 60, endOnFailure: true },
    );
  });
});
