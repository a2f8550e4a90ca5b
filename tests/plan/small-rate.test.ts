import { beforeAll, describe, expect, test } from "vitest";
import { rereadShapefile } from "../../src/formats/index.ts";
import { ellipsoidArea } from "../../src/geo/index.ts";
import { fillPlan, orderOfPlan, type Plan, type RunResult, run, workedPasses } from "../../src/plan/index.ts";
import { cabSheet, fillsSheet, loadOrder, takeCare } from "../../src/report/index.ts";
import { acres } from "../../src/units/index.ts";
import { seasonPlanDocument } from "../support/season-plan.ts";
import { smallFarmFiles, sourceOf } from "../support/small-farm.ts";

const SMALL = 10;
const loose = seasonPlanDocument();
const plan: Plan = {
  ...loose,
  extras: ["fallback"],
  controller: {
    zeroRate: "small",
    smallRateLbPerAc: SMALL,
    mostPolygons: 100_000,
    mostVertices: 100_000,
  },
};
let result: RunResult;
beforeAll(async () => {
  result = await run(plan, sourceOf(smallFarmFiles()));
});

/** lb that a map's fallback lays, by code that did not write it. */
async function fileLb(stem: string): Promise<number> {
  const { files } = result.fields[0]!.extras.find(({ stems }) => stems.includes(stem))!;
  const features = await rereadShapefile(files);
  return features.reduce((lb, { geometry, properties }) => {
    const polygons = geometry?.kind === "polygon" ? geometry.polygons : [];
    return lb + acres(ellipsoidArea(polygons)) * (properties.RATE_LBAC as number);
  }, 0);
}
const about = (text: string, lb: number): boolean =>
  [-1, 0, 1].some((one) => text.includes(`${(Math.round(lb) + one).toLocaleString("en-US")} lb`));

describe("files to load with a small rate in place of 0", () => {
  test("passes, fills and their notice have the pounds of the files; order and cab sheet tell what is beyond the maps", async () => {
    const field = result.fields[0]!;
    const passes = workedPasses(plan, field);
    const fills = fillPlan(plan, field);
    const order = orderOfPlan(plan, result.fields);
    const sheet = cabSheet(result);
    let beyond = 0;
    for (const map of field.prescriptions) {
      const laidLb = await fileLb(map.stem);
      const moreLb = laidLb - map.totalLb;
      const zeroAc = map.rateLbPerAc.reduce((ac, rate, k) => {
        const { pieces, areaAc } = map.pass === "strip" ? field.passes : field.swaths;
        return ac + (rate === 0 && pieces[k]!.keptOff !== true ? areaAc[k]! : 0);
      }, 0);
      expect(moreLb).toBeCloseTo(SMALL * zeroAc, 0);
      if (map.pass === "strip") {
        const bin = plan.rig.bins.findIndex(({ id }) => id === map.bin);
        expect(passes.reduce((lb, pass) => lb + pass.lb[bin]!, 0)).toBeCloseTo(laidLb, 0);
      }
      if (moreLb < 2) continue;
      beyond++;
      const own = (notices: typeof field.notices, code: string) =>
        notices.filter((one) => one.code === code && about(one.message, moreLb));
      expect(own(field.notices, "small-rate-beyond-map")).toHaveLength(1);
      expect(own(fills.notices, "small-rate-beyond-map")).toHaveLength(map.pass === "strip" ? 1 : 0);
      const farm = order.notices.filter(({ code }) => code === "small-rate-beyond-order");
      expect(farm.some(({ message }) => message.startsWith(`${map.product}: `))).toBe(true);
      expect(loadOrder(plan, field, map.pass).doubts.some((doubt) => about(doubt, moreLb))).toBe(true);
      if (map.pass === "strip") expect(about(sheet, moreLb)).toBe(true);
    }
    expect(beyond).toBeGreaterThan(0);
    // Salt of the files: N + K2O + S are 11 % of 11-52-0 and 60 % of 0-0-60, over the ground of the passes.
    const strips = field.prescriptions.filter(({ pass }) => pass === "strip");
    const saltLb = await Promise.all(
      strips.map(async ({ stem, product }) => (await fileLb(stem)) * (product === "11-52-0" ? 0.11 : 0.6)),
    );
    const groundAc = field.passes.areaAc.reduce((ac, one) => ac + one, 0);
    const mean = saltLb.reduce((lb, one) => lb + one, 0) / groundAc;
    const [, told] = /files to load, which lay 10 lb\/ac in place of 0: mean ([\d.]+), most/.exec(sheet)!;
    expect(Math.abs(Number(told) - mean)).toBeLessThan(0.06);
    expect(fillsSheet(result)).toContain("more than the maps, by 10 lb/ac in place of 0");
  });

  test("a controller that takes a 0, or gets no fallback, lays the maps' pounds, and nothing is told", () => {
    const field = { ...result.fields[0]!, extras: [] };
    for (const controller of [
      { zeroRate: "off" as const },
      { ...plan.controller!, loads: ["shapefile" as const] },
    ]) {
      const other = { ...plan, controller };
      expect(takeCare(field, undefined, other).join(" ")).not.toContain("files to load");
      const fills = fillPlan(other, field);
      expect(fills.notices.filter(({ code }) => code.startsWith("small-rate"))).toEqual([]);
      const strips = field.prescriptions.filter(({ pass }) => pass === "strip");
      const lb = workedPasses(other, field).reduce((sum, pass) => sum + pass.lb[0]!, 0);
      expect(lb).toBeCloseTo(strips[0]!.totalLb, 6);
    }
    // Before files are written the plan tells it: the same notice.
    const early = fillPlan(plan, field).notices.filter(({ code }) => code.startsWith("small-rate"));
    expect(early).toEqual(
      fillPlan(plan, result.fields[0]!).notices.filter(({ code }) => code.startsWith("small-rate")),
    );
  });
});
