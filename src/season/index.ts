export { chancesFrom, type DayChance, dailyChance, dateOf, dayNumber } from "./calendar.ts";
export { type ChaseField, type ChasePlanter, chaseFields, type FieldChase } from "./chase-fields.ts";
export {
  chanceDoneBy,
  type FinishDistribution,
  type FinishInput,
  finishDistribution,
  finishOfDays,
} from "./finish-distribution.ts";
export { normalCdf } from "./normal.ts";
export { type PlainFields, type PlainFieldsInput, plainBlendFields } from "./plain-blend-fields.ts";
export { type ChaseInput, type PlanterChase, planterChase } from "./planter-chase.ts";
export { type PremiumAcres, type PremiumInput, premiumAcres } from "./premium-acres.ts";
export {
  type SeasonField,
  type SeasonFieldDates,
  type SeasonInput,
  type SeasonPlan,
  seasonPlan,
} from "./season-plan.ts";
export { type SwitchDate, type SwitchInput, switchDate } from "./switch-date.ts";
export { chanceNeverDry, type WetHours, type WetHoursInput, wetHours } from "./wet-hours.ts";
export { atLeast, chanceOfWorkableDays, type WeatherInput, workableDayCounts } from "./workable-days.ts";
