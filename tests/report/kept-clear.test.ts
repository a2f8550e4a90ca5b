import { expect, test } from "vitest";
import { sum } from "../../src/numeric/index.ts";
import { flatRate, openAcres } from "../../src/report/map-words.ts";
import { takeCare } from "../../src/report/take-care.ts";
import { needPlan, workedField } from "../support/need-plan.ts";

const water = JSON.stringify({
  type: "LineString",
  coordinates: [
    [-93.4988, 41.999],
    [-93.4988, 42.004],
  ],
});

test("what exclusions keep clear stands on the cab sheet, and a flat rate is over the ground that gets something", async () => {
  const field = await workedField({
    files: { "water.geojson": water },
    as: { "water.geojson": "exclusions" },
    plan: {
      exclusions: [{ source: "water.geojson", what: "waterway", method: "surface", setbackFt: 66 }],
    },
  });
  const off = sum(field.swaths.pieces.map(({ keptOff }, k) => (keptOff ? field.swaths.areaAc[k]! : 0)));
  expect(off).toBeGreaterThan(1);
  const line = takeCare(field).find((one) => one.startsWith("Kept clear in this field:"));
  expect(line).toContain("waterway and 66 ft round it");
  expect(line).toContain(
    `(spreader). The maps have 0 on 0.0 ac for the strip rig and ${off.toFixed(1)} ac for the spreader`,
  );
  expect(line).toMatch(/at a flat rate shut off there by hand/);
  const map = field.prescriptions.find(({ pass }) => pass === "broadcast")!;
  expect(openAcres(field, "broadcast")).toBeCloseTo(map.areaAc - off, 6);
  expect(openAcres(field, "strip")).toBeCloseTo(field.prescriptions[0]!.areaAc, 6);
  // 1,000 lb on 20 ac, of which 4 are kept clear: 62.5 lb/ac where it goes, in steps of 5.
  expect(flatRate({ ...map, totalLb: 1_000 }, 5, 16)).toBe(65);
  expect(flatRate({ ...map, totalLb: 1_000 }, 5, 0)).toBe(0);
  expect(takeCare(await workedField()).join(" ")).not.toContain("Kept clear");
  expect(needPlan().plan.exclusions).toBeUndefined();
});
