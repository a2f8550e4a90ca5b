import { describe, expect, test } from "vitest";
import { containsPoint, distanceToBoundary, ellipsoidArea, type Point } from "../../src/geo/index.ts";
import { CLEAR_OF_EDGE_M, type SoilAt } from "../../src/scenario/index.ts";
import { readLabTable } from "../../src/soil/index.ts";
import { acres } from "../../src/units/index.ts";
import { readScenario, SCENARIOS, samplesOf, scenarioOf, seedOf } from "./scenarios.ts";

const mean = (values: readonly number[]): number =>
  values.reduce((sum, value) => sum + value, 0) / values.length;
const sd = (values: readonly number[]): number => {
  const middle = mean(values);
  return Math.sqrt(mean(values.map((value) => (value - middle) ** 2)));
};
const correlation = (a: readonly number[], b: readonly number[]): number => {
  const [ma, mb] = [mean(a), mean(b)];
  return mean(a.map((value, i) => (value - ma) * (b[i]! - mb))) / (sd(a) * sd(b));
};

describe.each(SCENARIOS)("%s", (name) => {
  const read = readScenario(name);
  const { truth } = scenarioOf(name);
  const samples = samplesOf(read);
  const seed = seedOf(name);

  test("every sample lies in the field it names, clear of the edges", () => {
    const byName = new Map(read.fields.map((field) => [field.name, field]));
    for (const { field, lonLat } of samples) {
      const { plane, toPlane } = byName.get(field)!;
      const place: Point = toPlane(lonLat);
      expect(containsPoint(plane, place)).toBe(true);
      // 6 decimals in the table are up to 7 cm, 7 in the boundary up to 1 cm.
      expect(distanceToBoundary(plane, place)).toBeGreaterThan(CLEAR_OF_EDGE_M - 0.1);
    }
  });

  test("about one sample for every 2.5 ac, three or more in every field", () => {
    const total = acres(ellipsoidArea(read.fields.flatMap(({ lonLat }) => lonLat)));
    expect(total / samples.length).toBeGreaterThan(2.2);
    expect(total / samples.length).toBeLessThan(2.75);
    for (const { name: field } of read.fields) {
      expect(samples.filter((sample) => sample.field === field).length).toBeGreaterThanOrEqual(3);
    }
  });

  test("the tables with the plan's answers leave no question open", () => {
    for (const { path, answers } of read.plan.sources.filter(({ as }) => as === "samples")) {
      const table = read.tables.get(path)!;
      const lab = readLabTable({ name: path, headings: table.headings, rows: table.rows }, answers);
      expect(lab.questions).toEqual([]);
      expect(lab.notices).toEqual([]);
      expect(lab.tests).toMatchObject({
        P: { unit: "ppm", method: "mehlich-3-icp" },
        K: { unit: "ppm", method: "mehlich-3" },
      });
      expect(lab.depth).toBe("0-8in");
      expect(lab.samples).toHaveLength(table.rows.length);
    }
  });

  test("reported values are the truth at the place, off by the documented noise and without bias", () => {
    const off = (value: number, true_: number): number => Math.log(value / true_);
    const errors = samples.map(({ lonLat, p, k, cec }) => {
      const soil = truth.at(...lonLat);
      return { p: off(p, soil.pPpm), k: off(k, soil.kPpm), cec: off(cec, soil.cecMeqPer100g) };
    });
    const standard = 4 / Math.sqrt(errors.length);
    for (const [test, noise] of [
      ["p", seed.soil.P.sampleNoise],
      ["k", seed.soil.K.sampleNoise],
      ["cec", seed.soil.CEC.sampleNoise],
    ] as const) {
      const values = errors.map((error) => error[test]);
      // The truth moves over the 7 cm that 6 decimals leave open, and whole ppm round: 20 % more at most.
      expect(Math.abs(mean(values))).toBeLessThan(standard * noise);
      expect(sd(values) / noise).toBeGreaterThan(1 - standard);
      expect(sd(values) / noise).toBeLessThan(1.2 + standard);
    }
  });

  describe("true surfaces on a lattice over the fields", () => {
    const soil: SoilAt[] = read.fields.flatMap(({ lonLat, plane, toPlane }) => {
      const xs = lonLat.flat(2).map(([lon]) => lon);
      const ys = lonLat.flat(2).map(([, lat]) => lat);
      const step = name === "single-field" ? 0.0002 : 0.0007;
      const found: SoilAt[] = [];
      for (let lon = Math.min(...xs); lon < Math.max(...xs); lon += step) {
        for (let lat = Math.min(...ys); lat < Math.max(...ys); lat += step) {
          if (containsPoint(plane, toPlane([lon, lat]))) found.push(truth.at(lon, lat));
        }
      }
      return found;
    });
    const p = soil.map(({ pPpm }) => pPpm);
    const k = soil.map(({ kPpm }) => kPpm);
    const cec = soil.map(({ cecMeqPer100g }) => cecMeqPer100g);
    const inside = (values: readonly number[], least: number, most: number): number =>
      values.filter((value) => value >= least && value <= most).length / values.length;

    test("97 % of the ground within P 6 to 60 ppm, K 70 to 300 ppm, CEC 8 to 30", () => {
      expect(inside(p, 6, 60)).toBeGreaterThan(0.97);
      expect(inside(k, 70, 300)).toBeGreaterThan(0.97);
      expect(inside(cec, 8, 30)).toBeGreaterThan(0.97);
    });

    test("means and spreads as the seed sets them", () => {
      // One realisation over 150 or 6,000 ac: the mean wanders by about a sd over the root of the number of
      // independent patches, so these are the bands a realisation may fall in, not a fit.
      expect(mean(p.map(Math.log))).toBeGreaterThan(Math.log(seed.soil.P.median) - 0.25);
      expect(mean(p.map(Math.log))).toBeLessThan(Math.log(seed.soil.P.median) + 0.15);
      expect(sd(p.map(Math.log)) / Math.hypot(seed.soil.P.sd, seed.soil.P.farmSd)).toBeGreaterThan(0.8);
      expect(sd(p.map(Math.log)) / Math.hypot(seed.soil.P.sd, seed.soil.P.farmSd)).toBeLessThan(1.7);
      expect(mean(p)).toBeGreaterThan([...p].sort((a, b) => a - b)[p.length >> 1]!); // skewed to the right
      expect(mean(k)).toBeGreaterThan(115);
      expect(mean(k)).toBeLessThan(190);
      expect(mean(cec)).toBeGreaterThan(12);
      expect(mean(cec)).toBeLessThan(20);
    });

    test("P is low on eroded knolls, K and CEC are high in heavy bottoms", () => {
      const knoll = soil.map((at) => at.knoll);
      const bottom = soil.map((at) => at.bottom);
      expect(correlation(p, knoll)).toBeLessThan(-0.25);
      expect(correlation(k, bottom)).toBeGreaterThan(0.4);
      expect(correlation(cec, bottom)).toBeGreaterThan(0.7);
      const onKnolls = soil.filter((at) => at.knoll > 0.5).map(({ pPpm }) => pPpm);
      const flat = soil.filter((at) => at.knoll === 0 && at.bottom === 0).map(({ pPpm }) => pPpm);
      expect(onKnolls.length).toBeGreaterThan(100);
      expect(mean(onKnolls) / mean(flat)).toBeLessThan(0.8);
    });
  });
});
