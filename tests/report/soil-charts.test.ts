import { beforeAll, describe, expect, test } from "vitest";
import { empiricalVariogram, semivariance, type VariogramModel } from "../../src/interpolate/index.ts";
import type { FieldResult, RunResult } from "../../src/plan/index.ts";
import {
  bandDistances,
  chanceBelowCritical,
  layerOf,
  oddsBelowCritical,
  variogramChart,
} from "../../src/report/index.ts";
import { numberText } from "../../src/units/index.ts";
import { runSample } from "./run-sample.ts";
import { faultsOf, readStrictly } from "./strict-xml.ts";

let result: RunResult;
let field: FieldResult;

beforeAll(async () => {
  result = await runSample("single-field");
  field = result.fields[0]!;
});

const size = { width: 360, height: 190 };
const model: VariogramModel = {
  nugget: 20,
  structures: [{ type: "spherical", partialSill: 60, range: 200 }],
};
const bins = [
  { pairs: 100, distanceM: 50, semivariance: 40 },
  { pairs: 25, distanceM: 100, semivariance: 60 },
  { pairs: 400, distanceM: 200, semivariance: 80 },
];
const circles = (svg: string) =>
  readStrictly(svg)
    .filter(({ name }) => name === "circle")
    .map(({ attributes }) => (["cx", "cy", "r"] as const).map((key) => Number(attributes.get(key))));

describe("variogram chart", () => {
  test("draws a circle a bin, its area by the pairs, where distance and semivariance put it", () => {
    const drawn = circles(variogramChart({ bins, model, unit: "ppm" }, size)) as [number, number, number][];
    expect(drawn).toHaveLength(3);
    const [few, fewer, most] = drawn.map(([, , r]) => r ** 2) as [number, number, number];
    expect(few / most).toBeCloseTo(100 / 400, 1);
    expect(fewer / most).toBeCloseTo(25 / 400, 0);
    const [a, b, c] = drawn as [[number, number, number], [number, number, number], [number, number, number]];
    expect((c[0] - a[0]) / (b[0] - a[0])).toBeCloseTo(150 / 50, 2);
    expect((c[1] - a[1]) / (b[1] - a[1])).toBeCloseTo(40 / 20, 2);
  });

  test("rules the band of the averaged ones, and nothing outside it", () => {
    const distances = bandDistances(bins);
    const band = distances.map((distanceM) => ({ distanceM, low: 20, high: 60 }));
    const svg = variogramChart({ bins, model: null, band, unit: "ppm" }, size);
    const [first, second] = circles(svg) as [number[], number[]];
    const px = (value: number) => first[1]! + ((value - 40) / 20) * (second[1]! - first[1]!);
    const rules = readStrictly(svg)
      .flatMap(({ attributes }) => [...(attributes.get("d") ?? "").matchAll(/M([\d.]+) ([\d.]+)H([\d.]+)/g)])
      .map(([, from, at, to]) => [Number(from), Number(at), Number(to)] as const)
      .filter(([from, , to]) => to - from < 305);
    expect(rules.length).toBeGreaterThan(10);
    for (const [, at] of rules) {
      expect(at).toBeGreaterThanOrEqual(px(60) - 0.1);
      expect(at).toBeLessThanOrEqual(px(20) + 0.1);
    }
    const plain = variogramChart({ bins, model: null, unit: "ppm" }, size);
    expect(svg.length).toBeGreaterThan(plain.length + 100);
  });

  test("the model's line runs through its own semivariances, nugget first", () => {
    const svg = variogramChart({ bins, model, unit: "ppm" }, size);
    const [first, , last] = circles(svg) as [number[], number[], number[]];
    const px = (value: number) => first[1]! + ((value - 40) / 40) * (last[1]! - first[1]!);
    const perM = (last[0]! - first[0]!) / 150;
    const line = readStrictly(svg).find(({ attributes }) => attributes.get("stroke-width") === "2")!;
    const points = line.attributes
      .get("d")!
      .split(/[ML]/)
      .slice(1)
      .map((pair) => pair.split(" ").map(Number) as [number, number]);
    expect(points.length).toBeGreaterThan(40);
    expect(points[0]![1]).toBeCloseTo(px(20), 0);
    for (const [x, y] of points.slice(1)) {
      const metres = 50 + (x - first[0]!) / perM;
      expect(Math.abs(y - px(semivariance(model, metres, 0)))).toBeLessThan(0.6);
    }
  });

  test("is well-formed in colour and in black, with a field's own pairs, without a model and without pairs", () => {
    const map = field.maps.P!;
    const own = empiricalVariogram({
      x: Float64Array.from(map.taken, ({ at }) => at[0]),
      y: Float64Array.from(map.taken, ({ at }) => at[1]),
      value: Float64Array.from(map.taken, ({ value }) => value),
    });
    for (const inks of ["colour", "black"] as const) {
      for (const data of [
        { bins: own, model: map.model, fitted: model, unit: "ppm" },
        { bins: own, model: null, unit: "ppm", system: "metric" as const },
        { bins: [], model: null, unit: "meq/100 g" },
      ]) {
        const svg = variogramChart(data, { ...size, inks });
        expect(faultsOf(readStrictly(svg), true)).toEqual([]);
        expect(svg).not.toMatch(/NaN|Infinity/);
      }
    }
  });
});

describe("odds of lying below the critical level", () => {
  test("are a half on the critical level, more below it, less above it", () => {
    for (const test of ["P", "K"] as const) {
      const chance = chanceBelowCritical(result.plan, field, test)!;
      const { critical, values } = layerOf(result.plan, field, `soil/${test}`);
      const sides = chance.filter((share, i) => {
        if (Number.isNaN(share)) return false;
        const gap = critical!.ppm[i]! - values[i]!;
        return Math.sign(share - 0.5) !== Math.sign(gap) && Math.abs(gap) > 1e-6;
      });
      expect(sides).toHaveLength(0);
    }
  });

  test("as a layer, its outer classes are the acres likely above and likely below", () => {
    for (const test of ["P", "K"] as const) {
      const odds = oddsBelowCritical(result.plan, field, test)!;
      const layer = layerOf(result.plan, field, `odds/${test}`);
      expect(layer.classes.limits).toEqual([20, 40, 60, 80]);
      expect(numberText(layer.classAreas.at(-1)!, 1)).toBe(numberText(odds.likelyBelowAc, 1));
      expect(numberText(layer.classAreas[0]!, 1)).toBe(numberText(odds.likelyAboveAc, 1));
      expect(layer.classes.steps[0]).toBeGreaterThan(layer.classes.steps.at(-1)!);
    }
  });
});
