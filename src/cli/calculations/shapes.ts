import { z } from "zod";
import type { Rig, Tenders } from "../../capacity/index.ts";
import type { DayChance } from "../../season/index.ts";
import { dailyChance } from "../../season/index.ts";

/** Numbers are held to their range by the calculation itself, which says what is wrong with them. */
export const Numbers: z.ZodType<number[]> = z.array(z.number());
/** One bin's figures as plain numbers, or one list an entry. */
export const BinLists: z.ZodType<number[][]> = z.union([
  Numbers.transform((list) => list.map((one) => [one])),
  z.array(Numbers),
]);
/** One figure, or one a bin. */
export const PerBin: z.ZodType<number[]> = z.union([z.number().transform((one) => [one]), Numbers]);
export const Place: z.ZodType<[number, number]> = z.tuple([z.number(), z.number()]);

export const RigShape: z.ZodType<Rig> = z.strictObject({
  widthFt: z.number(),
  mph: z.number(),
  turnEfficiency: z.number(),
  binFt3: z.number(),
  lbPerFt3: z.number(),
  weightLimitLb: z.exactOptional(z.number()),
  residualLb: z.number(),
  fillFactor: z.exactOptional(z.number()),
  fixedHoursPerStop: z.number(),
  transferLbPerHour: z.number(),
  hoursPerDay: z.number(),
});

export const TendersShape: z.ZodType<Tenders> = z.strictObject({
  count: z.number(),
  lb: z.number(),
  tripHours: z.number(),
});

/** Chances as they are, or days a week as observers count them. */
export const Chances: z.ZodType<DayChance[]> = z.array(
  z.union([
    z.strictObject({ from: z.string(), to: z.string(), chance: z.number() }),
    z
      .strictObject({
        from: z.string(),
        to: z.string(),
        daysPerWeek: z.number(),
        sundaysWorked: z.exactOptional(z.boolean()),
      })
      .transform(({ from, to, daysPerWeek, sundaysWorked }) => ({
        from,
        to,
        chance: dailyChance(daysPerWeek, sundaysWorked ?? true),
      })),
  ]),
);

/** A ticket as `[gross, tare]` or by name. */
export const Ticket: z.ZodType<{ grossLb: number; tareLb: number }> = z.union([
  z.tuple([z.number(), z.number()]).transform(([grossLb, tareLb]) => ({ grossLb, tareLb })),
  z.strictObject({ grossLb: z.number(), tareLb: z.number() }),
]);
