import { describe, expect, it } from "vitest";
import { tilingFaults } from "../../src/geo/index.ts";
import { run } from "../../src/plan/index.ts";
import { expectedBoundaries } from "../geo/boundaries.ts";
import { boundaryPlan } from "../support/boundary-plan.ts";
import { openBalance } from "../support/need-plan.ts";
import { sourceOf } from "../support/small-farm.ts";

// tests/data/boundaries: areas and pass numbers by GEOS 3.11.1 and PROJ 9.1.0 through R sf.
const files = process.env.EVERY_BOUNDARY === "1" ? /./ : /^0[2579]/;

describe.each(expectedBoundaries().filter(({ file }) => files.test(file)))("run on $file", (expected) => {
  it("lays headlands, gives every piece a place in the work, keeps pounds, reads its files back", async () => {
    const { plan, files: bytes } = boundaryPlan(expected);
    // Written: the run itself reads the files back by other code and ends on any gap, overlap or wrong pound.
    const [field] = (await run(plan, sourceOf(bytes))).fields;
    const { passes, driving, prescriptions } = field!;
    const wanted = expected.headlands.find((one) => one.headland_passes === expected.headland_passes)!;
    expect(Math.abs(driving.interiorAc / wanted.interior_ac - 1)).toBeLessThan(expected.rel_tol_offset_area);
    expect([driving.firstPass, driving.lastPass]).toEqual([
      expected.interior.pass_index_min,
      expected.interior.pass_index_max,
    ]);
    const worked = passes.runs.flatMap(({ segments }) => segments);
    expect(worked.toSorted((a, b) => a - b)).toEqual(passes.pieces.map((_, k) => k));
    worked.forEach((k, order) => {
      expect(passes.pieces[k]!.order).toBe(order);
    });
    const kinds = passes.runs.map(({ kind }) => kind);
    expect(kinds.lastIndexOf("interior")).toBeLessThan(kinds.indexOf("headland"));
    const tiles = passes.pieces.map(({ polygon }) => [polygon]);
    expect(tilingFaults(tiles, field!.checked.boundary, 2e-4)).toEqual([]);
    expect(openBalance(field!)).toBeLessThan(1e-6);
    for (const map of prescriptions.filter(({ pass }) => pass === "strip")) {
      expect(Math.abs(map.totalLb / map.needLb - 1)).toBeLessThan(1e-3);
      expect(map.polygons).toBeLessThan(passes.pieces.length);
      expect(map.maxLbPerAc).toBeGreaterThan(map.minLbPerAc);
      expect(map.rateLbPerAc.every((rate) => rate % 10 === 0)).toBe(true);
    }
  });
});
