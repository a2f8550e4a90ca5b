import { z } from "zod";
import { type Capacity, capacity, operationsDefault, tenderList, workDay } from "../../capacity/index.ts";
import type { AssumedFigure } from "../../plan/index.ts";
import type { ReadShape } from "./read-calculation.ts";

const Plus = z.number().positive();
const Zero = z.number().min(0);
const binKeys = {
  binFt3: Plus,
  lbPerFt3: Plus,
  weightLimitLb: z.exactOptional(Plus),
  residualLb: z.exactOptional(Zero),
  fillFactor: z.exactOptional(Plus),
};
/** What `capacity --input` takes. */
const CapacityShape = z.strictObject({
  rig: z.strictObject({
    ...binKeys,
    widthFt: Plus,
    mph: Plus,
    turnEfficiency: z.exactOptional(Plus),
    fixedHoursPerStop: z.exactOptional(Zero),
    transferLbPerHour: z.exactOptional(Plus),
    hoursPerDay: z.exactOptional(Plus),
  }),
  ratesLbPerAc: z.array(Zero).min(1),
  tenders: z.exactOptional(
    z.strictObject({ count: z.int().min(1), lb: Plus, tripHours: z.exactOptional(Zero) }),
  ),
  passes: z.exactOptional(z.strictObject({ passFt: Plus, refillAt: z.enum(["one-end", "both-ends"]) })),
  meterMaxLbPerMin: z.exactOptional(Plus),
});

/** Capacity at one rate, with the acres of a day that begins full and of one that begins empty. */
interface AtRate extends Capacity {
  readonly rateLbPerAc: number;
  readonly dayFromFullAc: number;
  readonly dayFromEmptyAc: number;
}

export interface CapacityResult {
  readonly rates: readonly AtRate[];
  readonly assumed: readonly AssumedFigure[];
}

/** The capacity calculation by itself, a row a rate. */
export function capacityOf(read: ReadShape): CapacityResult {
  const { rig: typed, tenders: typedTenders, ...input } = read(CapacityShape);
  const assumed: AssumedFigure[] = [];
  const filled = <Key extends string>(
    keys: readonly Key[],
    at: string,
    have: object,
  ): Record<Key, number> => {
    const found = keys.flatMap((key) => {
      if (key in have) return [];
      const { value, unit, status, source } = operationsDefault(key);
      assumed.push({ key: `${at}.${key}`, value, unit, status, source });
      return [[key, value] as const];
    });
    return Object.fromEntries(found) as Record<Key, number>;
  };
  const rig = {
    ...filled(
      ["turnEfficiency", "fixedHoursPerStop", "transferLbPerHour", "hoursPerDay", "residualLb", "fillFactor"],
      "rig",
      typed,
    ),
    ...typed,
  };
  const tenders = typedTenders && { ...filled(["tripHours"], "tenders", typedTenders), ...typedTenders };
  const rates = input.ratesLbPerAc.map((rateLbPerAc): AtRate => {
    const { ratesLbPerAc: _, ...rest } = input;
    const steady = capacity({ ...rest, rig, rateLbPerAc, ...(tenders ? { tenders } : {}) });
    const day = (start: "full" | "bin-empty"): number =>
      workDay(
        {
          rig,
          rateLbPerAc,
          loadLb: steady.countedLoadLb,
          ...(tenders ? { tenders: tenderList(tenders) } : {}),
        },
        start,
      ).acres;
    return { rateLbPerAc, ...steady, dayFromFullAc: day("full"), dayFromEmptyAc: day("bin-empty") };
  });
  return { rates, assumed };
}
