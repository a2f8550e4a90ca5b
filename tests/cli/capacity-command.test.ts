import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import type { Plan } from "../../src/plan/index.ts";
import { rigFigures } from "../../src/plan/index.ts";
import { rigCapacity } from "../../src/plan/rig/rig-capacity.ts";
import { cli } from "../support/in-process-cli.ts";
import { needPlan } from "../support/need-plan.ts";
import { example, near } from "../support/operations.ts";

let base: string;
beforeAll(() => {
  base = mkdtempSync(join(tmpdir(), "capacity-test-"));
});
afterAll(() => rmSync(base, { recursive: true, force: true }));

const input = (name: string, value: unknown): string => {
  const path = join(base, name);
  writeFileSync(path, JSON.stringify(value));
  return path;
};

const rigKeys = {
  work: { mph: 7, turnEfficiency: 0.8, hoursPerDay: 11, minutesPerStop: 6, fillLbPerMin: 1300 },
};

describe("capacity --input", () => {
  test("a1: product always at hand", async () => {
    const { inputs, expected } = example("a1");
    const told = await cli("capacity", "--input", input("a1.json", inputs), "--json");
    const { rates, assumed } = JSON.parse(told.out);
    for (const at of rates) {
      const want = expected.ready[at.rateLbPerAc];
      near(at.acPerFill, want.acPerFill);
      near(at.acPerHour, want.acH);
      near(at.acPerDay, want.acDay);
    }
    near(rates[0].meterLbPerMin, expected.meterLbMin390);
    near(rates[0].meterTopMph, expected.speedCapAt160lbMin);
    expect(assumed.map(({ key }: { key: string }) => key)).toEqual(["rig.fillFactor"]);
  });

  test("a2: one tender, steady and from full; the crossing of the lines", async () => {
    const { inputs, expected } = example("a2");
    const { count, lb, tripHours } = inputs.tender;
    const path = input("a2.json", {
      rig: inputs.rig,
      tenders: { count, lb, tripHours },
      ratesLbPerAc: [390, 260],
    });
    const { rates } = JSON.parse((await cli("capacity", "--input", path, "--json")).out);
    near(rates[0].crossoverLbPerAc, expected.crossover);
    near(rates[0].lines.tender.hoursPerLb, expected.lines.ten.kappa);
    near(rates[0].acPerDay, expected.one[390].acDay);
    near(rates[0].dayFromFullAc, expected.day.one390.acres);
    near(rates[1].dayFromFullAc, expected.day.one260.acres);
    expect(rates[0].dayFromEmptyAc).toBeLessThan(rates[0].dayFromFullAc);
    const words = (await cli("capacity", "--input", path)).out;
    expect(words).toMatch(/the tenders are the limit above 226\.8 lb\/ac/);
    expect(words).toMatch(/^ *390 .* tender/m);
  });

  test("what is left out is taken from the defaults and shown as unconfirmed", async () => {
    const path = input("few.json", {
      rig: { widthFt: 40, mph: 7, binFt3: 210, lbPerFt3: 60 },
      tenders: { count: 1, lb: 20_000 },
      ratesLbPerAc: [300],
    });
    const words = (await cli("capacity", "--input", path)).out;
    expect(words).toMatch(/^Unconfirmed: rig\.fixedHoursPerStop 0\.1 h/m);
    expect(words).toMatch(/^Unconfirmed: tenders\.tripHours 2 h/m);
    expect(words).toMatch(/^Published default: rig\.turnEfficiency 0\.8 share/m);
  });

  test("a wrong key is named", async () => {
    const told = await cli("capacity", "--input", input("bad.json", { rig: {}, ratesLbPerAc: [1] }));
    expect(told.exit).toBe(2);
    expect(told.error).toMatch(/bad\.json: rig\.binFt3/);
  });
});

describe("capacity PLAN", () => {
  // The check values know no ground covered twice.
  const withRig = (rig: object, more: Partial<Plan> = {}): Plan => {
    const { plan } = needPlan();
    return { ...plan, order: { overlapShare: 0 }, ...more, rig: { ...plan.rig, ...rig } };
  };

  test("says which keys are missing", async () => {
    const folder = join(base, "bare");
    const { plan, files } = needPlan();
    writePlan(folder, plan, files);
    const told = await cli("capacity", folder);
    expect(told.exit).toBe(2);
    expect(told.error).toMatch(/rig\.work\.mph, rig\.bins\[0\]\.volumeFt3 \(bin L\)/);
  });

  test("the maps' rates, hopper by hopper, with the tenders", async () => {
    const { files } = needPlan();
    const bins = needPlan().plan.rig.bins.map((bin) => ({ ...bin, volumeFt3: 105, residualLb: 150 }));
    const plan = withRig(
      { bins, ...rigKeys, overlapPercent: 4 },
      { tender: { count: 1, lb: 23_400, tripMin: 120 }, order: {}, fills: { meterFactor: 1.02 } },
    );
    const folder = join(base, "told");
    writePlan(folder, plan, files);
    const { all, points } = JSON.parse((await cli("capacity", folder, "--json")).out);
    const [left, right] = all.load.bins;
    // 105 ft3 at the middle of 60 to 65 and of 58 to 65 lb/ft3, less what stays in.
    near(left.loadLb, 105 * 62.5 - 150);
    near(right.loadLb, 105 * 61.5 - 150);
    near(all.acPerFill, Math.min(left.loadLb / left.rateLbPerAc, right.loadLb / right.rateLbPerAc));
    near(all.binLbPerAc, left.rateLbPerAc + right.rateLbPerAc);
    near(all.binLbPerAc, all.rateLbPerAc * 1.04 * 1.02);
    expect(points.length).toBeGreaterThan(3);
    const words = (await cli("capacity", folder)).out;
    expect(words).toMatch(/ac a day steady/);
    expect(words).toMatch(/Unconfirmed: rig\.bins\[0\]\.lbPerFt3 62\.5 lb\/ft3/);
    expect(words).toMatch(/weigh a known volume/);
  });

  test("a6: two hoppers, the first empty one ends the fill; a movable wall divides by the rates", () => {
    const { inputs, expected } = example("a6");
    const bins = needPlan().plan.rig.bins.map((bin, b) => ({
      ...bin,
      volumeFt3: inputs.loadsLb[b] / 50,
      lbPerFt3: 50,
      residualLb: 0,
      filledShare: 1,
    }));
    const zone = [{ areaAc: 100, ratesLbPerAc: inputs.ratesLbPerAc }];
    const two = rigCapacity(rigFigures(withRig({ bins, ...rigKeys })), zone);
    near(two.acPerFill, expected.acPerFill);
    expect(two.load.limit).toBe("bin R, its volume");
    const box = rigCapacity(rigFigures(withRig({ bins, ...rigKeys, movableWall: true })), zone);
    near(box.acPerFill, expected.bestAcPerFill);
    box.load.wall!.loadsLb.forEach((lb, b) => {
      near(lb, expected.bestDivide[b]);
    });
    const held = rigCapacity(rigFigures(withRig({ bins, ...rigKeys, carriesLb: 6_500 })), zone);
    near(held.acPerFill, 20);
    expect(held.load.limit).toBe("what the rig may carry");
  });

  test("a8: stops at the ends of passes only; a meter that holds the rig back is told by its acres", () => {
    const { inputs, expected } = example("a8");
    const { rig } = inputs;
    const [bin] = needPlan().plan.rig.bins;
    const one = {
      ...bin!,
      volumeFt3: rig.binFt3,
      lbPerFt3: rig.lbPerFt3,
      mostLb: rig.weightLimitLb,
      residualLb: rig.residualLb,
      filledShare: 1,
    };
    const plan = withRig({ rows: 16, rowSpacingIn: 30, bins: [one], ...rigKeys });
    const zone = [{ areaAc: 100, ratesLbPerAc: [inputs.rateLbPerAc] }];
    near(rigCapacity(rigFigures(plan), zone, inputs.passFt).acPerHour, expected.acHFull);
    const tender = { count: 99, lb: 1e6, tripMin: 0, reachedAt: "one-end" as const };
    near(rigCapacity(rigFigures({ ...plan, tender }), zone, inputs.passFt).acPerHour, expected.acHOneSide);
    const slow = withRig({
      rows: 16,
      rowSpacingIn: 30,
      bins: [{ ...one, meterMaxLbPerMin: 160 }],
      ...rigKeys,
    });
    const mixed = [
      { areaAc: 50, ratesLbPerAc: [390] },
      { areaAc: 50, ratesLbPerAc: [100] },
    ];
    const held = rigCapacity(rigFigures(slow), mixed);
    near(held.meters[0]!.topMph, example("a1").expected.speedCapAt160lbMin);
    expect(held.slowedAc).toBe(50);
    near(held.meanMph, 100 / (50 / held.meters[0]!.topMph! + 50 / 7));
  });
});

function writePlan(folder: string, plan: Plan, files: ReadonlyMap<string, Uint8Array>): void {
  mkdirSync(folder, { recursive: true });
  writeFileSync(join(folder, "plan.json"), JSON.stringify(plan));
  for (const [path, bytes] of files) writeFileSync(join(folder, path), bytes);
}
