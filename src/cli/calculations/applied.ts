import { z } from "zod";
import {
  type CatchUp,
  type CatchUpClass,
  catchUp,
  meterFactorOfFills,
  type OxideAmounts,
  reconcileTickets,
  type TicketResult,
} from "../../applied/index.ts";
import { type MeterCheck, meterCheck } from "../../capacity/index.ts";
import { type ReadShape, somePart } from "./read-calculation.ts";
import { Ticket } from "./shapes.ts";

const number = z.number();
const maybe = z.exactOptional(z.number());
const Oxides: z.ZodType<OxideAmounts> = z.strictObject({ p2o5: number, k2o: number });
const Class: z.ZodType<CatchUpClass> = z.strictObject({
  id: z.string(),
  fieldId: z.string(),
  areaAc: number,
  need: Oxides,
  logged: Oxides,
});

const TicketsShape = z.strictObject({
  startLb: number,
  endLb: number,
  tickets: z.array(Ticket),
  wasteLb: z.number().default(0),
  loggedLb: number,
  scaleErrorLb: maybe,
});

/** What `applied --input` takes: any of these parts. */
const AppliedShape = z.strictObject({
  tickets: z.exactOptional(TicketsShape),
  fills: z.exactOptional(z.array(z.strictObject({ loggedLb: number, trueLb: number }))),
  catchTest: z.exactOptional(
    z.strictObject({
      caughtLb: z.array(number),
      minutes: maybe,
      turns: maybe,
      turnFt: maybe,
      rateLbPerAc: number,
      widthFt: number,
      mph: maybe,
      toleranceShare: maybe,
    }),
  ),
  catchUp: z.exactOptional(
    z.strictObject({
      classes: z.array(Class),
      meterFactor: maybe,
      minimum: Oxides,
      productPercent: Oxides,
      minimumFieldLb: maybe,
    }),
  ),
});

export interface AppliedResult {
  readonly tickets?: TicketResult;
  readonly fills?: { readonly ratio: number; readonly leastSquares: number };
  readonly catchTest?: MeterCheck;
  readonly catchUp?: CatchUp;
}

/** Each part by itself; the catch-up takes the tickets' meter factor when none is typed, 1 without tickets. Throws `part-missing`. */
export function appliedOf(read: ReadShape): AppliedResult {
  const given = read(AppliedShape);
  const tickets = given.tickets && reconcileTickets(given.tickets);
  const meterFactor = given.catchUp?.meterFactor ?? (tickets?.mayRescale ? tickets.meterFactor : 1);
  const result: AppliedResult = {
    ...(tickets && { tickets }),
    ...(given.fills && { fills: meterFactorOfFills(given.fills) }),
    ...(given.catchTest && { catchTest: meterCheck(given.catchTest) }),
    ...(given.catchUp && { catchUp: catchUp({ ...given.catchUp, meterFactor }) }),
  };
  return somePart(result, "tickets, fills, catchTest or catchUp");
}
