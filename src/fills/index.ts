export { chooseRefillPlan } from "./choose-refill-plan.ts";
export { smallestFirstLoad } from "./first-load.ts";
export { greedyRefills } from "./greedy-refills.ts";
export { cannotFinish, planRefills, refillReserve } from "./plan-refills.ts";
export { type CompartmentTender, type RefillTimes, refillTimes } from "./refill-times.ts";
export type {
  NoRefillPlan,
  RefillInput,
  RefillLeg,
  RefillLook,
  RefillPlace,
  RefillPlan,
  RefillStop,
} from "./refill-types.ts";
export { type RefillStand, replanRefills } from "./replan-refills.ts";
export { headlandStopMinutes, sideStopMinutes } from "./stop-minutes.ts";
