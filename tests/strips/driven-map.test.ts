import { describe, expect, test } from "vitest";
import { type MultiPolygon, type Point, polygonFinder, repairBoundary } from "../../src/geo/index.ts";
import { sum } from "../../src/numeric/index.ts";
import { type RatedPiece, stretchRates, stripLayout } from "../../src/strips/index.ts";
import { acres } from "../../src/units/index.ts";
import { expectedBoundaries, readBoundary } from "../geo/boundaries.ts";
import { driveMap, type RatedPolygon, stretchPolygons } from "../support/driven-map.ts";

/** Rates wanted, lb/ac, from two waves a few hundred metres long: a map with classes all over the field. */
const wanted = ([x, y]: Point): number => 180 + 80 * Math.sin(x / 90) + 60 * Math.cos(y / 130 + x / 400);

const middleOf = (polygon: readonly (readonly Point[])[]): Point => {
  const ring = polygon[0]!;
  return [sum(ring.map(([x]) => x)) / ring.length, sum(ring.map(([, y]) => y)) / ring.length];
};

const stretchMap = (file: string) => {
  const { plane, line } = readBoundary(file);
  const expected = expectedBoundaries().find((one) => one.file === file)!;
  const land: MultiPolygon = repairBoundary(plane).repaired;
  const widthM = expected.implement_width_m;
  const laid = stripLayout({
    boundary: land,
    guidance: line,
    widthM,
    segmentM: 15,
    headlandPasses: expected.headland_passes,
  });
  const runs = laid.runs.map(({ segments }) =>
    segments.map((member): RatedPiece => {
      const { polygon, areaM2, alongStartM, alongEndM } = laid.segments[member]!;
      return { areaAc: acres(areaM2), lengthM: alongEndM - alongStartM, lbPerAc: wanted(middleOf(polygon)) };
    }),
  );
  const rated = stretchRates(runs, { shortestM: 43, stepLbPerAc: 10 });
  const map = stretchPolygons(laid, rated.stretches).flatMap((polygons, i): RatedPolygon[] =>
    polygons.map((polygon) => ({ polygon, lbPerAc: rated.stretches[i]!.rateLbPerAc })),
  );
  return { land, line, widthM, map, rated };
};

const turned = ([a, b]: readonly [Point, Point], degrees: number): [Point, Point] => {
  const angle = (degrees * Math.PI) / 180;
  const [x, y] = [b[0] - a[0], b[1] - a[1]];
  return [
    a,
    [a[0] + x * Math.cos(angle) - y * Math.sin(angle), a[1] + x * Math.sin(angle) + y * Math.cos(angle)],
  ];
};

const aside = ([a, b]: readonly [Point, Point], metres: number): [Point, Point] => {
  const length = Math.hypot(b[0] - a[0], b[1] - a[1]);
  const [x, y] = [((b[1] - a[1]) / length) * metres, (-(b[0] - a[0]) / length) * metres];
  return [
    [a[0] + x, a[1] + y],
    [b[0] + x, b[1] + y],
  ];
};

// 07 is left out: with necks and wedges narrower than the rig the middle of a pass is often off the field.
describe.each([
  "01-quarter-corner-out.geojson",
  "02-waterways-ponds.geojson",
  "04-multipart-road-ditch.geojson",
])("%s driven otherwise than it was laid", (file) => {
  const { land, line, widthM, map, rated } = stretchMap(file);
  const ways: [string, [Point, Point]][] = [
    ["as laid", [...line]],
    ["half a width off", aside(line, widthM / 2)],
    ["7 degrees off", turned(line, 7)],
    ["square to it", turned(line, 90)],
    ["askew and a third of a width off", aside(turned(line, 33), widthM / 3)],
  ];

  test("the stretches keep the total wanted to 0.1 %", () => {
    expect(Math.abs(rated.ratedLb / rated.wantedLb - 1)).toBeLessThan(1e-3);
    const onMap = sum(map.map(({ polygon, lbPerAc }) => areaAc(polygon) * lbPerAc));
    expect(Math.abs(onMap / rated.ratedLb - 1)).toBeLessThan(1e-9);
  });

  test.each(ways)("%s: the total to 1 %%, and the pattern", (_, way) => {
    const driven = driveMap(map, { land, line: way, widthM, lookM: 5 });
    const lb = sum(driven.map((cell) => cell.areaAc * cell.lbPerAc));
    expect(Math.abs(lb / rated.ratedLb - 1)).toBeLessThan(0.01);
    // Against what the place wanted: the share of its variance that is right.
    const ac = sum(driven.map((cell) => cell.areaAc));
    const meanLb = sum(driven.map((cell) => cell.areaAc * wanted(middleOf(cell.polygon)))) / ac;
    const off = sum(driven.map((cell) => cell.areaAc * (cell.lbPerAc - wanted(middleOf(cell.polygon))) ** 2));
    const spread = sum(driven.map((cell) => cell.areaAc * (wanted(middleOf(cell.polygon)) - meanLb) ** 2));
    expect(1 - off / spread).toBeGreaterThan(0.9);
  });
});

const areaAc = (polygon: readonly (readonly Point[])[]): number =>
  acres(
    sum(
      polygon.flatMap((ring) =>
        ring.map(([x, y], i) => {
          const [nextX, nextY] = ring[(i + 1) % ring.length]!;
          const [refX, refY] = polygon[0]![0]!;
          return ((x - refX) * (nextY - refY) - (nextX - refX) * (y - refY)) / 2;
        }),
      ),
    ),
  );

test("off the map nothing comes down", () => {
  const box: MultiPolygon = [
    [
      [
        [0, 0],
        [20, 0],
        [20, 20],
        [0, 20],
      ],
    ],
  ];
  const line: Point[] = [
    [5, 0],
    [5, 20],
  ];
  const driven = driveMap([], { land: box, line, widthM: 10, lookM: 5 });
  expect(driven.every(({ lbPerAc }) => lbPerAc === 0)).toBe(true);
  expect(sum(driven.map((cell) => cell.areaAc))).toBeCloseTo(acres(400), 9);
  expect(polygonFinder([])([1, 1])).toBe(-1);
});
