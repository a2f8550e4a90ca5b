import { z } from "zod";
import { type FieldStand, fieldStands, type LedgerEntry, type LedgerEvent } from "../../ledger/index.ts";
import type { ReadShape } from "./read-calculation.ts";

const Day = z.iso.date();
const fieldId = z.string().min(1);
const pass = z.enum(["strip", "broadcast", "catch-up"]);
const NotNegative = z.number().min(0);

/** One event as the ledger takes it. */
export const EventShape: z.ZodType<LedgerEvent> = z.discriminatedUnion("kind", [
  z.strictObject({ kind: z.literal("loaded"), fieldId, map: z.string(), revision: z.string() }),
  z.strictObject({
    kind: z.literal("placed"),
    fieldId,
    pass,
    product: z.string().min(1),
    lb: NotNegative,
    areaAc: NotNegative,
    map: z.string(),
    revision: z.string(),
    p2o5Lb: NotNegative,
    k2oLb: NotNegative,
    from: z.enum(["log", "tickets", "typed"]),
  }),
  z.strictObject({ kind: z.literal("finished"), fieldId, pass }),
  z.strictObject({ kind: z.literal("yield"), fieldId, crop: z.string().min(1), buPerAc: NotNegative }),
  z.strictObject({
    kind: z.literal("micronutrient-lost"),
    fieldId,
    nutrient: z.string().min(1),
    areaAc: NotNegative,
  }),
  z.strictObject({ kind: z.literal("void"), voids: z.int().min(1), why: z.string().min(1) }),
]);

/** What `ledger --input` takes: fields of a plan and what happened, in order. */
const LedgerShape = z.strictObject({
  fields: z.array(
    z.strictObject({
      fieldId: z.string(),
      areaAc: NotNegative,
      plannedStripLb: NotNegative.nullable().default(null),
    }),
  ),
  events: z.array(z.strictObject({ date: Day, event: EventShape })),
});

/** Where the fields stand after the events, numbered in their order. */
export function ledgerOf(read: ReadShape): readonly FieldStand[] {
  const { fields, events } = read(LedgerShape);
  const entries = events.map(({ date, event }, i): LedgerEntry => ({ number: i + 1, date, ...event }));
  return fieldStands(entries, fields);
}
