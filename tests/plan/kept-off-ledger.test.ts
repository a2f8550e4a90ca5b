import { beforeAll, expect, test } from "vitest";
import { fieldStands, type LedgerEntry } from "../../src/ledger/index.ts";
import { appliedField, type Plan, type RunResult, run } from "../../src/plan/index.ts";
import { plannedFields } from "../../src/plan/stands/ledger-of-plan.ts";
import { builtMaps } from "../../src/publish/built-maps.ts";
import { lookInLedger } from "../../src/publish/ledger-look.ts";
import { resultJson } from "../../src/publish/result-json.ts";
import { drivenLog, smallFarmProducts as products } from "../support/driven-log.ts";
import { seasonPlanDocument } from "../support/season-plan.ts";
import { smallFarmFiles, sourceOf } from "../support/small-farm.ts";

// A strip of ground across the field from south to north, over 2 % of it, that nothing may be laid on.
const places = [
  [-93.4989, 41.99],
  [-93.4987, 41.99],
  [-93.4987, 42.01],
  [-93.4989, 42.01],
] as const;
const plan: Plan = {
  ...seasonPlanDocument(),
  exclusions: [
    {
      corners: places.map(([lonDeg, latDeg]) => ({ lonDeg, latDeg })),
      what: "waterway",
      method: "both",
      setbackFt: 33,
    },
  ],
};

let result: RunResult;
let offAc: number;
beforeAll(async () => {
  result = await run(plan, sourceOf(smallFarmFiles()));
  const { pieces, areaAc } = result.fields[0]!.passes;
  offAc = pieces.reduce((ac, { keptOff }, k) => ac + (keptOff ? areaAc[k]! : 0), 0);
  expect(offAc).toBeGreaterThan(0.04 * result.fields[0]!.checked.areaAc);
});

const entriesOf = (areaAc: number): LedgerEntry[] =>
  products.map((product, k) => ({
    ...{ number: k + 1, date: "2026-10-20", kind: "placed", fieldId: result.fields[0]!.field.id },
    ...{ pass: "strip", product, lb: 1_000, areaAc, p2o5Lb: k === 0 ? 520 : 0, k2oLb: k === 0 ? 0 : 600 },
    ...{ from: "log", map: "", revision: "" },
  }));

test("a log over every pass is no skip on ground that is kept off, and the ledger has the field as stripped", () => {
  const field = result.fields[0]!;
  const made = appliedField(
    plan,
    field,
    products.map((_, bin) => drivenLog(result, bin)),
  );
  const { coveredAc, skippedAc } = made.products[0]!;
  // What is kept off counts as neither covered nor skipped.
  expect(coveredAc + skippedAc).toBeCloseTo(field.checked.areaAc - offAc, 2);
  expect(skippedAc).toBeLessThan(0.02 * (field.checked.areaAc - offAc));
  const codes = made.notices.map(({ code }) => code);
  expect(codes).not.toContain("skips-still-planned");
  expect(codes).not.toContain("strip-not-finished");
  const [stand] = fieldStands(entriesOf(coveredAc), plannedFields(result.fields));
  expect(stand).toMatchObject({ state: "stripped", areaAc: field.checked.areaAc });
});

test("98 % of the ground that is to be laid is stripped, whether or not the acres have the rest in them", () => {
  const field = result.fields[0]!;
  const toLayAc = field.checked.areaAc - offAc;
  const state = (ac: number) => fieldStands(entriesOf(ac), plannedFields(result.fields))[0]!.state;
  expect(state(0.979 * toLayAc)).toBe("part stripped");
  expect(state(0.981 * toLayAc)).toBe("stripped");
  // At a flat rate somebody drove over it as well.
  expect(state(field.checked.areaAc)).toBe("stripped");
  expect(fieldStands([], plannedFields(result.fields))[0]!.state).toBe("waiting");
});

test("nothing is left for a stick of its build", async () => {
  const field = result.fields[0]!;
  const build = sourceOf(
    new Map([["result.json", new TextEncoder().encode(JSON.stringify(resultJson(result)))]]),
  );
  const maps = await builtMaps(build);
  const look = (areaAc: number) =>
    lookInLedger({ entries: entriesOf(areaAc), build, maps, pass: "strip", asked: [], reissue: false });
  await expect(look(field.checked.areaAc - offAc)).rejects.toMatchObject({ code: "field-stripped" });
  const part = await look(0.9 * (field.checked.areaAc - offAc));
  expect(part.said.join()).toContain(`of ${(field.checked.areaAc - offAc).toFixed(1)} ac`);
});
