import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { afterAll, expect, test } from "vitest";
import { type Plan, run, writePlan } from "../../src/plan/index.ts";
import { cli } from "../support/in-process-cli.ts";
import { seasonPlanDocument } from "../support/season-plan.ts";
import { smallFarmFiles, sourceOf } from "../support/small-farm.ts";

const base = mkdtempSync(join(tmpdir(), "fills-begun-"));
afterAll(() => rmSync(base, { recursive: true, force: true }));

/** Ground across the field that nothing may be laid on. */
const corners = (
  [
    [-93.4989, 41.99],
    [-93.4987, 41.99],
    [-93.4987, 42.01],
    [-93.4989, 42.01],
  ] as const
).map(([lonDeg, latDeg]) => ({ lonDeg, latDeg }));
const plan: Plan = {
  ...seasonPlanDocument(),
  exclusions: [{ corners, what: "waterway", method: "both", setbackFt: 33 }],
};

test("stops of a field that the ledger has as stripped: what may be stripped counts, and nothing is planned on", async () => {
  const [field] = (await run(plan, sourceOf(smallFarmFiles()), { files: "later" })).fields;
  const { pieces, areaAc } = field!.passes;
  const openAc = pieces.reduce((ac, { keptOff }, k) => ac + (keptOff ? 0 : areaAc[k]!), 0);
  expect(openAc).toBeLessThan(0.96 * field!.checked.areaAc);
  const told = async (share: number): Promise<string> => {
    const folder = join(base, `share-${share}`);
    mkdirSync(folder);
    for (const [path, bytes] of smallFarmFiles()) writeFileSync(join(folder, path), bytes);
    writeFileSync(join(folder, "plan.json"), writePlan(plan));
    const laid = plan.rig.bins.map(({ product }, b) => ({
      ...{ kind: "placed", fieldId: field!.field.id, pass: "strip", product, lb: 3_000 },
      ...{ areaAc: share * openAc, p2o5Lb: b === 0 ? 1_560 : 0, k2oLb: b === 0 ? 0 : 1_800 },
      ...{ from: "typed", map: "", revision: "" },
    }));
    writeFileSync(join(folder, "events.json"), JSON.stringify(laid));
    const added = await cli("ledger", folder, "--add", join(folder, "events.json"), "--date", "2027-04-18");
    expect([added.exit, added.error]).toEqual([0, ""]);
    return (await cli("fills", folder)).out;
  };
  const acres = (share: number) => `${(share * openAc).toFixed(1)} of ${openAc.toFixed(1)} ac`;
  const whole = await told(0.99);
  expect(whole).toContain(`is stripped by the ledger, ${acres(0.99)}`);
  expect(whole).not.toMatch(/plan on from where the rig stands/i);
  const part = await told(0.5);
  expect(part).toContain(`by the ledger ${acres(0.5)} are stripped; these stops are of the whole field`);
  expect(part).toContain("plan on from where the rig stands, --field low-forty --done-after N --bin-lb");
});
