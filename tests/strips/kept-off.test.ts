import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  boundsOf,
  commonArea,
  type MultiPolygon,
  multiPolygonArea,
  type Point,
  setbackArea,
} from "../../src/geo/index.ts";
import { stripLayout, stripSegments } from "../../src/strips/index.ts";
import { nastyField } from "../geo/nasty-fields.ts";
import { bentLine, layAndCheck } from "./nasty-layouts.ts";

const square = (west: number, south: number, side: number): MultiPolygon => [
  [
    [
      [west, south],
      [west + side, south],
      [west + side, south + side],
      [west, south + side],
    ],
  ],
];

describe("ground that is kept off", () => {
  const layout = {
    boundary: square(0, 0, 120),
    guidance: [
      [6, 0],
      [6, 120],
    ] as const,
    widthM: 12,
    segmentM: 30,
    headlandPasses: 0,
  };

  test("cuts the passes it touches straight across, and the whole width is off", () => {
    // Reaches over passes 2 and 3 (24 to 48 m), from 40 to 52 m along.
    const keptOff: MultiPolygon = [
      [
        [
          [30, 40],
          [42, 40],
          [42, 52],
          [30, 52],
        ],
      ],
    ];
    const { segments } = stripLayout({ ...layout, keptOff });
    const off = segments.filter((segment) => segment.keptOff);
    expect(off.map(({ pass }) => pass)).toEqual([2, 3]);
    for (const { areaM2, alongStartM, alongEndM } of off) {
      expect(alongStartM).toBeCloseTo(39.995, 3);
      expect(alongEndM).toBeCloseTo(52.005, 3);
      expect(areaM2).toBeCloseTo(12 * 12.01, 3);
    }
    expect(segments.length).toBe(stripLayout(layout).segments.length + 4);
    const cells = stripSegments({ ...layout, line: layout.guidance, keptOff });
    expect(cells.filter((cell) => cell.keptOff).length).toBe(2);
  });

  test("less than a metre is not left between it and the end of a segment; a common edge does not count", () => {
    const keptOff: MultiPolygon = [
      [
        [
          [26, 30.4],
          [34, 30.4],
          [34, 59.5],
          [26, 59.5],
        ],
      ],
    ];
    const { segments } = stripLayout({ ...layout, keptOff });
    const off = segments.filter((segment) => segment.keptOff);
    expect(off.map(({ alongStartM, alongEndM }) => [alongStartM, alongEndM])).toEqual([[30, 60]]);
    const beside = stripLayout({ ...layout, keptOff: square(-50, 0, 50) });
    expect(beside.segments.some((segment) => segment.keptOff)).toBe(false);
  });

  test("on random nasty fields, with headlands and along curves, pieces still tile and none that gets a rate reaches into it (150 runs)", () => {
    fc.assert(
      fc.property(
        nastyField,
        fc.integer({ min: 0, max: 2 }),
        fc.boolean(),
        fc.tuple(fc.double({ min: 0, max: 1, noNaN: true }), fc.double({ min: 0, max: 1, noNaN: true })),
        fc.double({ min: 0.5, max: 40, noNaN: true }),
        ({ land, widthM, lengthM }, headlandPasses, isCurve, [east, north], radiusM) => {
          const { minX, minY, maxX, maxY } = boundsOf(land);
          const at: Point = [minX + east * (maxX - minX), minY + north * (maxY - minY)];
          const keptOff = setbackArea({ kind: "point", at }, radiusM);
          const guidance: readonly Point[] = isCurve
            ? bentLine([5, 8], 220, 10, 2, 0.4)
            : [
                [0, 0],
                [40, 90],
              ];
          const { laid, faults } = layAndCheck({
            boundary: land,
            guidance,
            widthM,
            segmentM: lengthM,
            headlandPasses: isCurve ? Math.min(1, headlandPasses) : headlandPasses,
            keptOff,
          });
          expect(faults).toEqual([]);
          for (const { polygon, keptOff: isOff } of laid.segments) {
            if (isOff) continue;
            // Under 0.1 m2 is a touch; corners move by 0.1 mm.
            expect(multiPolygonArea(commonArea(keptOff, [polygon]))).toBeLessThan(0.11);
          }
        },
      ),
      { seed: 815, numRuns: 150, endOnFailure: true },
    );
  });
});
