import { readFileSync } from "node:fs";
import geodesic from "geographiclib-geodesic";
import { describe, expect, test } from "vitest";
import {
  ellipsoidArea,
  fieldFrame,
  frameCentre,
  type MultiPolygon,
  multiPolygonArea,
  type Point,
  polygonArea,
  type Ring,
  ringArea,
} from "../../src/geo/index.ts";
import { sum } from "../../src/numeric/index.ts";
import { expectedBoundaries, readBoundary, VALID_FILES } from "./boundaries.ts";

const positions = readFileSync(new URL("../data/frame-positions/positions.csv", import.meta.url), "utf8")
  .trim()
  .split("\n")
  .slice(1)
  .map((line) => line.split(",").map(Number) as [number, number, number, number]);

/** GeographicLib's area of a ring whose edges are geodesics, m2, counter-clockwise positive. */
const geodesicRingArea = (ring: Ring): number => {
  const polygon = geodesic.Geodesic.WGS84.Polygon(false);
  for (const [lon, lat] of ring) polygon.AddPoint(lat, lon);
  return polygon.Compute(false, true).area!;
};

const geodesicArea = (area: MultiPolygon): number =>
  sum(
    area.flatMap((polygon) =>
      polygon.map((ring, i) => (i === 0 ? 1 : -1) * Math.abs(geodesicRingArea(ring))),
    ),
  );

/** The ring with each edge cut into pieces that are straight in degrees. */
const densified = (ring: Ring, pieces: number): Ring =>
  ring.flatMap(([x, y], index) => {
    const [toX, toY] = ring[(index + 1) % ring.length]!;
    return Array.from(
      { length: pieces },
      (_, i): Point => [x + ((toX - x) * i) / pieces, y + ((toY - y) * i) / pieces],
    );
  });

describe("frame", () => {
  // PROJ 9.1.0, tests/data/frame-positions. Tolerance: the figures there are rounded to 1e-6 m.
  test("places 126 points where PROJ does", () => {
    const frame = fieldFrame(-94.9, 41.3);
    expect(positions).toHaveLength(126);
    for (const [lon, lat, x, y] of positions) {
      const [ownX, ownY] = frame.toPlane([lon, lat]);
      expect(Math.hypot(ownX - x, ownY - y)).toBeLessThan(1e-6);
    }
  });

  test("comes back to the same degrees, up to 16 km from the centre", () => {
    for (const lat of [-35, 0, 25, 42, 55]) {
      const frame = fieldFrame(-93.4, lat);
      for (const reach of [0, 1, 400, 3_000, 16_000]) {
        const plane: Point = [reach, -0.6 * reach];
        const [x, y] = frame.toPlane(frame.toLonLat(plane));
        expect(Math.hypot(x - plane[0], y - plane[1])).toBeLessThan(1e-7);
      }
    }
  });

  test("is centred on the middle of the bounding box", () => {
    for (const { file, frame } of expectedBoundaries()) {
      const [lon, lat] = frameCentre(readBoundary(file).lonLat);
      expect(lon).toBeCloseTo(frame.lon0, 9);
      expect(lat).toBeCloseTo(frame.lat0, 9);
    }
  });
});

describe("areas", () => {
  // tests/data/boundaries/expected.json; plane and geodesic figures have three decimals, the last exact to about 1e-9.
  test.each(VALID_FILES)("%s: plane, straight in degrees, and geodesic", (file) => {
    const { area } = expectedBoundaries().find((expected) => expected.file === file)!;
    const { lonLat, plane } = readBoundary(file);
    expect(Math.abs(multiPolygonArea(plane) / area.plane_m2 - 1)).toBeLessThan(2e-9);
    expect(Math.abs(ellipsoidArea(lonLat) / area.lonlat_straight_edges_m2 - 1)).toBeLessThan(2e-9);
    expect(Math.abs(geodesicArea(lonLat) / area.geodesic_m2 - 1)).toBeLessThan(2e-9);
    // What acres are taken from: the plane against GeographicLib's own polygon area.
    expect(Math.abs(multiPolygonArea(plane) / geodesicArea(lonLat) - 1)).toBeLessThan(2e-8);
  });

  test("edges straight in degrees: as GeographicLib on the same ring cut very fine", () => {
    const rings: Ring[] = [
      [
        [-93.42, 42.02],
        [-93.4, 42.021],
        [-93.401, 42.04],
        [-93.419, 42.037],
      ],
      [
        [10, -30],
        [10.3, -30.1],
        [10.2, -29.8],
      ],
      [
        [179.99, 50],
        [-179.99, 50.01],
        [179.995, 50.03],
      ],
    ];
    for (const ring of rings) {
      const unwrapped = ring.map(
        ([lon, lat]): Point => [lon < -90 && ring === rings[2] ? lon + 360 : lon, lat],
      );
      const fine = Math.abs(geodesicRingArea(densified(unwrapped, 2_000)));
      expect(Math.abs(ellipsoidArea([[ring]]) / fine - 1)).toBeLessThan(1e-9);
    }
  });

  test("holes are taken away whichever way rings run, and a shift of 1,000 km costs no digits that matter", () => {
    const outer: Ring = [
      [0, 0],
      [300, 0],
      [300, 200],
      [0, 200],
    ];
    const hole: Ring = [
      [10, 10],
      [20, 10],
      [20, 30],
      [10, 30],
    ];
    expect(ringArea(outer)).toBe(60_000);
    expect(ringArea(outer.toReversed())).toBe(-60_000);
    expect(polygonArea([outer, hole])).toBe(59_800);
    expect(polygonArea([outer.toReversed(), hole.toReversed()])).toBe(59_800);
    const away = outer.map(([x, y]): Point => [x + 1_048_576, y - 524_288]);
    expect(ringArea(away)).toBe(60_000);
  });
});
