import { z } from "zod";
import {
  type CompartmentTender,
  greedyRefills,
  type NoRefillPlan,
  planRefills,
  type RefillInput,
  type RefillPlace,
  type RefillPlan,
  type RefillStand,
  type RefillTimes,
  refillTimes,
  replanRefills,
  sideStopMinutes,
  smallestFirstLoad,
} from "../../fills/index.ts";
import type { ReadShape } from "./read-calculation.ts";
import { BinLists, Numbers, PerBin } from "./shapes.ts";

const Place = z.union([
  z.strictObject({ id: z.string(), stopMinutes: z.array(z.number().nullable()) }),
  z.strictObject({
    id: z.string(),
    startSide: z.union([z.literal(0), z.literal(1)]),
    tenderSide: z.union([z.literal(0), z.literal(1)]),
    minutes: z.number(),
    crossMinutes: z.exactOptional(z.number()),
  }),
]);

const Tender: z.ZodType<CompartmentTender> = z.strictObject({
  id: z.string(),
  compartmentLb: Numbers,
  tripHours: z.number(),
});

/** What `fills --input` takes. */
const FillsShape = z.strictObject({
  passLb: BinLists,
  usableLoadLb: PerBin,
  firstLoadLb: z.exactOptional(PerBin),
  places: z.array(Place).min(1),
  mostMoves: z.exactOptional(z.number()),
  moveMinutes: z.exactOptional(z.number()),
  reserveShare: z.exactOptional(z.number()),
  meterErrorShare: z.exactOptional(z.number()),
  load: z.exactOptional(z.enum(["full", "to-need", "last-to-need"])),
  stand: z.exactOptional(
    z.strictObject({
      stoppedAfterPass: z.number(),
      binLb: PerBin,
      meterFactor: z.exactOptional(z.number()),
    }),
  ),
  times: z.exactOptional(
    z.strictObject({
      passAc: Numbers,
      workAcPerHour: z.number(),
      transferLbPerHour: z.number(),
      tenders: z.exactOptional(z.array(Tender)),
    }),
  ),
});

export interface FillsResult {
  readonly plan: RefillPlan | NoRefillPlan;
  /** Run until the bin is nearly empty: what planning is held against. Null after a stop on the way. */
  readonly habit: RefillPlan | NoRefillPlan | null;
  /** Smallest first load that costs no more; null without a plan or after a stop on the way. */
  readonly smallestFirstLoadLb: readonly number[] | null;
  readonly times: RefillTimes | null;
}

/** The refill calculation by itself. */
export function fillsOf(read: ReadShape): FillsResult {
  const given = read(FillsShape);
  const { stand, times, places, ...rest } = given;
  const passes = given.passLb.length;
  const input: RefillInput = {
    ...rest,
    places: places.map(
      (place): RefillPlace =>
        "stopMinutes" in place
          ? place
          : { id: place.id, stopMinutes: passes > 0 ? sideStopMinutes({ ...place, passes }) : [] },
    ),
  };
  const plan = stand === undefined ? planRefills(input) : replanRefills(input, stand as RefillStand);
  return {
    plan,
    habit: stand === undefined ? greedyRefills(input) : null,
    smallestFirstLoadLb: stand === undefined ? smallestFirstLoad(input) : null,
    times: plan.feasible && times !== undefined ? refillTimes({ plan, ...times }) : null,
  };
}
