import { beforeAll, describe, expect, test } from "vitest";
import { containsPoint, type Point } from "../../src/geo/index.ts";
import type { FieldResult, RunResult } from "../../src/plan/index.ts";
import {
  broadcastDots,
  colours,
  type Inks,
  type LayerId,
  layerIds,
  layerOf,
  layoutOf,
  leaveOneOutChart,
  legend,
  lineFrame,
  passRules,
  plat,
  ramps,
  rateText,
  readOutOf,
  roundedParts,
  wrongSide,
} from "../../src/report/index.ts";
import { numberText } from "../../src/units/index.ts";
import { runSample } from "./run-sample.ts";
import { faultsOf, readStrictly } from "./strict-xml.ts";

let single: RunResult;
let small: RunResult;
let drawn: { result: RunResult; field: FieldResult; id: LayerId }[];

beforeAll(async () => {
  single = await runSample("single-field");
  small = await runSample("home-farm", ["low-flat", "south-knob"]);
  drawn = [single, small].flatMap((result) =>
    result.fields.flatMap((field) => layerIds(result.plan, field).map((id) => ({ result, field, id }))),
  );
});

const size = { width: 620, height: 560 };

function coloursIn(svg: string): string {
  let found = "";
  for (const { attributes } of readStrictly(svg)) {
    for (const key of ["fill", "stroke"]) {
      const value = attributes.get(key);
      if (value !== undefined && value !== "none") found += ` ${value}`;
    }
  }
  return found;
}

describe("plats, legends and charts", () => {
  test("are well-formed, fetch nothing, carry no style and stay small", () => {
    for (const { result, field, id } of drawn) {
      const layer = layerOf(result.plan, field, id);
      for (const inks of ["colour", "black"] as const) {
        const options = {
          ...size,
          id: "one",
          inks,
          lineAB: true,
          passNumbers: true,
          marker: [3, 4] as Point,
        };
        for (const svg of [plat(result.plan, field, layer, options), legend(layer, { id: "two", inks })]) {
          const seen = readStrictly(svg);
          expect(faultsOf(seen, true), `${field.field.id} ${id}`).toEqual([]);
          expect(seen[0]!.attributes.get("role")).toBe("img");
          expect(svg.length).toBeLessThan(300_000);
        }
      }
    }
  });

  test("black alone tells everything: no grey, no colour; on the screen only the colours of the tokens", () => {
    const tokens = new Set<string>([...Object.values(colours), ...Object.values(ramps).flat()]);
    for (const { result, field, id } of drawn) {
      const layer = layerOf(result.plan, field, id);
      const both = (inks: Inks) =>
        coloursIn(plat(result.plan, field, layer, { ...size, id: "a", inks })) +
        coloursIn(legend(layer, { id: "b", inks }));
      expect(both("black").replaceAll(/ (#000000|#ffffff)/g, "")).toBe("");
      const strange = both("colour")
        .split(" ")
        .filter((one) => one !== "" && !tokens.has(one));
      expect(strange).toEqual([]);
    }
  });

  test("same input, same text", () => {
    const [{ result, field, id }] = drawn as [(typeof drawn)[number]];
    const draw = () => plat(result.plan, field, layerOf(result.plan, field, id), { ...size, id: "x" });
    expect(draw()).toBe(draw());
  });

  test("the legend prints the class areas, which add up to the field's acres as shown", () => {
    for (const { result, field, id } of drawn) {
      const layer = layerOf(result.plan, field, id);
      const tenths = layer.classAreas.reduce((all, area) => all + Math.round(area * 10), 0);
      expect(tenths, id).toBe(Math.round(field.checked.areaAc * 10));
      const svg = legend(layer, { id: "l" });
      for (const area of layer.classAreas) expect(svg).toContain(`>${numberText(area, 1)}</text>`);
      for (const label of layer.classes.labels) expect(svg).toContain(`>${label}`);
    }
  });

  test("class areas are those of the cells or pieces in each class", () => {
    for (const { result, field, id } of drawn) {
      const { classes, values, areaAc, classAreas } = layerOf(result.plan, field, id);
      const areas = classes.labels.map((_, k) => {
        const least = classes.limits[k - 1] ?? Number.NEGATIVE_INFINITY;
        const most = classes.limits[k] ?? Number.POSITIVE_INFINITY;
        return areaAc.reduce(
          (all, area, i) => all + (values[i]! >= least && values[i]! < most ? area : 0),
          0,
        );
      });
      expect(classAreas).toEqual(roundedParts(areas, 1, field.checked.areaAc));
    }
  });

  test("pounds and mean of a product's layer are those of its file", () => {
    for (const { result, field, id } of drawn) {
      const [kind, product] = id.split("/");
      const map = field.prescriptions.find((one) => one.pass === kind && one.product === product);
      if (!map) continue;
      const layer = layerOf(result.plan, field, id);
      expect(layer.lb).toBeCloseTo(map.totalLb, 6);
      expect(layer.mean).toBeCloseTo(map.meanLbPerAc, 9);
      expect([layer.least, layer.most]).toEqual([map.minLbPerAc, map.maxLbPerAc]);
    }
  });

  test("metric layers show the same ground and the same pounds", () => {
    const [field] = single.fields as [FieldResult];
    const us = layerOf(single.plan, field, "strip/all");
    const metric = layerOf(single.plan, field, "strip/all", { system: "metric" });
    expect(metric.mean / us.mean).toBeCloseTo(0.453_592_37 / 0.404_685_642_24, 12);
    expect(metric.unit).toBe("kg of product/ha");
  });
});

describe("pass rules and dots", () => {
  test("every piece is in one rule, each rule as long as its pieces", () => {
    for (const result of [single, small]) {
      for (const field of result.fields) {
        const rules = passRules(field, layerOf(result.plan, field, "strip/all"));
        const pieces = rules.flatMap((rule) => rule.pieces);
        expect(pieces.toSorted((a, b) => a - b)).toEqual(field.passes.pieces.map((_, k) => k));
        for (const rule of rules) {
          const long = Math.hypot(rule.to[0] - rule.from[0], rule.to[1] - rule.from[1]);
          const wanted = rule.pieces.reduce((all, k) => {
            const piece = field.passes.pieces[k]!;
            return all + piece.alongEndM - piece.alongStartM;
          }, 0);
          expect(long).toBeCloseTo(wanted, 1);
        }
      }
    }
  });

  test("dots stand in the field and are larger where more comes", () => {
    const [field] = single.fields as [FieldResult];
    const layer = layerOf(single.plan, field, "broadcast/0-0-60");
    const dots = broadcastDots(single.plan, field, layer, 12);
    expect(dots.length).toBeGreaterThan(500);
    for (const dot of dots) expect(containsPoint(field.checked.boundary, dot.at)).toBe(true);
    const radii = dots.toSorted((a, b) => a.step - b.step).map((dot) => dot.radiusM);
    expect(radii).toEqual(radii.toSorted((a, b) => a - b));
    expect(new Set(radii).size).toBeGreaterThan(2);
  });
});

describe("the read-out", () => {
  test("gives the rate of the piece, the cell and the spreader's cell that hold the place", () => {
    for (const result of [single, small]) {
      for (const field of result.fields) {
        const readOut = readOutOf(result.plan, field);
        const { headingDeg } = lineFrame(field.checked.line);
        expect(headingDeg).toBeGreaterThanOrEqual(0);
        for (let k = 0; k < field.passes.pieces.length; k += 7) {
          const { polygon, pass, column } = field.passes.pieces[k]!;
          const ring = polygon[0]!;
          const middle: Point = [mean(ring.map(([x]) => x)), mean(ring.map(([, y]) => y))];
          if (!containsPoint([polygon], middle)) continue;
          const seen = readOut(middle);
          if (seen === null) continue; // a sliver whose cell has no ground
          expect(seen.piece).toBe(k);
          expect(seen.title).toBe(`Pass ${numberText(pass, 0)}, segment ${numberText(column, 0)}`);
          for (const map of field.prescriptions) {
            const label = `${map.product} ${map.pass === "strip" ? "in the strip" : "broadcast later"}`;
            const row = seen.rows.find((one) => one.label === label)!;
            expect(row.value).toBe(rateText(map.rateLbPerAc[map.pass === "strip" ? k : seen.swath]!));
            expect(map.files.has(row.source)).toBe(true);
          }
          const p = seen.rows.find((row) => row.label === "soil P")!;
          expect(p.value).toMatch(new RegExp(`^${numberText(field.maps.P!.estimate[seen.cell]!, 0)}( ± |$)`));
        }
      }
    }
  });

  test("is null outside the field and in its holes", () => {
    const [field] = single.fields as [FieldResult];
    const readOut = readOutOf(single.plan, field);
    expect(readOut([1e6, 0])).toBeNull();
    const hole = field.checked.boundary[0]![1]!;
    const inHole = holePoint(hole, field);
    expect(readOut(inHole)).toBeNull();
  });
});

/** A place inside a hole, a little to the left of one of its edges (holes run clockwise). */
function holePoint(hole: readonly Point[], field: FieldResult): Point {
  for (let i = 0; i < hole.length; i++) {
    const [a, b] = [hole[i]!, hole[(i + 1) % hole.length]!];
    const long = Math.hypot(b[0] - a[0], b[1] - a[1]);
    const place: Point = [(a[0] + b[0]) / 2 + (b[1] - a[1]) / long, (a[1] + b[1]) / 2 - (b[0] - a[0]) / long];
    if (!containsPoint(field.checked.boundary, place)) return place;
  }
  throw new Error("no place found in the hole");
}

const mean = (values: readonly number[]): number => values.reduce((a, b) => a + b, 0) / values.length;

test("the layout puts the field inside the plat and back, north up", () => {
  const [field] = single.fields as [FieldResult];
  const { toPx, toPlane } = layoutOf(field, { ...size, id: "x" });
  for (const place of field.checked.boundary[0]![0]!) {
    const [x, y] = toPx(place);
    expect(x).toBeGreaterThan(0);
    expect(x).toBeLessThan(size.width);
    expect(y).toBeGreaterThan(0);
    expect(y).toBeLessThan(size.height);
    expect(toPlane([x, y])[0]).toBeCloseTo(place[0], 6);
    expect(toPlane([x, y])[1]).toBeCloseTo(place[1], 6);
  }
  expect(toPx([0, 10])[1]).toBeLessThan(toPx([0, 0])[1]);
});

test("samples on the wrong side of the critical level are counted on both sides", () => {
  const data = {
    observed: Float64Array.of(10, 15, 25, 30, Number.NaN, 20),
    estimate: Float64Array.of(12, 22, 18, 35, 10, 19.9),
    unit: "ppm",
    criticalLevel: 20,
  };
  expect(wrongSide(data)).toMatchObject({ saidAbove: 1, saidBelow: 2, samples: 5 });
  const svg = leaveOneOutChart(data, { width: 220, height: 160 });
  expect(faultsOf(readStrictly(svg), true)).toEqual([]);
  const { criticalLevel: _, ...without } = data;
  expect(wrongSide(without)).toBeNull();
});
