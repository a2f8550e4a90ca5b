import fc from "fast-check";
import { describe, expect, test } from "vitest";
import {
  bandFaces,
  type MultiPolygon,
  multiPolygonArea,
  type Point,
  type Polygon,
} from "../../src/geo/index.ts";
import { sum } from "../../src/numeric/index.ts";
import { curveTiles } from "../../src/strips/curve-tiles.ts";
import { type LaidStrips, stripLayout, type WorkedSegment } from "../../src/strips/index.ts";
import { expectedBoundaries, readBoundary } from "../geo/boundaries.ts";
import { nastyField } from "../geo/nasty-fields.ts";
import { bentLine, layAndCheck, layoutFaults } from "./nasty-layouts.ts";

const settings = { endOnFailure: true };

describe("random nasty fields", () => {
  test("with headlands: pieces tile, each is positive and valid, areas add up (1,000 runs)", () => {
    fc.assert(
      fc.property(
        nastyField,
        fc.integer({ min: 0, max: 3 }),
        fc.constantFrom(0.3, 1, 1, 1.7),
        fc.integer({ min: 0, max: 7 }),
        ({ land, widthM, lengthM }, headlandPasses, scale, eighth) => {
          const turn = (eighth * Math.PI) / 4;
          const guidance: Point[] = [
            [0, 0],
            [100 * Math.sin(turn), 100 * Math.cos(turn)],
          ];
          const layout = {
            boundary: land,
            guidance,
            widthM: widthM * scale,
            segmentM: lengthM,
            headlandPasses,
          };
          expect(layAndCheck(layout).faults).toEqual([]);
        },
      ),
      { ...settings, seed: 4_711, numRuns: 1_000 },
    );
  });

  test("along curves: the same (100 runs)", () => {
    fc.assert(
      fc.property(
        nastyField,
        fc.integer({ min: 0, max: 1 }),
        fc.integer({ min: 0, max: 25 }),
        fc.integer({ min: 1, max: 2 }),
        fc.integer({ min: 0, max: 7 }),
        ({ land, widthM, lengthM }, headlandPasses, bendM, waves, eighth) => {
          const guidance = bentLine([5, 8], 200, bendM, waves, (eighth * Math.PI) / 4);
          const layout = { boundary: land, guidance, widthM, segmentM: lengthM, headlandPasses };
          expect(layAndCheck(layout).faults).toEqual([]);
        },
      ),
      { ...settings, seed: 31_416, numRuns: 100 },
    );
  });
});

describe("a planted fault is found", () => {
  const { plane, line } = readBoundary("02-waterways-ponds.geojson");
  const boundary: MultiPolygon = [[plane[0]![0]!, ...plane[0]!.slice(1, 3)]];
  const laid = stripLayout({ boundary, guidance: line, widthM: 27.432, segmentM: 60, headlandPasses: 1 });
  const { segments } = laid;

  const withPolygon = (index: number, change: (polygon: Polygon) => Polygon): LaidStrips => ({
    ...laid,
    segments: segments.map(
      (one, i): WorkedSegment => (i === index ? { ...one, polygon: change(one.polygon) } : one),
    ),
  });
  const moveOne = (polygon: Polygon, by: number): Polygon =>
    polygon.map((ring, r) =>
      r > 0 ? ring : ring.map(([x, y], i): Point => (i === 0 ? [x + by, y + by] : [x, y])),
    );

  test("none in the layout as it is", () => {
    expect(layoutFaults(laid, boundary)).toEqual([]);
  });

  test("one corner of one piece moved by a millimetre: gap and overlap, area all but the same", () => {
    for (let index = 0; index < segments.length; index += 7) {
      const faults = layoutFaults(
        withPolygon(index, (polygon) => moveOne(polygon, 1e-3)),
        boundary,
      );
      expect(faults.map(({ what }) => what)).toContain("tiling");
    }
  });

  test("a piece left out and another laid twice: the total may hide it, the edges do not", () => {
    for (let index = 0; index + 1 < segments.length; index += 11) {
      const doubled = withPolygon(index, () => segments[index + 1]!.polygon);
      expect(layoutFaults(doubled, boundary).map(({ what }) => what)).toContain("tiling");
    }
  });

  test("a headland piece turned round, one with its border crossed", () => {
    const index = segments.findIndex(({ kind }) => kind === "headland");
    const turned = withPolygon(index, (polygon) => polygon.map((ring) => ring.toReversed()));
    expect(layoutFaults(turned, boundary)).not.toEqual([]);
    const crossed = withPolygon(index, ([shell, ...holes]) => {
      const [a, b, ...rest] = shell!;
      return [[b!, a!, ...rest], ...holes];
    });
    expect(layoutFaults(crossed, boundary)).not.toEqual([]);
  });

  test("headland faces that do not add up to their band are refused", () => {
    const square = (half: number): MultiPolygon => [
      [
        [
          [-half, -half],
          [half, -half],
          [half, half],
          [-half, half],
        ],
      ],
    ];
    expect(bandFaces(square(50), square(40), { depthM: 10, stationM: 15 })).toBeDefined();
    // An inner ring that leaves the outer one.
    expect(bandFaces(square(40), square(50), { depthM: 10, stationM: 15 })).toBeUndefined();
  });
});

test("a curve's pieces before rounding sum to the interior to 1e-8", () => {
  const { plane, guidance } = readBoundary("09-contour-curve.geojson");
  const { implement_width_m: widthM } = expectedBoundaries().find(({ file }) => file.startsWith("09"))!;
  const { tiles } = curveTiles(plane, guidance, widthM, 15);
  const areas = tiles.flatMap(({ rings }) =>
    rings.map((flat) => {
      let area = 0;
      for (let i = 0; i < flat.length; i += 2) {
        const j = (i + 2) % flat.length;
        area +=
          ((flat[i]! - flat[0]!) * (flat[j + 1]! - flat[1]!) -
            (flat[j]! - flat[0]!) * (flat[i + 1]! - flat[1]!)) /
          2;
      }
      return area;
    }),
  );
  expect(Math.abs(sum(areas) / multiPolygonArea(plane) - 1)).toBeLessThan(1e-8);
});
