import { describe, expect, test } from "vitest";
import {
  boundaryReadings,
  type MultiPolygon,
  multiPolygonArea,
  orient,
  type Ring,
  repairBoundary,
  repairLonLat,
  ringFaults,
} from "../../src/geo/index.ts";
import { frozen } from "../formats/support.ts";
import { expectedBoundaries, readBoundary } from "./boundaries.ts";
import { box } from "./box.ts";

describe.each(expectedBoundaries())("$file", ({ file, valid, area, repaired: counts }) => {
  // tests/data/boundaries: GEOS 3.11.1, st_make_valid "structure", which is the non-zero rule part by part.
  const { plane, lonLat } = readBoundary(file);
  const { repaired, crumbs, places } = repairBoundary(plane);

  test("area, parts and holes are GEOS's", () => {
    expect(Math.abs(multiPolygonArea(repaired) / area.geodesic_m2 - 1)).toBeLessThan(area.rel_tol);
    expect(repaired.length).toBe(counts.parts_over_0_1_m2);
    expect(repaired.reduce((count, polygon) => count + polygon.length - 1, 0)).toBe(counts.holes_over_0_1_m2);
  });

  test("the result is sound", () => {
    expect(ringFaults(repaired)).toEqual([]);
  });

  test(valid ? "nothing was done" : "the places are named", () => {
    if (valid) {
      expect(places).toEqual([]);
      expect(crumbs).toEqual([]);
      expect(repaired).toEqual(orient(plane));
    } else {
      expect(places.length).toBeGreaterThan(0);
    }
  });

  test("in degrees: the same area, and vertices that stay keep their digits", () => {
    const again = repairLonLat(lonLat);
    const vertices = new Set(lonLat.flat(2).map(String));
    const kept = again.repaired.flat(2).filter((point) => vertices.has(String(point)));
    expect(kept.length).toBeGreaterThan(0.85 * again.repaired.flat(2).length);
    expect(again.repaired.length).toBe(counts.parts_over_0_1_m2);
  });
});

test("03: crumbs of digitising are dropped and told, each under 0.1 m2", () => {
  const { crumbs } = repairBoundary(readBoundary("03-river-edge.geojson").plane);
  expect(crumbs.length).toBeGreaterThan(10);
  expect(crumbs.every(({ areaM2 }) => areaM2 > 0 && areaM2 < 0.1)).toBe(true);
  expect(crumbs.reduce((sum, { areaM2 }) => sum + areaM2, 0)).toBeLessThan(2);
});

test("06: the non-zero reading counts what two holes share as no land", () => {
  // expected.json: 432,178.984 with edges straight in degrees; by the winding of all rings at once it would be 435,415.
  const { lonLat } = readBoundary("06-digitising-faults.geojson");
  const readings = boundaryReadings(lonLat);
  expect(readings.nonZeroM2).toBeCloseTo(432_178.984, 1);
  expect(readings.agree).toBe(false);
});

describe("by hand", () => {
  const areaOf = (boundary: MultiPolygon): number => multiPolygonArea(repairBoundary(boundary).repaired);
  const field = box(0, 0, 100, 100);

  test("a figure of eight keeps both lobes, whichever way they run", () => {
    const eight: Ring = [
      [0, 0],
      [100, 100],
      [100, 0],
      [0, 100],
    ];
    expect(areaOf([[eight]])).toBeCloseTo(5_000, 6);
    expect(areaOf([[eight.toReversed()]])).toBeCloseTo(5_000, 6);
  });

  test("two holes that overlap and run opposite ways are one hole", () => {
    const holes = [box(20, 20, 50, 50), box(40, 40, 70, 70).toReversed()];
    expect(areaOf([[field, ...holes]])).toBeCloseTo(10_000 - 900 - 900 + 100, 6);
  });

  test("a hole half outside takes its inner half; one wholly outside adds no land", () => {
    expect(areaOf([[field, box(90, 40, 110, 60)]])).toBeCloseTo(9_800, 6);
    expect(areaOf([[field, box(150, 40, 170, 60), box(90, 40, 110, 60)]])).toBeCloseTo(9_800, 6);
  });

  test("a part in another part's hole stays; parts that overlap are united", () => {
    const island = [box(45, 45, 55, 55)];
    expect(areaOf([[field, box(30, 30, 70, 70), box(60, 60, 80, 80)], island])).toBeCloseTo(
      10_000 - 1_600 - 400 + 100 + 100,
      6,
    );
    expect(areaOf([[field], [box(90, 0, 150, 100)]])).toBeCloseTo(15_000, 6);
  });

  test("a tenth of a square metre stays, less goes", () => {
    const crossing = box(90, 0, 150, 100);
    const kept = repairBoundary([[field], [crossing], [box(200, 0, 200.4, 0.26)]]);
    expect(kept.repaired).toHaveLength(2);
    const dropped = repairBoundary([[field], [crossing], [box(200, 0, 200.4, 0.24)]]);
    expect(dropped.repaired).toHaveLength(1);
    expect(dropped.crumbs).toEqual([
      { kind: "part", place: expect.anything(), areaM2: expect.closeTo(0.096, 6) },
    ]);
  });

  test("input is left as it was", () => {
    const boundary = frozen([[field, box(90, 40, 110, 60)]]);
    expect(repairBoundary(boundary)).toEqual(repairBoundary(structuredClone(boundary)));
  });
});
