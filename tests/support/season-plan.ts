import type { FieldStand } from "../../src/ledger/index.ts";
import type { FieldResult, Plan } from "../../src/plan/index.ts";
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

/** One field as four of a farm, `a` to `d`, so that order and planters matter. */
export const asFour = (field: FieldResult): FieldResult[] =>
  ["a", "b", "c", "d"].map((id) => ({ ...field, field: { ...field.field, id, name: id } }));

/** The four are driven in this order. */
export const inOrderOf = (plan: Plan, order: readonly string[] = ["c", "a", "b", "d"]): Plan => ({
  ...plan,
  season: { ...plan.season!, order },
});

/** A field of 40 ac as a ledger without lines of it has it, and what is different. */
export const standWith = (fieldId: string, more: Partial<FieldStand>): FieldStand => ({
  fieldId,
  state: "waiting",
  frozen: false,
  isSpreadFinished: false,
  strippedAc: 0,
  areaAc: 40,
  toStripAc: 40,
  missing: [],
  stripReach: [],
  notByMaps: [],
  p2o5Lb: 0,
  k2oLb: 0,
  placed: [],
  placedLines: [],
  lastDate: null,
  lastStripDate: null,
  ...more,
});
