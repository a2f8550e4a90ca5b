import { readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, it } from "vitest";
import { withDaysPerWeek, withPlanter, withSeason, withTerms } from "../../app/src/state/season-edits.ts";
import { readPlan } from "../../src/plan/index.ts";
import { startOf } from "../../src/plan/season/season-weather.ts";
import { sample } from "./support/browser.ts";

const plan = readPlan(new Uint8Array(readFileSync(join(sample("single-field"), "plan.json"))), "plan.json");

it("stock typed for a product leaves the terms of its other suppliers", () => {
  const terms = [
    { product: "0-0-60", supplier: "river", freightUsdPerTon: 14 },
    { product: "0-0-60", supplier: "depot", freightUsdPerTon: 9 },
  ];
  const { plan: edited } = withTerms({ ...plan, order: { terms } }, "0-0-60", { onHandLb: 500 }, "on hand");
  expect(edited.order!.terms).toEqual([{ ...terms[0], onHandLb: 500 }, terms[1]]);
  const { plan: first } = withTerms({ ...plan, order: {} }, "0-0-60", { onHandLb: 500 }, "on hand");
  expect(first.order!.terms).toEqual([{ product: "0-0-60", supplier: "no supplier typed", onHandLb: 500 }]);
});

it("a season that the plan has not begins on the day the engine takes unsaid", () => {
  const { season: _, ...bare } = plan;
  const day = startOf(bare);
  expect(day).toBe(`${plan.seasonYear}-04-01`);
  expect(withSeason(bare, "", { leadDays: 2 }).plan.season).toEqual({ start: day, leadDays: 2 });
  expect(withDaysPerWeek(bare, 3).plan.season).toEqual({
    start: day,
    workableDays: [{ from: day, to: day, daysPerWeek: 3 }],
  });
});

it("days a week and planters are typed one by one; the others stay", () => {
  const workableDays = [
    { from: "2027-04-01", to: "2027-04-15", daysPerWeek: 2.5 },
    { from: "2027-04-16", to: "2027-04-30", daysPerWeek: 3.2 },
  ];
  const planters = [
    { id: "corn", acPerDay: 180, startsOn: "2027-04-24" },
    { id: "beans", acPerDay: 90, startsOn: "2027-05-02" },
  ];
  const of = { ...plan, season: { start: "2027-04-12", workableDays, planters } };
  expect(withDaysPerWeek(of, 3, 1).plan.season).toEqual({
    ...of.season,
    workableDays: [workableDays[0], { ...workableDays[1], daysPerWeek: 3 }],
  });
  expect(withPlanter(of, 120, "2027-05-02", 1).plan.season).toEqual({
    ...of.season,
    planters: [planters[0], { ...planters[1], acPerDay: 120 }],
  });
  // One for all days holds from the start on.
  const alike = { ...of, season: { ...of.season, workableDays: workableDays.slice(0, 1), planters: [] } };
  expect(withDaysPerWeek(alike, 3).plan.season!.workableDays).toEqual([
    { from: "2027-04-12", to: "2027-04-12", daysPerWeek: 3 },
  ]);
  expect(withPlanter(alike, 200, "2027-04-20").plan.season!.planters).toEqual([
    { id: "planter", acPerDay: 200, startsOn: "2027-04-20" },
  ]);
});
