import { expect, test } from "vitest";
import { type Rig, workDay } from "../../src/capacity/index.ts";
import { dayAcres } from "../../src/plan/rig/day-acres.ts";

// By hand: 33 ft at 5 mph without loss are 20 ac/h (33 x 5 / 8.25). A load of 2,000 lb at 100 lb/ac lasts 20 ac, 1 h; a stop
// takes 0.1 h and 2,000 lb another 0.1 h.
const rig: Rig = {
  widthFt: 33,
  mph: 5,
  turnEfficiency: 1,
  fixedHoursPerStop: 0.1,
  transferLbPerHour: 20_000,
  hoursPerDay: 6,
  binFt3: 40,
  lbPerFt3: 50,
  residualLb: 0,
};

test("a tender leaves once it has no whole load any more where that gets more done", () => {
  const day = { rig, rateLbPerAc: 100, tenders: [{ lb: 2_600, tripHours: 1 }] };
  // 600 lb, 0.3 of a load, are left after the first stop. It leaves at 1.2 h and is back at 2.2 h, as the bin runs empty, and so
  // on: five times 1 h of work and 0.2 h of a stop in 6 h, 100 ac.
  expect(dayAcres(day, 2_000, "full")).toBeCloseTo(100, 6);
  // Where it waits with its 600 lb the rig waits for it after every second load.
  const stays = workDay({ ...day, loadLb: 2_000, leaveBelowLb: 0.25 * 2_000 }, "full");
  expect(stays.acres).toBeLessThan(90);
  expect(stays.waitHours).toBeGreaterThan(0.5);
});

test("a lower rate never gets less done in a day for a rest in the tender", () => {
  const acres = Array.from({ length: 40 }, (_, k) =>
    // Loads in proportion to the rate, as where bins run out together: the same acres a fill.
    dayAcres({ rig, rateLbPerAc: 100 - k, tenders: [{ lb: 2_600, tripHours: 1 }] }, 20 * (100 - k), "full"),
  );
  for (const [k, one] of acres.slice(1).entries()) expect(one).toBeGreaterThanOrEqual(acres[k]! - 1e-9);
});
