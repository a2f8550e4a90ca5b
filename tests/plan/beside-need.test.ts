import { describe, expect, it } from "vitest";
import { explainCell } from "../../src/plan/index.ts";
import { sameGoalNotices, yieldNotices } from "../../src/plan/need/yield-notices.ts";
import { acres } from "../../src/units/index.ts";
import { inside, needPlan, pounds, workedField } from "../support/need-plan.ts";
import { labCsv, SAMPLES } from "../support/small-farm.ts";

describe("what stands beside the need", () => {
  it("acres within 10 % of a step, acres and pounds by band, below critical first", async () => {
    const field = await workedField();
    const rule = field.need.P2O5.rule!;
    const near = inside(field).filter((cell) => Math.abs(field.maps.P!.estimate[cell]! - 40) <= 4);
    expect(rule.nearJumps.jumps).toEqual([40]);
    expect(rule.nearJumps.acres).toBeCloseTo(
      near.reduce((sum, cell) => sum + acres(field.cells.areaM2[cell]!), 0),
      9,
    );
    const total = rule.bands.reduce((sum, band) => sum + band.areaAc, 0);
    expect(total).toBeCloseTo(field.checked.areaAc, 6);
    expect(rule.bands.map((band) => band.band)).toEqual(["below critical", "maintenance", "none"]);
    expect(rule.belowCritical!.areaAc).toBeCloseTo(rule.bands[0]!.areaAc, 9);
    expect(rule.bands.reduce((sum, band) => sum + band.lb, 0)).toBeCloseTo(
      pounds(field, (cell) => field.need.p2o5LbPerAc[cell]!),
      6,
    );
  });

  it("nitrogen, sulfur and zinc wanted flat are counted with what the products bring along", async () => {
    const field = await workedField({ field: { alsoWantedLbPerAc: { N: 30, S: 10 } } });
    const [nitrogen, sulfur] = field.alsoWanted;
    const map = field.prescriptions.filter((one) => one.product === "11-52-0");
    const along = map.reduce((sum, one) => sum + one.totalLb * 0.11, 0);
    expect(nitrogen).toMatchObject({ nutrient: "N", wantedLb: 30 * field.checked.areaAc });
    expect(nitrogen!.alongLb).toBeCloseTo(along, 9);
    expect(nitrogen!.leftLb).toBeCloseTo(30 * field.checked.areaAc - along, 9);
    expect(sulfur).toMatchObject({ alongLb: 0, leftLb: 10 * field.checked.areaAc, beyondLb: 0 });
  });

  it("the balance sheet: placed + credit - removal = build-up - drawdown, removal by the guide's factors", async () => {
    const field = await workedField();
    const [phosphate, potash] = field.sheet.nutrients;
    expect(phosphate!.removalLb).toBeCloseTo(55 * 0.79 * field.checked.areaAc, 6);
    expect(potash!.removalLb).toBeCloseTo(55 * 1.15 * field.checked.areaAc, 6);
    for (const [i, one] of field.sheet.nutrients.entries()) {
      expect(one.placedLb).toBeCloseTo(field.balances[i]!.stripLb + field.balances[i]!.broadcastLb, 3);
      expect(one.placedLb + one.creditLb - one.removalLb!).toBeCloseTo(one.buildUpLb! - one.drawdownLb!, 6);
      expect(one.direction).toMatch(/^The [PK] test /);
    }
    const kansas = {
      guide: "kansas-sufficiency",
      guideOptions: {},
      crop: "corn",
      yieldBuPerAc: 180,
    };
    const bray = { "lab.csv": labCsv(SAMPLES, "id,lon,lat,P Bray P1 ppm,K M3 ppm,CEC meq/100g") };
    const unknown = await workedField({ field: kansas, files: bray });
    expect(unknown.sheet.nutrients[0]!.removalLb).toBeUndefined();
    const chosen = await workedField({ field: { ...kansas, removalFactors: "michigan" }, files: bray });
    expect(chosen.sheet.nutrients[0]!.removalLb).toBeCloseTo(180 * 0.37 * chosen.checked.areaAc, 6);
  });
});

describe("explainCell", () => {
  it("gives the guide's steps at the mapped test, then what the plan makes of it", async () => {
    const { plan } = needPlan();
    const field = await workedField({
      field: {
        credits: [{ name: "slurry", kind: "manure", date: "2027-01-05", lbPerAc: { P2O5: 25 } }],
        nutrients: { P2O5: { maxLbPerAc: 60 } },
      },
    });
    const cell = inside(field).find((one) => field.maps.P!.estimate[one]! < 12)!;
    const explained = explainCell(plan, field, "P2O5", cell)!;
    expect(explained.band).toBe("below critical");
    expect(explained.needLbPerAc).toBe(field.need.p2o5LbPerAc[cell]);
    expect(explained.wantedLbPerAc).toBe(field.wanted.p2o5LbPerAc[cell]);
    expect(explained.steps[0]).toMatch(/^Critical level 20 ppm; the test, .* ppm P, is below it\.$/);
    expect(explained.steps.slice(-3)).toEqual([
      "slurry of 2027-01-05 brings 25 lb P2O5/ac.",
      "At most 60 lb P2O5/ac.",
      expect.stringMatching(/^Strip and broadcast together are to bring \d+(\.\d+)? lb P2O5\/ac\.$/),
    ]);
    const off = [...field.cells.areaM2.keys()].find((one) => !(field.cells.areaM2[one]! > 0))!;
    expect(explainCell(plan, field, "P2O5", off)).toBeNull();
    const flat = await workedField({ field: { needFrom: { kind: "flat", lbPerAc: { P2O5: 40, K2O: 0 } } } });
    expect(explainCell(plan, flat, "P2O5", cell)!.steps).toEqual([
      "A rate typed for the whole field: 40 lb P2O5/ac; no guide was read in Low Forty.",
    ]);
  });
});

describe("the budget in a cell's steps", () => {
  const words = "The budget pays for the lowest tests first.";
  const credits = [
    { name: "slurry", kind: "manure" as const, date: "2027-01-05", lbPerAc: { P2O5: 25, K2O: 0 } },
  ];
  const said = async (lb: number, own: object) => {
    const change = { plan: { budget: { lb } }, field: own };
    const field = await workedField(change);
    const { plan } = needPlan(change);
    return inside(field).map((cell) => ({
      steps: explainCell(plan, field, "P2O5", cell)!.steps,
      need: field.need.p2o5LbPerAc[cell]!,
      wanted: field.wanted.p2o5LbPerAc[cell]!,
    }));
  };

  it("is not said where a credit or a maximum alone lowers what is wanted", async () => {
    const cells = await said(1_000_000, { credits, nutrients: { P2O5: { maxLbPerAc: 60 } } });
    expect(cells.filter(({ need, wanted }) => wanted < need - 1).length).toBeGreaterThan(50);
    expect(cells.filter(({ steps }) => steps.includes(words))).toEqual([]);
  });

  it("is said where the money ends", async () => {
    const cells = await said(500, { credits });
    const cut = cells.filter(({ need, wanted }) => need > 26 && wanted === 0);
    expect(cut.length).toBeGreaterThan(50);
    expect(cut.every(({ steps }) => steps.includes(words))).toBe(true);
    // What the budget pays in full is the need less 25 lb of slurry.
    const paid = cells.filter(({ need, wanted }) => need > 25 && Math.abs(wanted - (need - 25)) < 1e-9);
    expect(paid.length).toBeGreaterThan(0);
    expect(paid.some(({ steps }) => steps.includes(words))).toBe(false);
  });
});

describe("a yield goal that is hardly the crop's", () => {
  // The usual goals are ours (common practice).
  it("is doubted, for the crop and for later ones; the need follows it", async () => {
    const told = async (field: { crop: string; yieldBuPerAc: number }) =>
      (await workedField({ field })).notices
        .filter(({ code }) => code === "yield-goal-unusual")
        .map(({ message }) => message);
    expect(await told({ crop: "soybean", yieldBuPerAc: 60 })).toEqual([]);
    const [left] = await told({ crop: "soybean", yieldBuPerAc: 190 });
    expect(left).toContain("a yield goal of 190 bu/ac of soybean is unusual, goals lie between 15 and 100");
    expect(await told({ crop: "corn", yieldBuPerAc: 60 })).toHaveLength(1);
    const [field] = needPlan().plan.fields;
    const twin = { ...field!, crop: "corn" };
    expect(sameGoalNotices([field!, field!, { ...twin, yieldBuPerAc: 200 }])).toEqual([]);
    expect(sameGoalNotices([field!, twin]).map(({ message }) => message)).toEqual([
      expect.stringContaining(`soybean and corn have the same yield goal, ${field!.yieldBuPerAc} bu/ac`),
    ]);
    const both = { ...field!, alsoFor: [{ crop: "corn", yieldBuPerAc: 6_000 }] };
    expect(yieldNotices(both).map(({ message }) => message)).toEqual([
      expect.stringContaining("6000 bu/ac of corn"),
    ]);
  });
});
