import { operationsDefault, requireNumber } from "../capacity/index.ts";
import type { Notice } from "../errors/index.ts";
import { sum } from "../numeric/index.ts";
import { leastStops, type RefillProgramme, type Stops } from "./refill-programme.ts";
import type { NoRefillPlan, RefillInput, RefillLeg, RefillPlan, RefillStop } from "./refill-types.ts";

/**
 * Where to stop and fill: least minutes over the places of the tender, then fewest stops, then the latest. Exact, O(passes x
 * places x moves). The reserve is the larger of 5 % of a load (unconfirmed) and the measured meter error. No plan comes
 * back with the pass and the bin that cannot be finished. Throws `number-not-usable`.
 */
export function planRefills(input: RefillInput): RefillPlan | NoRefillPlan {
  const programme = refillProgramme(input);
  const stops = leastStops(programme);
  return stops === null ? whyNot(programme) : refillPlan(input, programme, stops);
}

/** lb of each bin kept back. */
export function refillReserve(
  usableLoadLb: readonly number[],
  reserveShare: number = operationsDefault("reserveShare").value,
  meterErrorShare = 0,
): number[] {
  requireNumber("reserveShare", reserveShare, { atLeast: 0, atMost: 0.9 });
  requireNumber("meterErrorShare", meterErrorShare, { atLeast: 0, atMost: 0.9 });
  return usableLoadLb.map((lb) => lb * Math.max(reserveShare, meterErrorShare));
}

export function refillProgramme(input: RefillInput): RefillProgramme {
  const { passLb, usableLoadLb, places, mostMoves = 0, moveMinutes = 0 } = input;
  const reserve = refillReserve(usableLoadLb, input.reserveShare, input.meterErrorShare);
  requireNumber("the number of passes", passLb.length, { atLeast: 1 });
  requireNumber("the number of places", places.length, { atLeast: 1 });
  requireNumber("moveMinutes", moveMinutes);
  const runningLb = usableLoadLb.map((lb, b) => {
    requireNumber(`usableLoadLb[${b}]`, lb, { above: 0 });
    const running = new Float64Array(passLb.length + 1);
    passLb.forEach((pass, k) => {
      running[k + 1] = running[k]! + requireNumber(`passLb[${k}][${b}]`, pass[b] ?? Number.NaN);
    });
    return running;
  });
  const minutes = places.map(({ id, stopMinutes }) =>
    Array.from({ length: passLb.length - 1 }, (_, k) => {
      const minutesHere = stopMinutes[k] ?? null;
      return minutesHere === null
        ? Number.POSITIVE_INFINITY
        : requireNumber(`minutes after pass ${k + 1} at ${id}`, minutesHere);
    }),
  );
  return {
    runningLb,
    firstLb: usableLoadLb.map((lb, b) =>
      Math.max(0, Math.min(lb, input.firstLoadLb?.[b] ?? lb) - reserve[b]!),
    ),
    loadLb: usableLoadLb.map((lb, b) => lb - reserve[b]!),
    minutes,
    mostMoves,
    moveMinutes,
  };
}

export function refillPlan(input: RefillInput, programme: RefillProgramme, stops: Stops): RefillPlan {
  const { usableLoadLb, places, passLb, load = "full" } = input;
  const { runningLb } = programme;
  const ends = [...stops.afterPass, passLb.length];
  const legs = ends.map((to, s): RefillLeg => {
    const from = s === 0 ? 0 : stops.afterPass[s - 1]!;
    return { from, to, lb: runningLb.map((lb) => lb[to]! - lb[from]!) };
  });
  const reserveLb = usableLoadLb.map((lb, b) => lb - programme.loadLb[b]!);
  let binLb = usableLoadLb.map((lb, b) => Math.min(lb, input.firstLoadLb?.[b] ?? lb));
  const isToNeed = (stop: number): boolean =>
    load === "to-need" || (load === "last-to-need" && stop === stops.afterPass.length - 1);
  if (isToNeed(-1) && input.firstLoadLb === undefined) binLb = legs[0]!.lb.map((lb, b) => lb + reserveLb[b]!);
  const startLb = binLb;
  let carried = 0;
  const carry = (leg: RefillLeg): void => {
    for (let k = leg.from; k < leg.to; k++) {
      for (const [b, lb] of binLb.entries()) {
        const [before, after] = [
          runningLb[b]![k]! - runningLb[b]![leg.from]!,
          runningLb[b]![k + 1]! - runningLb[b]![leg.from]!,
        ];
        carried += lb - (before + after) / 2;
      }
    }
  };
  carry(legs[0]!);
  const list = stops.afterPass.map((afterPass, s): RefillStop => {
    const expectedLb = binLb.map((lb, b) => lb - legs[s]!.lb[b]!);
    const next = legs[s + 1]!;
    // The scale is read here: what a meter may be off counts anew, on the pounds that this leg takes.
    const enough = next.lb.map((lb, b) => lb * (1 + reserveLb[b]! / usableLoadLb[b]!));
    binLb = usableLoadLb.map((lb, b) => {
      if (!isToNeed(s)) return lb;
      return expectedLb[b]! >= enough[b]! ? expectedLb[b]! : next.lb[b]! + reserveLb[b]!;
    });
    const loadLb = binLb.map((lb, b) => lb - expectedLb[b]!);
    carry(next);
    const place = stops.place[s]!;
    return {
      afterPass,
      placeId: places[place]!.id,
      expectedLb,
      loadLb,
      enoughLb: enough.map((lb, b) => (loadLb[b] === 0 ? lb : null)),
      minutes: programme.minutes[place]![afterPass - 1]!,
    };
  });
  const moved = stops.place.filter((place, s) => s > 0 && place !== stops.place[s - 1]).length;
  return {
    feasible: true,
    minutes: sum(list.map((stop) => stop.minutes)) + moved * programme.moveMinutes,
    stops: list,
    legs,
    startLb,
    endLb: binLb.map((lb, b) => lb - legs.at(-1)!.lb[b]!),
    reserveLb,
    carriedLbPasses: carried,
    notices: unconfirmedReserve(input),
  };
}

function unconfirmedReserve(input: RefillInput): Notice[] {
  if (input.reserveShare !== undefined || (input.meterErrorShare ?? 0) > 0) return [];
  const message = "5 % of each load is kept back, an unconfirmed figure; type your own or run a meter check";
  return [{ code: "reserve-unconfirmed", message, where: "fills" }];
}

function whyNot(programme: RefillProgramme): NoRefillPlan {
  const { runningLb, firstLb, loadLb, minutes } = programme;
  const passes = runningLb[0]!.length - 1;
  for (let k = 0; k < passes; k++) {
    const bin = runningLb.findIndex((lb, b) => lb[k + 1]! - lb[k]! > loadLb[b]! + 1e-9);
    if (bin < 0) continue;
    const neededLb = runningLb[bin]![k + 1]! - runningLb[bin]![k]!;
    return no("pass-over-load", k + 1, bin, neededLb, loadLb[bin]!, "lower the rate or fill in the field");
  }
  // No single place serves the field: tell where the one that reaches farthest gives up.
  const ends = minutes.map((list) => farthest(programme, list));
  const { from, to } = ends.reduce((a, b) => (b.to > a.to ? b : a));
  const atHand = from === 0 ? firstLb : loadLb;
  const bin = runningLb.findIndex((lb, b) => lb[to + 1]! - lb[from]! > atHand[b]! + 1e-9);
  const neededLb = runningLb[bin]![to + 1]! - runningLb[bin]![from]!;
  return no(
    "no-stop-in-reach",
    to + 1,
    bin,
    neededLb,
    atHand[bin]!,
    "allow a stop nearer, or move the tender",
  );
}

/** The last stop that can be made at one place, and the pass the bin lasts to from there. */
function farthest(
  { runningLb, firstLb, loadLb }: RefillProgramme,
  minutes: readonly number[],
): { readonly from: number; readonly to: number } {
  const passes = runningLb[0]!.length - 1;
  for (let from = 0; ; ) {
    const atHand = from === 0 ? firstLb : loadLb;
    let to = from;
    while (to < passes && runningLb.every((lb, b) => lb[to + 1]! - lb[from]! <= atHand[b]! + 1e-9)) to++;
    let stop = to;
    while (stop > from && !Number.isFinite(minutes[stop - 1] ?? Number.POSITIVE_INFINITY)) stop--;
    if (stop === from) return { from, to };
    from = stop;
  }
}

function no(
  reason: NoRefillPlan["reason"],
  pass: number,
  bin: number,
  neededLb: number,
  atHandLb: number,
  remedy: string,
): NoRefillPlan {
  const message = `bin ${bin + 1} cannot finish pass ${pass}: ${neededLb.toFixed(0)} lb are needed and ${atHandLb.toFixed(0)} lb are at hand; ${remedy}`;
  return { feasible: false, reason, pass, bin, neededLb, atHandLb, message };
}
