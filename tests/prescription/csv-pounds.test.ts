// A table of many equal segments at one low rate: what each row rounds off must not add up. Figures by hand.
import { expect, test } from "vitest";
import type { Point, Polygon } from "../../src/geo/index.ts";
import type { Prescription } from "../../src/prescription/index.ts";
import { csvExtra } from "../../src/prescription/looking-extras.ts";
import { noNutrients } from "../../src/products/index.ts";

test("209 segments of 5 lb/ac and 0.024 854 86 ac add up to their 25.973 33 lb", () => {
  const count = 209;
  const acEach = 0.02485486;
  const square = (k: number): Polygon => {
    const [x, y, d] = [-93 + k * 1e-4, 42, 1e-4];
    const ring: Point[] = [
      [x, y],
      [x + d, y],
      [x + d, y + d],
      [x, y + d],
      [x, y],
    ];
    return [ring];
  };
  const totalLb = count * 5 * acEach;
  const map: Prescription = {
    ...{ field: "home", pass: "strip", bin: "R", product: "0-0-60", stem: "HOME_R_0060" },
    ...{ analysis: { ...noNutrients, k2o: 60 }, areaAc: count * acEach, totalLb, needLb: totalLb },
    ...{ meanLbPerAc: 5, minLbPerAc: 5, maxLbPerAc: 5, polygons: count, files: new Map() },
    rateLbPerAc: new Float64Array(count).fill(5),
  };
  const { files } = csvExtra(map, {
    polygons: Array.from({ length: count }, (_, k) => square(k)),
    zones: Array.from({ length: count }, (_, k) => `0-${k}`),
    areaAc: new Float64Array(count).fill(acEach),
    pieces: Array.from({ length: count }, (_, column) => ({ pass: 0, column })),
  });
  const [headings, ...rows] = new TextDecoder()
    .decode([...files.values()][0]!)
    .trim()
    .split(/\r?\n/);
  const at = headings!.split(",").indexOf("lb");
  const lb = rows.map((row) => Number(row.split(",")[at]));
  expect(lb.length).toBe(count);
  // Each row is its own pounds but for a unit of the last place; 0.124 274 3 alone would lose 0.0009 lb in all.
  for (const one of lb) expect(Math.abs(one - 5 * acEach)).toBeLessThan(1.1e-5);
  const sum = lb.reduce((all, one) => all + one, 0);
  expect(Math.abs(sum - 25.9733287)).toBeLessThan(6e-6);
});
