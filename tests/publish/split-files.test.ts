import { beforeAll, describe, expect, test } from "vitest";
import type { Plan, PlanBlend, RunResult } from "../../src/plan/index.ts";
import { run } from "../../src/plan/index.ts";
import { buildFiles } from "../../src/publish/index.ts";
import { summary } from "../../src/report/index.ts";
import { needPlan } from "../support/need-plan.ts";
import { sourceOf } from "../support/small-farm.ts";

const text = (bytes: Uint8Array | undefined): string => new TextDecoder().decode(bytes);

const blend: PlanBlend = {
  id: "mix",
  of: ["11-52-0", "0-0-60"],
  fit: "cover-both",
  rate: "cover-both",
  batchLb: 12_000,
};
const change: Partial<Plan> = {
  rig: {
    rows: 16,
    rowSpacingIn: 30,
    segmentM: 30,
    rateStepLbPerAc: 5,
    bins: [{ id: "L", product: "mix", coated: [{ element: "Zn", lbPerTon: 10, wantedLbPerAc: 0.5 }] }],
  },
  blends: [blend],
  pricesUsdPerTon: { "11-52-0": 780, "0-0-60": 480 },
  split: {
    capLbPerAc: 100,
    capBasis: "field-mean",
    within: "first-11-52-0",
    broadcastWhen: "in-crop",
    starterLbPerAc: { P2O5: 10 },
  },
  seed: { distanceIn: 5, bandDepthIn: 6, texture: "other", starterLbPerAc: { N: 3 } },
};

describe("a blend in one bin, built", () => {
  let result: RunResult;
  let files: ReadonlyMap<string, Uint8Array>;
  beforeAll(async () => {
    const { plan, files: sources } = needPlan({ plan: change });
    result = await run(plan, sourceOf(sources), {});
    files = buildFiles(result, "0", new Map());
  });

  test("result.json tells method, limits, blend with its batch, salt, what rides and comes along", () => {
    const json = JSON.parse(text(files.get("result.json")));
    expect(json.blends[0]).toMatchObject({ id: "mix", hasPrices: true });
    expect(json.blends[0].batch.parts.map((part: { lb: number }) => part.lb % 20)).toEqual([0, 0]);
    expect(json.fields[0].split).toMatchObject({ method: "ceiling", capLbPerAc: 100 });
    expect(json.fields[0].salt).toMatchObject({ told: true, place: "beyond", starterLbPerAc: 3 });
    expect(json.fields[0].riding[0]).toMatchObject({ element: "Zn", bin: "L" });
    expect(json.along.N).toBeGreaterThan(0);
    expect(json.along.Zn).toBeCloseTo(json.fields[0].riding[0].totalLb, 6);
    expect(json.totals.map((total: { product: string }) => total.product)).toContain("mix");
    const codes = json.notices.map((notice: { code: string }) => notice.code);
    expect(codes).toEqual(expect.arrayContaining(["broadcast-in-crop", "blend-humidity"]));
  });

  test("the maps carry the blend's name and weighed analysis; broadcast brings the parts", () => {
    const maps = result.fields[0]!.prescriptions;
    expect(maps.map((map) => `${map.pass} ${map.product}`)).toEqual([
      "strip mix",
      "broadcast 11-52-0",
      "broadcast 0-0-60",
    ]);
    expect([...files.keys()]).toContain("prescriptions/strip/LOWFORTY_L_MIX.shp");
    expect(maps[0]!.analysis).toEqual(result.blends[0]!.product.grade);
  });

  test("where too much and too little lies is a table of its own, and its pounds are the balance's", () => {
    const rows = text(files.get("fields/low-forty/short-and-over.csv")).trim().split("\n");
    expect(rows[0]).toMatch(/^lon,lat,areaAc,shortP2O5LbPerAc,overP2O5LbPerAc,/);
    const { gaps, swaths, balances } = result.fields[0]!;
    for (const balance of balances) {
      const over = gaps[balance.nutrient].over.reduce((lb, rate, k) => lb + rate * swaths.areaAc[k]!, 0);
      const short = gaps[balance.nutrient].short.reduce((lb, rate, k) => lb + rate * swaths.areaAc[k]!, 0);
      expect(Math.abs(over - balance.excessLb)).toBeLessThan(1);
      expect(Math.abs(short - balance.shortageLb)).toBeLessThan(1);
    }
  });

  test("summary, order, field and cab sheet say it in words", () => {
    expect(summary(result)).toMatch(/Blend mix: 11-52-0 \d+\.\d\d %, 0-0-60/);
    expect(summary(result)).toMatch(/Broadcast: the spreader comes in the crop: .*burns/);
    const order = text(files.get("order.html"));
    expect(order).toMatch(/Batch to weigh/);
    expect(order).toMatch(/order these or the blend, not both/);
    const field = text(files.get("fields/low-forty/field-sheet.html"));
    expect(field).toMatch(/Salt near the seed/);
    expect(field).toMatch(/lb per 1,000 ft of row/);
    const cab = text(files.get("cab.html"));
    expect(cab).toMatch(/Salt near the seed: N \+ K₂O \+ S/);
    expect(cab).toMatch(/Zn on bin L/);
  });
});
