import { describe, expect, test } from "vitest";
import {
  containsPoint,
  distanceToBoundary,
  ellipsoidArea,
  ringArea,
  ringFaults,
} from "../../src/geo/index.ts";
import { acres } from "../../src/units/index.ts";
import { type ReadField, readScenario, SCENARIOS } from "./scenarios.ts";

const areaAc = ({ lonLat }: ReadField): number => acres(ellipsoidArea(lonLat));
const vertices = ({ lonLat }: ReadField): number => lonLat.flat(2).length;
const holes = ({ lonLat }: ReadField): number => lonLat.reduce((sum, polygon) => sum + polygon.length - 1, 0);

describe.each(SCENARIOS)("%s", (name) => {
  const { fields, boundary } = readScenario(name);

  test("no ring crosses, touches or repeats itself; holes lie inside; parts lie apart", () => {
    for (const field of fields) expect([field.name, ringFaults(field.plane)]).toEqual([field.name, []]);
    for (const { plane } of fields) {
      for (const [outer, ...inner] of plane) {
        expect(ringArea(outer!)).toBeGreaterThan(0);
        for (const hole of inner) {
          expect(ringArea(hole)).toBeLessThan(0);
          for (const point of hole) expect(distanceToBoundary([[outer!]], point)).toBeGreaterThan(20);
        }
      }
    }
  });

  test("10 to 300 vertices a field", () => {
    for (const field of fields) {
      expect(vertices(field)).toBeGreaterThanOrEqual(10);
      expect(vertices(field)).toBeLessThanOrEqual(300);
    }
  });

  test("every record belongs to one field and says so", () => {
    const { plan } = readScenario(name);
    const used = plan.fields.flatMap((field) =>
      field.boundary.map(({ record }): [number, string] => [record, field.name]),
    );
    expect(used.sort((a, b) => a[0] - b[0])).toEqual(
      boundary.map(({ record, properties }) => [record, properties.FIELD]),
    );
    for (const { properties } of boundary) expect(properties.FARM).toBe(plan.name);
  });

  test("each line A-B is straight, 60 m or more, and passes through its field", () => {
    for (const { line, plane, toPlane } of fields) {
      expect(line).toHaveLength(2);
      const [a, b] = line.map((point) => toPlane(point)) as [[number, number], [number, number]];
      expect(Math.hypot(b[0] - a[0], b[1] - a[1])).toBeGreaterThan(60);
      const along = Array.from({ length: 21 }, (_, i) => i / 20);
      const inside = along.filter((t) =>
        containsPoint(plane, [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])]),
      );
      expect(inside.length).toBeGreaterThan(0);
    }
  });
});

test("single-field is about 150 ac in one part with one hole, a creek edge and a farmstead corner", () => {
  const [field, ...others] = readScenario("single-field").fields;
  expect(others).toEqual([]);
  expect(areaAc(field!)).toBeGreaterThan(145);
  expect(areaAc(field!)).toBeLessThan(155);
  expect([field!.lonLat.length, holes(field!)]).toEqual([1, 1]);
  const [outline] = field!.plane[0]!;
  const box = { x: outline!.map(([x]) => x), y: outline!.map(([, y]) => y) };
  const corner = [Math.min(...box.x) + 40, Math.min(...box.y) + 40] as const;
  expect(containsPoint(field!.plane, corner)).toBe(false);
  const north = outline!.filter(([, y]) => y > Math.max(...box.y) - 90);
  const rises = north.map(([, y], i) => Math.sign(y - (north[i - 1]?.[1] ?? y))).filter((sign) => sign !== 0);
  const turns = rises.filter((sign, i) => i > 0 && sign !== rises[i - 1]).length;
  expect(turns).toBeGreaterThanOrEqual(4);
});

test("home-farm is 70 fields of 15 to 320 ac, 6,000 ac in all, several with holes and several in parts", () => {
  const { fields, plan } = readScenario("home-farm");
  expect(fields).toHaveLength(70);
  const areas = fields.map(areaAc);
  const total = areas.reduce((sum, area) => sum + area, 0);
  expect(Math.abs(total / 6_000 - 1)).toBeLessThan(0.01);
  expect(Math.min(...areas)).toBeGreaterThan(15);
  expect(Math.max(...areas)).toBeLessThan(320);
  expect(fields.filter((field) => holes(field) > 0).length).toBeGreaterThanOrEqual(8);
  expect(fields.filter(({ lonLat }) => lonLat.length > 1).length).toBeGreaterThanOrEqual(5);
  const corn = plan.fields.reduce((sum, { crop }, i) => sum + (crop === "corn" ? areas[i]! : 0), 0);
  expect(Math.abs(corn / total - 0.5)).toBeLessThan(0.05);
});

test("no two fields of home-farm overlap, and neighbours are at least a metre apart", () => {
  const { fields } = readScenario("home-farm");
  const toPlane = fields[0]!.toPlane;
  const planes = fields.map(({ lonLat }) =>
    lonLat.map((polygon) => polygon.map((ring) => ring.map(toPlane))),
  );
  expect(ringFaults(planes.flat())).toEqual([]);
  const boxes = planes.map((plane) => {
    const points = plane.flat(2);
    const [xs, ys] = [points.map(([x]) => x), points.map(([, y]) => y)];
    return [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)] as const;
  });
  planes.forEach((plane, i) => {
    planes.forEach((other, j) => {
      const [west, east, south, north] = boxes[j]!;
      if (i === j) return;
      for (const [x, y] of plane.flat(2)) {
        if (x < west - 1 || x > east + 1 || y < south - 1 || y > north + 1) continue;
        expect(containsPoint(other, [x, y]), `${fields[i]!.name} in ${fields[j]!.name}`).toBe(false);
        expect(distanceToBoundary(other, [x, y])).toBeGreaterThan(1);
      }
    });
  });
});
