export { chancesFrom, type DayChance, dailyChance, dateOf, dayNumber } from "./calendar.ts";
export { type ChaseField, type ChasePlanter, chaseFields, type FieldChase } from "./chase-fields.ts";
export {
  chanceDoneBy,
  type FinishDistribution,
  finishDistribution,
  finishOfDays,
} from "./finish-distribution.ts";
export { normalCdf } from "./normal.ts";
export { type PlainFields, plainBlendFields } from "./plain-blend-fields.ts";
export { type PlanterChase, planterChase } from "./planter-chase.ts";
export { type PremiumAcres, premiumAcres } from "./premium-acres.ts";
export { type SeasonPlan, seasonPlan } from "./season-plan.ts";
export { type SwitchDate, switchDate } from "./switch-date.ts";
export { chanceNeverDry, type WetHours, wetHours } from "./wet-hours.ts";
export { atLeast, chanceOfWorkableDays, type WeatherInput, workableDayCounts } from "./workable-days.ts";
