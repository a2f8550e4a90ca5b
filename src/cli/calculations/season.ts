import { z } from "zod";
import { type TimeLines, timeLines } from "../../capacity/index.ts";
import { type CriticalHumidity, criticalHumidity } from "../../products/index.ts";
import {
  type ChaseField,
  type ChasePlanter,
  chanceDoneBy,
  chanceOfWorkableDays,
  chaseFields,
  dayNumber,
  type FieldChase,
  type FinishDistribution,
  finishDistribution,
  type PlainFields,
  type PlanterChase,
  type PremiumAcres,
  plainBlendFields,
  planterChase,
  premiumAcres,
  type SeasonPlan,
  type SwitchDate,
  seasonPlan,
  switchDate,
  type WeatherInput,
  type WetHours,
  wetHours,
} from "../../season/index.ts";
import { partMissing, type ReadShape, somePart } from "./read-calculation.ts";
import { Chances, RigShape, TendersShape } from "./shapes.ts";

const number = z.number();
const maybe = z.exactOptional(z.number());

/** What `season --input` takes: any of these parts; each is worked out by itself. */
const SeasonShape = z.strictObject({
  weather: z.exactOptional(
    z.strictObject({ start: z.string(), chances: Chances, persistence: z.number().default(0.5) }),
  ),
  rig: z.exactOptional(RigShape),
  tenders: z.exactOptional(TendersShape),
  finish: z.exactOptional(
    z.strictObject({
      acres: number,
      acPerDay: number,
      horizonDays: maybe,
      doneBy: z.array(z.string()).default([]),
    }),
  ),
  lead: z.exactOptional(z.strictObject({ by: z.string(), workableDays: number })),
  planter: z.exactOptional(
    z.strictObject({
      acres: number,
      planterAcPerDay: number,
      workableDaysBefore: number,
      leadDays: number,
      acPerDay: number,
    }),
  ),
  fields: z.exactOptional(
    z.array(
      z.strictObject({
        id: z.string(),
        areaAc: number,
        meanStripLbPerAc: number,
        doneAc: maybe,
        moveHours: maybe,
      }),
    ),
  ),
  fieldOrder: z.exactOptional(
    z.strictObject({
      fields: z.array(z.strictObject({ id: z.string(), areaAc: number, stripHours: number })),
      planters: z.array(
        z.strictObject({
          id: z.string(),
          acPerDay: number,
          startsOnDay: number,
          fields: z.array(z.string()),
        }),
      ),
      hoursPerDay: number,
      leadDays: number,
    }),
  ),
  blend: z.exactOptional(
    z.strictObject({
      parts: z.array(z.strictObject({ id: z.string(), share: number })),
      coatingPoints: z.number().default(0),
    }),
  ),
  wetHours: z.exactOptional(
    z.strictObject({
      morningPercent: number,
      afternoonPercent: number,
      limitPercent: number,
      workFromHour: number,
      workToHour: number,
      maximumAtHour: maybe,
    }),
  ),
  switch: z.exactOptional(
    z.strictObject({
      criticalPercent: number,
      coatingPoints: number,
      sdPoints: number,
      periods: z.array(z.strictObject({ name: z.string(), afternoonPercent: number })),
      hoursLost: number,
      valuePerHour: number,
      benefitPerAc: number,
      acPerDay: number,
    }),
  ),
  premium: z.exactOptional(
    z.strictObject({
      acres: number,
      acPerDay: number,
      lastDay: z.string(),
      tooLittlePerAc: number,
      tooMuchPerAc: number,
    }),
  ),
  plainFields: z.exactOptional(
    z.strictObject({
      fields: z.array(z.strictObject({ id: z.string(), areaAc: number, benefitPerAc: number })),
      atLeastAc: number,
    }),
  ),
});

/** A finish distribution at the persistence given and, beside it, at none. */
interface Finish extends Omit<FinishDistribution, "byDay"> {
  readonly persistence: number;
  readonly doneBy: readonly { readonly date: string; readonly chance: number }[];
}

export interface SeasonResult {
  readonly finish?: readonly Finish[];
  readonly lead?: readonly { readonly persistence: number; readonly chance: number }[];
  readonly planter?: PlanterChase;
  readonly fields?: Omit<SeasonPlan, "finish"> & {
    readonly date80: string | null;
    readonly date50: string | null;
  };
  readonly fieldOrder?: readonly FieldChase[];
  readonly blend?: CriticalHumidity;
  readonly wetHours?: WetHours;
  readonly switch?: SwitchDate;
  readonly premium?: PremiumAcres;
  readonly plainFields?: PlainFields;
}

/** Whatever parts of a season are given, each by itself. Throws what they throw, and `part-missing`. */
export function seasonOf(read: ReadShape): SeasonResult {
  const given = read(SeasonShape);
  const weather = (): WeatherInput => {
    if (given.weather === undefined) throw partMissing("weather");
    return given.weather;
  };
  const lines = (): TimeLines => {
    if (given.rig === undefined) throw partMissing("rig");
    return timeLines({ rig: given.rig, ...(given.tenders === undefined ? {} : { tenders: given.tenders }) });
  };
  const both = (): WeatherInput[] =>
    weather().persistence === 0 ? [weather()] : [weather(), { ...weather(), persistence: 0 }];
  const { finish, lead, planter, fields, fieldOrder, blend, premium } = given;
  const result: SeasonResult = {
    ...(finish && {
      finish: both().map((one): Finish => {
        const { doneBy, ...rest } = finish;
        const distribution = finishDistribution({ ...rest, ...one });
        const { byDay: _, ...dates } = distribution;
        return {
          persistence: one.persistence,
          ...dates,
          doneBy: doneBy.map((date) => ({ date, chance: chanceDoneBy(distribution, date) })),
        };
      }),
    }),
    ...(lead && {
      lead: both().map((one) => ({
        persistence: one.persistence,
        chance: chanceOfWorkableDays(one, dayNumber(lead.by) - dayNumber(one.start), lead.workableDays),
      })),
    }),
    ...(planter && {
      planter: planterChase({
        ...planter,
        ...(given.rig && { lines: lines(), hoursPerDay: given.rig.hoursPerDay }),
      }),
    }),
    ...(fields && {
      fields: fieldsPart(
        seasonPlan({ fields, ...weather(), lines: lines(), hoursPerDay: given.rig!.hoursPerDay }),
      ),
    }),
    ...(fieldOrder && {
      fieldOrder: chaseFields(
        fieldOrder as typeof fieldOrder & { fields: ChaseField[]; planters: ChasePlanter[] },
      ),
    }),
    ...(blend && { blend: criticalHumidity(blend.parts, blend.coatingPoints) }),
    ...(given.wetHours && { wetHours: wetHours(given.wetHours) }),
    ...(given.switch && { switch: switchDate(given.switch) }),
    ...(premium && { premium: premiumAcres({ ...premium, ...weather() }) }),
    ...(given.plainFields && { plainFields: plainBlendFields(given.plainFields) }),
  };
  return somePart(
    result,
    "finish, lead, planter, fields, fieldOrder, blend, wetHours, switch, premium or plainFields",
  );
}

function fieldsPart({ finish, ...season }: SeasonPlan): NonNullable<SeasonResult["fields"]> {
  return { ...season, date80: finish.date80, date50: finish.date50 };
}
