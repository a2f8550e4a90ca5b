import { readFileSync } from "node:fs";
import { gunzipSync } from "node:zlib";
import { beforeAll, describe, expect, it } from "vitest";
import {
  type FieldResult,
  type FileSource,
  newPlan,
  type Plan,
  type RunResult,
  run,
} from "../../src/plan/index.ts";
import { meanOver } from "../../src/prescription/index.ts";
import { acres } from "../../src/units/index.ts";
import { tableT } from "../support/table-t.ts";

// The whole job on a real 2.5-acre grid against an independent computation in R (gstat, sf): see the README of
// tests/data/chain. Samples: data set `oxford` of the R package gstat (Burrough and McDonnell 1998).

const files = new Map<string, Uint8Array>([
  ["boundary.geojson", readFileSync("tests/data/chain/boundary.geojson")],
  ["guidance.geojson", readFileSync("tests/data/chain/guidance.geojson")],
  ["samples.csv", readFileSync("tests/data/oxford/samples.csv")],
]);
const source: FileSource = {
  list: async () => [...files.keys()],
  read: async (path) => files.get(path)!,
};
const totals = JSON.parse(readFileSync("tests/data/chain-need/totals.json", "utf8")).soybean.ok_fixed;

function table(path: string): Record<string, number>[] {
  const [headings, ...rows] = gunzipSync(readFileSync(path)).toString("utf8").trim().split("\n");
  const names = headings!.split(",");
  return rows.map((row) => Object.fromEntries(row.split(",").map((cell, i) => [names[i]!, Number(cell)])));
}

/** Variograms fixed by decree in the reference: spherical, nugget, partial sill, range m. */
const models = {
  P: { nugget: 8.3, structures: [{ type: "spherical", partialSill: 5.9, rangeM: 1380 }] },
  K: { nugget: 3800, structures: [{ type: "spherical", partialSill: 4600, rangeM: 220 }] },
  CEC: { nugget: 20, structures: [{ type: "spherical", partialSill: 65, rangeM: 980 }] },
} as const;

function planOf(change: (plan: Plan) => Plan): Plan {
  const made = newPlan(
    "chain",
    "2026-11-25",
    [...files].map(([path, bytes]) => ({ path, bytes })),
    {
      "method.P": "mehlich-3",
      "method.K": "mehlich-3",
      guide: "tri-state-2020",
      crop: "soybean",
      yield: "60",
      cap: "150",
    },
  );
  const plan: Plan = {
    ...made.plan,
    // A rate for every segment, as the reference has it.
    rig: { ...made.plan.rig, segmentM: 15, rateStepLbPerAc: 5, rates: "segments" },
    maps: { cellM: 10, method: "kriging", models },
    ownGuides: [tableT],
    fields: made.plan.fields.map((field) => ({ ...field, frameCentre: { lonDeg: -94.9, latDeg: 41.3 } })),
  };
  return change(plan);
}

const underT = (plan: Plan): Plan => ({
  ...plan,
  fields: plan.fields.map(({ guideOptions: _, ...field }) => ({ ...field, guide: "table-t" })),
});
const capped = (capBasis: Plan["split"]["capBasis"]) => (plan: Plan) => ({
  ...plan,
  split: { ...plan.split, capBasis },
});

/** Pounds over the field of a rate given per cell. */
function pounds(field: FieldResult, lbPerAc: Float64Array): number {
  return field.cells.areaM2.reduce((sum, area, i) => (area > 0 ? sum + lbPerAc[i]! * acres(area) : sum), 0);
}

/** Standard normal distribution, by Simpson's rule from 0. */
function normal(z: number): number {
  const end = Math.min(Math.abs(z), 9);
  const steps = 200;
  let sum = 0;
  for (let i = 0; i <= steps; i++) {
    const x = (end * i) / steps;
    sum += (i === 0 || i === steps ? 1 : i % 2 === 1 ? 4 : 2) * Math.exp((-x * x) / 2);
  }
  const half = (sum * end) / (3 * steps) / Math.sqrt(2 * Math.PI);
  return z >= 0 ? 0.5 + half : 0.5 - half;
}

const relative = (value: number, expected: number) => Math.abs(value / expected - 1);

describe("the chain from samples to prescriptions", () => {
  let equations: RunResult;
  let classes: RunResult;
  let field: FieldResult;

  beforeAll(async () => {
    equations = await run(
      planOf((plan) => plan),
      source,
    );
    classes = await run(planOf(underT), source, { files: "later" });
    field = equations.fields[0]!;
  });

  it("acres of the boundary equal the geodesic area of GeographicLib to 1e-8", () => {
    expect(relative(field.checked.areaAc, 305.942591)).toBeLessThan(1e-8);
  });

  it("cells: count, area and total", () => {
    const inside = field.cells.areaM2.filter((area) => area > 0);
    expect(inside.length).toBeGreaterThanOrEqual(12_472);
    expect(inside.length).toBeLessThanOrEqual(12_799);
    const reference = table("tests/data/chain-need/cells.csv.gz");
    expect(reference).toHaveLength(12_472);
    const { grid, areaM2 } = field.cells;
    for (const cell of reference) {
      const i = (cell.iy! - grid.iy0) * grid.nx + (cell.ix! - grid.ix0);
      expect(Math.abs(areaM2[i]! - cell.area_m2!)).toBeLessThan(1e-3);
    }
  });

  it("P, K and CEC maps equal R gstat's block kriging to 5e-6 on every cell", () => {
    const { grid } = field.cells;
    for (const cell of table("tests/data/chain-need/cells.csv.gz")) {
      const i = (cell.iy! - grid.iy0) * grid.nx + (cell.ix! - grid.ix0);
      for (const test of ["P", "K", "CEC"] as const) {
        expect(relative(field.maps[test]!.estimate[i]!, cell[`${test}_fix`]!)).toBeLessThan(5e-6);
      }
    }
  });

  it("need by the 2020 equations and by table T, in lb for the field, to 1e-6", () => {
    for (const [result, guide] of [
      [equations, totals.equations_2020],
      [classes, totals.table_T],
    ]) {
      const [one] = result.fields as [FieldResult];
      expect(relative(pounds(one, one.need.p2o5LbPerAc), guide.P2O5.lb)).toBeLessThan(1e-6);
      expect(relative(pounds(one, one.need.k2oLbPerAc), guide.K2O.lb)).toBeLessThan(1e-6);
    }
  });

  it("split under both caps, 11-52-0 first, strip and broadcast pounds to 1e-6", async () => {
    for (const [basis, key] of [
      ["field-mean", "mean_cap_MAP_first"],
      ["most-in-a-cell", "cell_cap_MAP_first"],
    ] as const) {
      const result = await run(
        planOf((plan) => capped(basis)(underT(plan))),
        source,
      );
      const [one] = result.fields as [FieldResult];
      const expected = totals.table_T.products[key];
      const [map, potash] = one.split.products as [
        FieldResult["split"]["products"][0],
        FieldResult["split"]["products"][0],
      ];
      expect(relative(pounds(one, map.strip), expected.MAP.strip_lb)).toBeLessThan(1e-6);
      expect(relative(pounds(one, potash.strip), expected.potash.strip_lb)).toBeLessThan(1e-6);
      expect(relative(pounds(one, potash.rest), expected.potash.broadcast_lb)).toBeLessThan(1e-6);
      expect(Math.abs(pounds(one, map.rest) - expected.MAP.broadcast_lb)).toBeLessThan(0.03);
      if (basis === "field-mean") {
        expect(
          relative(one.split.ceilingLbPerAc!, totals.table_T.products.mean_cap.ceiling_lb_ac),
        ).toBeLessThan(1e-6);
      }
    }
  });

  it("means of the full need on every whole segment, to 3e-4 lb/ac + 5e-6", () => {
    const reference = table("tests/data/chain/whole-segments.csv.gz");
    expect(reference).toHaveLength(8_223);
    for (const [result, prefix] of [
      [equations, "e20"],
      [classes, "T"],
    ] as const) {
      const [one] = result.fields as [FieldResult];
      const { pieces, overlaps } = one.passes;
      const at = new Map(pieces.map((piece, k) => [`${piece.pass},${piece.column}`, k]));
      const [map, potash] = one.split.products.map((product) => meanOver(overlaps, product.full)) as [
        Float64Array,
        Float64Array,
      ];
      for (const segment of reference) {
        const k = at.get(`${segment.pass},${segment.column}`)!;
        expect(Math.abs(pieces[k]!.areaM2 - segment.area_m2!)).toBeLessThan(1e-3);
        for (const [mean, expected] of [
          [map[k]!, segment[`${prefix}_map_full`]!],
          [potash[k]!, segment[`${prefix}_pot_full`]!],
        ] as const) {
          expect(Math.abs(mean - expected)).toBeLessThan(3e-4 + 5e-6 * expected);
        }
      }
    }
  });

  it("need at the samples themselves, in lb for the field, as in R", () => {
    const { P2O5, K2O } = field.need.figures;
    expect(relative(K2O.mappedTestLb, totals.equations_2020.K2O.lb)).toBeLessThan(1e-6);
    // Rounded to whole pounds there.
    expect(Math.abs(K2O.atSamplesLb - 17_409)).toBeLessThan(1);
    expect(Math.abs(P2O5.atSamplesLb - 31_768)).toBeLessThan(1);
  });

  it("expected need of every cell equals the closed form of its two pieces under a normal distribution", () => {
    // 2020 equations, soybean 60 bu: 47.4 up to 40 ppm, and 5 lb more for each ppm below 20. With m and s of the
    // cell, E = 47.4 Phi((40 - m) / s) + 5 [(20 - m) Phi(d) + s phi(d)], d = (20 - m) / s.
    const map = field.maps.P!;
    let expected = 0;
    field.cells.areaM2.forEach((areaM2, i) => {
      if (!(areaM2 > 0)) return;
      const [m, s] = [map.estimate[i]!, Math.sqrt(map.variance[i]!)];
      const d = (20 - m) / s;
      const density = Math.exp((-d * d) / 2) / Math.sqrt(2 * Math.PI);
      const lb = 47.4 * normal((40 - m) / s) + 5 * ((20 - m) * normal(d) + s * density);
      expected += lb * acres(areaM2);
    });
    expect(relative(field.need.figures.P2O5.expectedLb!, expected)).toBeLessThan(2e-4);
    // Under the stepped K2O rule a smooth map and the expectation part, and the field says so.
    expect(field.need.figures.K2O.expectedLb!).toBeGreaterThan(1.05 * field.need.figures.K2O.mappedTestLb);
    expect(field.notices.map((notice) => notice.code)).toContain("need-figures-part");
  });

  it("each oxide's balance closes: 0.1 % of the need after the spreader's rates are stepped", () => {
    for (const balance of [...equations.fields, ...classes.fields].flatMap((one) => one.balances)) {
      const { needLb, stripLb, broadcastLb, creditsLb, shortageLb, excessLb, roundingLb } = balance;
      expect(
        Math.abs(stripLb + broadcastLb + creditsLb + shortageLb - excessLb - needLb - roundingLb),
      ).toBeLessThan(1e-6);
      expect(Math.abs(roundingLb)).toBeLessThan(0.001 * needLb);
    }
  });
});
