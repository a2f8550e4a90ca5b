import { z } from "zod";
import {
  type FieldStand,
  fieldStands,
  type LedgerEntry,
  type LedgerEvent,
  type PlacedEntry,
} from "../../ledger/index.ts";
import type { ReadShape } from "./read-calculation.ts";

const Day = z.iso.date();
const fieldId = z.string().min(1);
const pass = z.enum(["strip", "broadcast", "catch-up"]);
const NotNegative = z.number().min(0);

const others = [
  z.strictObject({ kind: z.literal("loaded"), fieldId, map: z.string().min(1), revision: z.string() }),
  z.strictObject({ kind: z.literal("finished"), fieldId, pass }),
  z.strictObject({ kind: z.literal("yield"), fieldId, crop: z.string().min(1), buPerAc: NotNegative }),
  z.strictObject({
    kind: z.literal("micronutrient-lost"),
    fieldId,
    nutrient: z.string().min(1),
    areaAc: NotNegative,
  }),
  z.strictObject({ kind: z.literal("void"), voids: z.int().min(1), why: z.string().min(1) }),
] as const;
const placed = {
  kind: z.literal("placed"),
  fieldId,
  pass,
  product: z.string().min(1),
  lb: NotNegative,
  areaAc: NotNegative,
};

/** Pounds lie on acres: without them a field would count as one where nothing was done. */
const hasGround = ({ lb, areaAc }: { readonly lb: number; readonly areaAc: number }): boolean =>
  lb === 0 || areaAc > 0;
const NO_GROUND = { path: ["areaAc"], message: "pounds on 0 ac: type the acres they lie on" };

const Place = z.readonly(z.tuple([z.number(), z.number()]));
const SpanShape = z.strictObject({
  readings: z.int().min(1),
  first: Place,
  last: Place,
  box: z.exactOptional(z.readonly(z.tuple([z.number(), z.number(), z.number(), z.number()]))),
  began: z.exactOptional(z.string()),
  ended: z.exactOptional(z.string()),
});

const EventShape: z.ZodType<LedgerEvent> = z.discriminatedUnion("kind", [
  z
    .strictObject({
      ...placed,
      map: z.string(),
      revision: z.string(),
      p2o5Lb: NotNegative,
      k2oLb: NotNegative,
      from: z.enum(["log", "tickets", "typed"]),
      log: z.exactOptional(z.string()),
      span: z.exactOptional(SpanShape),
    })
    .refine(hasGround, NO_GROUND),
  ...others,
]);

/** An event as somebody types it: pounds of oxide may be left to the product's analysis. */
export type TypedEvent =
  | Exclude<LedgerEvent, PlacedEntry>
  | (Omit<PlacedEntry, "p2o5Lb" | "k2oLb"> & { readonly p2o5Lb?: number; readonly k2oLb?: number });

/** What `ledger --add` takes. */
export const TypedEvents: z.ZodType<TypedEvent[]> = z
  .array(
    z.discriminatedUnion("kind", [
      z
        .strictObject({
          ...placed,
          map: z.string().default(""),
          revision: z.string().default(""),
          p2o5Lb: z.exactOptional(NotNegative),
          k2oLb: z.exactOptional(NotNegative),
          from: z.enum(["log", "tickets", "typed"]).default("typed"),
        })
        .refine(hasGround, NO_GROUND),
      ...others,
    ]),
  )
  .min(1);

/** What `ledger --input` takes: fields of a plan and what happened, in order. */
const LedgerShape = z.strictObject({
  fields: z.array(
    z.strictObject({
      fieldId: z.string(),
      areaAc: NotNegative,
      plannedStripLb: NotNegative.nullable().default(null),
      stripProducts: z.exactOptional(z.array(z.string())),
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
