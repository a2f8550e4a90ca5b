import { acresPerFill } from "../../capacity/index.ts";
import type { Notice } from "../../errors/index.ts";
import {
  cannotFinish,
  chooseRefillPlan,
  greedyRefills,
  type NoRefillPlan,
  planRefills,
  type RefillInput,
  type RefillPlan,
  type RefillStand,
  smallestFirstLoad,
} from "../../fills/index.ts";
import { sum } from "../../numeric/index.ts";
import type { Plan } from "../document/document-types.ts";
import { inBinOf } from "../document/field-products.ts";
import { smallRateNotices } from "../maps/small-rate.ts";
import { orderShares } from "../rig/order-shares.ts";
import { rigFigures } from "../rig/rig-figures.ts";
import { passNumber } from "./done-after.ts";
import { fieldWorkRate } from "./field-work-rate.ts";
import { fillAssumed } from "./fill-assumed.ts";
import { type FillCase, fillCases, type PlacedTender } from "./fill-cases.ts";
import { fieldLoads } from "./fill-loads.ts";
import type { FieldFills, FillLook, FillStop } from "./fill-plan-types.ts";
import { fillTimes } from "./fill-times.ts";
import { fillHere, plannedFrom } from "./fills-from-stand.ts";
import { stopsOnWorked } from "./stops-on-worked.ts";
import { type DrivenField, type WorkedPass, workedPasses } from "./worked-passes.ts";

/** What `fillPlan` takes besides plan and field. */
export interface FillOptions {
  /** Places of the tender in the field's plane; the headlands when there are none. */
  readonly places?: readonly PlacedTender[];
  /** Where the rig stands now; the plan begins there. */
  readonly stand?: RefillStand;
}

/**
 * Where to stop and fill in a field, from its files, by the plan's rig: its passes in working order as laid and
 * every pass driven the other way, each place of the tender, the least minutes taken. Throws `rig-not-told`,
 * `no-usable-load`, `number-not-usable`.
 */
export function fillPlan(plan: Plan, field: DrivenField, options: FillOptions = {}): FieldFills {
  const rig = rigFigures(plan, field.laid);
  const passes = workedPasses(plan, field);
  const passLb = passes.map((pass) => pass.lb.map((lb) => lb * rig.throughBins));
  const fieldLb = rig.bins.map((_, b) => sum(passLb.map((lb) => lb[b]!)));
  const loads = fieldLoads(rig, fieldLb);
  const workRate = fieldWorkRate(plan, rig, passes);
  const input: Omit<RefillInput, "places"> = {
    passLb,
    usableLoadLb: loads.usableLb,
    holdsLb: loads.holdsLb,
    togetherLb: loads.togetherLb,
    reserveShare: rig.reserveShare,
    meterErrorShare: plan.fills?.meterErrorShare ?? 0,
    load: plan.fills?.load ?? "last-to-need",
    mostMoves: plan.fills?.mostMoves ?? 0,
    moveMinutes: plan.fills?.moveMinutes ?? 0,
  };
  const cases = fillCases(plan, rig, passes, options.places ?? []);
  const ordered = chooseRefillPlan(cases.map(({ id, places }) => ({ id, input: { ...input, places } })));
  const { stand } = options;
  const first = cases.find(({ id }) => id === ordered[0]!.id)!;
  const rest = stand === undefined ? null : plannedFrom(cases, first.beginAt, input, stand);
  const begun = rest?.[0];
  const best = begun?.best ?? first;
  const whole: RefillInput = { ...input, places: best.places };
  const made = named(begun?.plan ?? ordered[0]!.plan, rig.bins, passes);
  const done = stand?.stoppedAfterPass ?? 0;
  const factor = stand?.meterFactor ?? 1;
  const leftLb = rig.bins.map((_, b) => factor * sum(passLb.slice(done).map((lb) => lb[b]!)));
  const leftAc = sum(passes.slice(done).map((pass) => pass.areaAc));
  const fill = acresPerFill(
    loads.usableLb.map((loadLb, b) => ({ loadLb, rateLbPerAc: leftLb[b]! / leftAc })),
  );
  const { times, notices } = fillTimes(plan, rig, made, passes, workRate.acPerHour);
  const habit = greedyRefills(whole);
  const isWhole = stand === undefined;
  const stops = made.feasible ? stopsOf(made, best, loads.residualLb, times, workRate.acPerHour) : [];
  return {
    fieldId: field.field.id,
    bins: rig.bins.map(({ id, product }) => ({
      id,
      product: field.laid === undefined ? product : inBinOf(field.laid, id),
    })),
    passes: withWeights(passes, passLb, made, stand),
    fieldLb,
    leftLb,
    meterFactor: factor,
    overlapShare: orderShares(plan).overlapShare,
    usableLb: loads.usableLb,
    holdsLb: loads.holdsLb,
    residualLb: loads.residualLb,
    loadsBy: loads.by,
    acPerFill: fill.acPerFill,
    firstEmptyBin: fill.limitingBin,
    workRate,
    hasTender: rig.tenders !== null,
    beginAt: best.beginAt,
    choice: begun?.id ?? best.id,
    choices: (rest ?? ordered).map(({ id, plan: one }) => ({
      id,
      minutes: one.feasible ? one.minutes : null,
      stops: one.feasible ? one.stops.length : null,
    })),
    plan: made,
    fillHere: stand === undefined ? null : fillHere(best, input, stand, made),
    habitMoreMinutes: isWhole && made.feasible && habit.feasible ? habit.minutes - made.minutes : null,
    firstLoad:
      isWhole && made.feasible && stops.length > 0 ? firstLoadOf(whole, best, loads.residualLb) : null,
    endScaleLb: made.feasible ? made.endLb.map((lb, b) => lb + loads.residualLb[b]!) : null,
    stops,
    looks: made.feasible ? looksOf(made, best, loads.residualLb) : [],
    times,
    notices: [
      ...doubts(field, made),
      ...smallRateNotices(plan, field, ["strip"]),
      ...(made.feasible ? made.notices : []),
      ...notices,
      ...stopsOnWorked(field, best.passes, stops, options.places ?? []),
    ],
    assumed: fillAssumed(plan, rig, workRate),
  };
}

function stopsOf(
  plan: RefillPlan,
  best: FillCase,
  residualLb: readonly number[],
  times: FieldFills["times"],
  acPerHour: number,
): FillStop[] {
  const { passes } = best;
  return plan.stops.map((stop, s): FillStop => {
    const leg = plan.legs[s]!;
    // Before the first pass the rig stands where it begins.
    const done = Math.max(1, stop.afterPass);
    const driven = passes[done - 1]!;
    const end = stop.afterPass === 0 ? best.beginAt : driven.endAt;
    const timed = times?.stops[s];
    const acres = sum(passes.slice(leg.from, leg.to).map((pass) => pass.areaAc));
    const scaleBeforeLb = stop.expectedLb.map((lb, b) => lb + residualLb[b]!);
    return {
      number: s + 1,
      passesDone: stop.afterPass,
      pass: driven.pass,
      passName: passNumber(driven),
      at: best.placeWords(stop.placeId, end),
      end,
      expectedLb: stop.expectedLb,
      loadLb: stop.loadLb,
      scaleBeforeLb,
      scaleAfterLb: scaleBeforeLb.map((lb, b) => lb + stop.loadLb[b]!),
      enoughScaleLb: stop.enoughLb.map((lb, b) => (lb === null ? null : lb + residualLb[b]!)),
      enoughTo: stop.enoughTo,
      acres,
      workMinutes: (60 * acres) / acPerHour,
      waitMinutes: timed?.waitMinutes ?? null,
      arriveHour: timed?.arriveHour ?? null,
      shortLb: timed?.shortLb ?? null,
      stopMinutes: stop.minutes,
      place: stop.afterPass === 0 ? driven.start : driven.end,
    };
  });
}

const looksOf = ({ looks }: RefillPlan, { passes }: FillCase, residualLb: readonly number[]): FillLook[] =>
  looks.map(({ afterPass, expectedLb, enoughLb, enoughTo }) => ({
    passesDone: afterPass,
    // Before the first pass the rig stands where it begins.
    pass: passes[Math.max(1, afterPass) - 1]!.pass,
    passName: passNumber(passes[Math.max(1, afterPass) - 1]!),
    scaleLb: expectedLb.map((lb, b) => lb + residualLb[b]!),
    enoughScaleLb: enoughLb.map((lb, b) => lb + residualLb[b]!),
    enoughTo,
  }));

/** A plan that is none, with bin and pass called as on sheets and display. */
function named(
  plan: RefillPlan | NoRefillPlan,
  bins: readonly { readonly id: string }[],
  passes: readonly WorkedPass[],
): RefillPlan | NoRefillPlan {
  if (plan.feasible) return plan;
  const words = `${passNumber(passes[plan.pass - 1]!)} (number ${plan.pass} in working order)`;
  return { ...plan, message: cannotFinish(bins[plan.bin]!.id, words, plan) };
}

/** Each pass with what is left in the bins when it is done. */
function withWeights(
  passes: readonly WorkedPass[],
  passLb: readonly (readonly number[])[],
  plan: RefillPlan | NoRefillPlan,
  stand: RefillStand | undefined,
): FieldFills["passes"] {
  const from = stand?.stoppedAfterPass ?? 0;
  const leftLb = plan.feasible ? [...plan.startLb] : [];
  return passes.map((worked, k) => {
    const { pass, areaAc } = worked;
    const passName = passNumber(worked);
    const lb = passLb[k]!;
    if (!plan.feasible || k < from) return { pass, passName, areaAc, lb, leftLb: null };
    for (const stop of plan.stops.filter(({ afterPass }) => afterPass === k)) {
      for (const [b, more] of stop.loadLb.entries()) leftLb[b] = leftLb[b]! + more;
    }
    for (const [b, out] of lb.entries()) leftLb[b] = leftLb[b]! - out * (stand?.meterFactor ?? 1);
    return { pass, passName, areaAc, lb, leftLb: [...leftLb] };
  });
}

/** The smallest first load for as many stops and minutes, as the scales show it, and where the rig then stops. */
function firstLoadOf(
  whole: RefillInput,
  { passes }: FillCase,
  residualLb: readonly number[],
): FieldFills["firstLoad"] {
  const lb = smallestFirstLoad(whole);
  if (lb === null) return null;
  const plan = planRefills({ ...whole, firstLoadLb: lb });
  if (!plan.feasible) return null;
  return {
    scaleLb: lb.map((one, b) => one + residualLb[b]!),
    afterPass: plan.stops.map(({ afterPass }) => passNumber(passes[afterPass - 1]!)),
  };
}

const doubts = ({ field }: DrivenField, plan: RefillPlan | NoRefillPlan): Notice[] =>
  plan.feasible ? [] : [{ code: plan.reason, message: `${field.name}: ${plan.message}`, where: field.id }];
