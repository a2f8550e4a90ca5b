import type { Plan } from "../../src/plan/index.ts";
import { smallPlan } from "./small-farm.ts";

/** The small farm with a rig told well enough for fills and a season: 2,000 lb a bin, so that the field takes some stops. */
export function seasonPlanDocument(): Plan {
  const plan = smallPlan();
  return {
    ...plan,
    rig: {
      ...plan.rig,
      bins: plan.rig.bins.map((bin) => ({ ...bin, volumeFt3: 20, lbPerFt3: 60, residualLb: 50 })),
      work: { mph: 7, hoursPerDay: 10, minutesPerStop: 6, fillLbPerMin: 1300, reserveShare: 0.05 },
    },
    tender: { count: 1, lb: 4800, tripMin: 60 },
    fills: {},
    season: {
      start: "2027-04-10",
      workableDays: [
        { from: "2027-04-10", to: "2027-04-30", daysPerWeek: 3.5 },
        { from: "2027-05-01", to: "2027-05-31", daysPerWeek: 4.2 },
      ],
      planters: [{ id: "planter", acPerDay: 100, startsOn: "2027-04-20" }],
      humidity: [
        { from: "2027-04-10", to: "2027-04-30", morningPercent: 82, afternoonPercent: 55 },
        { from: "2027-05-01", to: "2027-05-31", morningPercent: 84, afternoonPercent: 60 },
      ],
    },
    order: {
      terms: [{ product: "11-52-0", supplier: "elevator", onHandLb: 500, freightUsdPerTon: 18 }],
      book: [{ date: "2027-02-14", kind: "booked", product: "11-52-0", supplier: "elevator", tons: 1 }],
    },
    pricesUsdPerTon: { "11-52-0": 780, "0-0-60": 480 },
  };
}
