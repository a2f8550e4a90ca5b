import { readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, it } from "vitest";
import { withBin, withRigWork, withTender } from "../../app/src/state/rig-edits.ts";
import { withMethod } from "../../app/src/state/split-edits.ts";
import { filesKey, splitKey } from "../../app/src/state/split-key.ts";
import { type Plan, readPlan } from "../../src/plan/index.ts";
import { barePlan } from "../support/bare-plan.ts";
import { sample } from "./support/browser.ts";

const plan = barePlan(
  readPlan(new Uint8Array(readFileSync(join(sample("home-farm"), "plan.json"))), "plan.json"),
);
const [one, other] = plan.fields as [Plan["fields"][0], Plan["fields"][0]];
const isStale = (edited: Plan): boolean => splitKey(edited, one.id) !== splitKey(plan, one.id);

it.each<[string, Partial<Plan>]>([
  ["seed", { seed: { distanceIn: 3 } }],
  ["need", { need: { drivenBy: "weighted", usdPerLbMissing: 1, usdPerLbExcess: 0.5 } }],
  ["seasonYear", { seasonYear: plan.seasonYear + 1 }],
  ["spreader", { spreader: { ...plan.spreader, rateStepLbPerAc: 1 } }],
  ["budget", { budget: { lb: 1_000 } }],
  ["maps", { maps: { ...plan.maps, pooled: plan.maps.pooled !== true } }],
])("a kept split is out of date when %s changes", (_, change) => {
  expect(isStale({ ...plan, ...change })).toBe(true);
});

it("an edit of its field makes it out of date, one of another field does not", () => {
  const renamed = (id: string): Plan => ({
    ...plan,
    fields: plan.fields.map((field) => (field.id === id ? { ...field, name: "Other name" } : field)),
  });
  expect(isStale(renamed(one.id))).toBe(true);
  expect(isStale(renamed(other.id))).toBe(false);
});

it("loads, days and dollars leave it as it is, unless the split is reckoned from them", () => {
  const later: Plan[] = [
    { ...plan, season: { start: "2027-04-10" } },
    { ...plan, order: { book: [] } },
    { ...plan, pricesUsdPerTon: { ...plan.pricesUsdPerTon, "0-0-60": 333 } },
    withTender(plan, { count: 2 }, "").plan,
    withBin(plan, plan.rig.bins[0]!.id, { volumeFt3: 77 }, "").plan,
    withRigWork(withRigWork(plan, { mph: 7 }, "").plan, { hoursPerDay: 9 }, "").plan,
  ];
  const { budget: _, blends: __, products: ___, ...plain } = plan;
  const at = (of: Plan) => splitKey(of, one.id);
  const bare = withMethod(plain, "ceiling").plan;
  const onlyThe = (of: Plan): Plan => ({ ...of, split: bare.split });
  for (const edited of later.slice(0, 5)) {
    const { budget: _b, blends: _l, products: _p, ...without } = edited;
    expect(at(onlyThe(without))).toBe(at(bare));
  }
  // Speed sets how long a segment must be.
  expect(at(onlyThe(later[5]!))).not.toBe(at(bare));
  const optimum = withMethod(plan, "optimum").plan;
  for (const edited of later.slice(2, 5)) {
    expect(at({ ...edited, split: optimum.split })).not.toBe(at(optimum));
  }
});

it("what a rate 0 does leaves a kept split as it is, and files that were taken unless other forms hold it", () => {
  const small = { controller: { zeroRate: "small", smallRateLbPerAc: 5 } } as const;
  const forms = { extras: ["fallback"] } as const;
  expect(isStale({ ...plan, ...small, ...forms })).toBe(false);
  const files = (more: Partial<Plan>) => filesKey({ ...plan, ...more }, one.id);
  expect(files(small)).toBe(files({}));
  expect(files({ ...forms, ...small })).not.toBe(files(forms));
  expect(files(forms)).not.toBe(files({}));
  expect(files({ budget: { lb: 1_000 } })).not.toBe(files({}));
});
