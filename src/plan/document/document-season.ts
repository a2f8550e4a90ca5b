import { z } from "zod";
import { operationsDefault } from "../../capacity/index.ts";
import { USUAL_LOT_TONS } from "../../order/index.ts";
import {
  Day,
  Id,
  isSpanInOrder,
  NotNegative,
  Percent,
  Positive,
  placeKeys,
  refuseSharedDays,
  SeasonYear,
  SPAN_TURNED,
  Words,
} from "./document-parts.ts";
import type { OptionalKeys } from "./document-rig.ts";
import type { PlanFills, PlanOrder, PlanSeason, PlanSeasonKeys } from "./document-season-types.ts";

const Share = z.number().min(0).max(0.5);

const Fills: z.ZodType<PlanFills> = z.strictObject({
  places: z
    .exactOptional(
      z.array(
        z.strictObject({
          id: Words,
          field: Id,
          ...placeKeys,
        }),
      ),
    )
    .describe("where a tender may stand; along the headlands when a field has none"),
  load: z
    .exactOptional(z.enum(["full", "to-need", "last-to-need"]))
    .describe("last-to-need when absent: full, or what is left to do and the reserve where that is less"),
  meterErrorShare: z
    .exactOptional(Share)
    .describe("measured: 0.03 = the meter may deliver 3 % more than it logs"),
  meterFactor: z.exactOptional(z.number().min(0.5).max(2)).describe("true over logged pounds"),
  headlandMph: z.exactOptional(z.number().positive().max(25)),
  mostMoves: z.exactOptional(z.int().min(0).max(5)).describe("moves of the tender during a field"),
  moveMinutes: z.exactOptional(NotNegative),
  compartmentsLb: z
    .exactOptional(z.array(NotNegative).min(1))
    .describe("of a tender, in the order of the bins"),
});

const Season: z.ZodType<PlanSeason> = z.strictObject({
  start: Day.describe("first day that may be worked"),
  order: z.exactOptional(z.array(Id).min(1)).describe("fields in working order"),
  workableDays: z.exactOptional(
    z
      .array(
        z
          .strictObject({ from: Day, to: Day, daysPerWeek: z.number().min(0).max(7) })
          .refine(isSpanInOrder, SPAN_TURNED),
      )
      .min(1)
      .superRefine(refuseSharedDays),
  ),
  sundaysWorked: z.exactOptional(z.boolean()).describe("false: 0.7 day a week less"),
  persistence: z.exactOptional(z.number().min(0).max(0.95)),
  fieldChangeMinutes: z.exactOptional(NotNegative).describe("fold, road, load the map"),
  planters: z.exactOptional(
    z.array(
      z.strictObject({
        id: Words,
        acPerDay: Positive,
        startsOn: Day,
        fields: z.exactOptional(z.array(Id).min(1)),
      }),
    ),
  ),
  leadDays: z.exactOptional(NotNegative).describe("workable days the strips must be ahead"),
  humidity: z.exactOptional(
    z
      .array(
        z
          .strictObject({ from: Day, to: Day, morningPercent: Percent, afternoonPercent: Percent })
          .refine(isSpanInOrder, SPAN_TURNED),
      )
      .min(1)
      .superRefine(refuseSharedDays),
  ),
  workFromHour: z.exactOptional(z.number().min(0).max(24)),
  workToHour: z.exactOptional(z.number().min(0).max(30)),
  coated: z
    .exactOptional(
      z.strictObject({
        products: z.exactOptional(z.array(Words).min(1)),
        coatingPoints: z.number().min(0).max(50),
        sdPoints: Positive,
        hoursLost: Positive,
        usdPerHour: Positive,
        benefitUsdPerAc: Positive,
        leftOverUsdPerAc: Positive,
      }),
    )
    .describe("a coated blend that gives trouble in humid air"),
});

/** Words that are not blanks alone. */
const Name = z.string().min(1).max(120).regex(/\S/, "blank");

const Order: z.ZodType<PlanOrder> = z.strictObject({
  terms: z.exactOptional(
    z.array(
      z.strictObject({
        product: Name,
        supplier: Name,
        freightUsdPerTon: z.exactOptional(NotNegative),
        onHandLb: z
          .exactOptional(NotNegative)
          .describe("lb on hand before the season, without what book has delivered"),
        lotTons: z
          .exactOptional(Positive)
          .describe(`what is still to order is whole lots of it; ${USUAL_LOT_TONS} when absent`),
      }),
    ),
  ),
  overlapShare: z
    .exactOptional(Share)
    .describe(`applied twice; ${operationsDefault("overlapShare").value} when absent`),
  lossShare: z.exactOptional(Share).describe("lost in handling; 0 when absent"),
  book: z
    .exactOptional(
      z.array(
        z
          .strictObject({
            date: Day,
            kind: z.enum(["booked", "cancelled", "delivered"]),
            product: Name,
            supplier: Name,
            tons: z.number().describe("below 0 only of delivered: it takes a delivery back"),
            pricePerTon: z
              .exactOptional(NotNegative)
              .describe(
                "of a booking; of a delivery without one; of cancelled: of which bookings it comes off",
              ),
            ticket: z.exactOptional(Words),
          })
          .refine(({ kind, tons }) => kind === "delivered" || tons >= 0, {
            path: ["tons"],
            message: "below 0 only of delivered, which takes a delivery back",
          }),
      ),
    )
    .describe("dated record; nothing is taken out of it"),
});

/** Keys of a plan for the work of the season. */
export const seasonKeys: OptionalKeys<PlanSeasonKeys> = {
  fills: z.exactOptional(Fills).describe("how the rig is filled"),
  season: z.exactOptional(Season).describe("days, planters, humidity"),
  order: z.exactOptional(Order).describe("stock, suppliers, booking"),
  carried: z
    .exactOptional(
      z.array(
        z.strictObject({
          field: Id,
          seasonYear: SeasonYear,
          crop: Words,
          state: Words,
          placedLbPerAc: z.strictObject({ P2O5: NotNegative, K2O: NotNegative }),
          yieldBuPerAc: z.exactOptional(NotNegative),
        }),
      ),
    )
    .describe("what fields got in an earlier season, by the ledger; shown, never credited by itself"),
};
