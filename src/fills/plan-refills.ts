import { operationsDefault, requireNumber } from "../capacity/index.ts";
import type { Notice } from "../errors/index.ts";
import { sum } from "../numeric/index.ts";
import { fullAfter, heldAtStart } from "./full-after.ts";
import { leastStops, type RefillProgramme, type Stops } from "./refill-programme.ts";
import type {
  NoRefillPlan,
  RefillInput,
  RefillLeg,
  RefillLook,
  RefillPlan,
  RefillStop,
} from "./refill-types.ts";

/**
 * Where to stop and fill: least minutes over the places of the tender, then fewest stops, then the latest. Exact, O(passes x
 * places x moves). Where every bin has enough without a load, what is kept back counted in, there is no stop but a look at the scales. The reserve is the larger of 5 % of a load (unconfirmed) and the measured meter error. No plan comes
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
  const startLb = heldAtStart(input);
  const loadLb = usableLoadLb.map((lb, b) => lb - reserve[b]!);
  const isOver = startLb.some((lb, b) => lb > usableLoadLb[b]!);
  return {
    runningLb,
    firstLb: startLb.map((lb, b) => (input.fillsFirst ? 0 : Math.max(0, lb - reserve[b]!))),
    loadLb,
    afterStopLb: isOver
      ? (k) => fullAfter(input, runningLb, k).map((lb, b) => Math.max(0, lb - reserve[b]!))
      : () => loadLb,
    minutes,
    mostMoves,
    moveMinutes,
  };
}

export function refillPlan(input: RefillInput, programme: RefillProgramme, stops: Stops): RefillPlan {
  const { list, ...rest } = loadsOf(input, programme, stops);
  const moved = list.filter(({ place }, s) => s > 0 && place !== list[s - 1]!.place).length;
  return {
    feasible: true,
    minutes: sum(list.map(({ stop }) => stop.minutes)) + moved * programme.moveMinutes,
    stops: list.map(({ stop }) => stop),
    ...rest,
    legs: legsBetween(
      programme,
      list.map(({ stop }) => stop.afterPass),
    ),
    notices: unconfirmedReserve(input),
  };
}

function legsBetween({ runningLb }: RefillProgramme, afterPass: readonly number[]): RefillLeg[] {
  return [...afterPass, runningLb[0]!.length - 1].map((to, s) => {
    const from = s === 0 ? 0 : afterPass[s - 1]!;
    return { from, to, lb: runningLb.map((lb) => lb[to]! - lb[from]!) };
  });
}

interface Loads extends Pick<RefillPlan, "looks" | "startLb" | "endLb" | "reserveLb" | "carriedLbPasses"> {
  readonly list: readonly { readonly stop: RefillStop; readonly place: number }[];
}

function loadsOf(input: RefillInput, programme: RefillProgramme, stops: Stops): Loads {
  const { usableLoadLb, places, load = "full" } = input;
  const { runningLb } = programme;
  const startHeldLb = heldAtStart(input);
  const isOver = startHeldLb.some((lb, b) => lb > usableLoadLb[b]!);
  const legs = legsBetween(programme, stops.afterPass);
  const reserveLb = usableLoadLb.map((lb, b) => lb - programme.loadLb[b]!);
  const isToNeed = load !== "full";
  /** After which pass a load made at a stop (-1 before the first pass) may end: at the next stop, or with the work. */
  const lastsTo = (stop: number): number => (load === "to-need" ? legs[stop + 1]! : legs.at(-1)!).to;
  const neededLb = (stop: number): number[] =>
    runningLb.map((lb) => lb[lastsTo(stop)]! - lb[legs[stop + 1]!.from]!);
  const toNeed = (stop: number, fullLb: readonly number[]): number[] =>
    neededLb(stop).map((lb, b) => (lb === 0 ? 0 : Math.min(fullLb[b]!, lb + reserveLb[b]!)));
  let binLb = isToNeed && input.firstLoadLb === undefined ? toNeed(-1, usableLoadLb) : startHeldLb;
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
  const looks: RefillLook[] = [];
  const list = stops.afterPass.flatMap((afterPass, s): Loads["list"][number][] => {
    const expectedLb = binLb.map((lb, b) => lb - legs[s]!.lb[b]!);
    // The scale is read here: what a meter may be off counts anew, on the pounds that are to come.
    const enough = neededLb(s).map((lb, b) => lb + reserveLb[b]! * Math.min(1, lb / usableLoadLb[b]!));
    const fullLb = isOver ? fullAfter(input, runningLb, afterPass) : usableLoadLb;
    const wanted = isToNeed ? toNeed(s, fullLb) : fullLb;
    const isEnough = expectedLb.map((lb, b) => lb >= enough[b]!);
    binLb = wanted.map((lb, b) => (isToNeed && isEnough[b] ? expectedLb[b]! : Math.max(lb, expectedLb[b]!)));
    const loadLb = binLb.map((lb, b) => lb - expectedLb[b]!);
    carry(legs[s + 1]!);
    const enoughTo = lastsTo(s);
    if (loadLb.every((lb) => lb === 0)) {
      looks.push({ afterPass, expectedLb, enoughLb: enough, enoughTo });
      return [];
    }
    const place = stops.place[s]!;
    const enoughLb = enough.map((lb, b) => (loadLb[b] === 0 && isEnough[b] ? lb : null));
    const minutes = programme.minutes[place]![afterPass - 1]!;
    return [
      {
        place,
        stop: { afterPass, placeId: places[place]!.id, expectedLb, loadLb, enoughLb, enoughTo, minutes },
      },
    ];
  });
  const endLb = binLb.map((lb, b) => lb - legs.at(-1)!.lb[b]!);
  return { list, looks, startLb, endLb, reserveLb, carriedLbPasses: carried };
}

function unconfirmedReserve(input: RefillInput): Notice[] {
  if (input.reserveShare !== undefined || (input.meterErrorShare ?? 0) > 0) return [];
  const message = "5 % of each load is kept back, an unconfirmed figure; type your own or run a meter check";
  return [{ code: "reserve-unconfirmed", message, where: "fills" }];
}

function whyNot(programme: RefillProgramme): NoRefillPlan {
  const { runningLb, firstLb, loadLb, afterStopLb, minutes } = programme;
  const passes = runningLb[0]!.length - 1;
  for (let k = 0; k < passes; k++) {
    const bin = runningLb.findIndex(
      (lb, b) => lb[k + 1]! - lb[k]! > loadLb[b]! + 1e-9 && lb[k + 1]! > firstLb[b]!,
    );
    if (bin < 0) continue;
    const neededLb = runningLb[bin]![k + 1]! - runningLb[bin]![k]!;
    return no("pass-over-load", k + 1, bin, neededLb, loadLb[bin]!, "lower the rate or fill in the field");
  }
  // No single place serves the field: tell where the one that reaches farthest gives up.
  const ends = minutes.map((list) => farthest(programme, list));
  const { from, to } = ends.reduce((a, b) => (b.to > a.to ? b : a));
  const atHand = from === 0 ? firstLb : afterStopLb(from);
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
  { runningLb, firstLb, afterStopLb }: RefillProgramme,
  minutes: readonly number[],
): { readonly from: number; readonly to: number } {
  const passes = runningLb[0]!.length - 1;
  for (let from = 0; ; ) {
    const atHand = from === 0 ? firstLb : afterStopLb(from);
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
  const why = { neededLb, atHandLb, remedy };
  const message = cannotFinish(String(bin + 1), String(pass), why);
  return { feasible: false, reason, pass, bin, ...why, message };
}

/** Why there is no plan, bin and pass called as the reader knows them. */
export const cannotFinish = (
  bin: string,
  pass: string,
  { neededLb, atHandLb, remedy }: Pick<NoRefillPlan, "neededLb" | "atHandLb" | "remedy">,
): string =>
  `bin ${bin} cannot finish pass ${pass}: ${neededLb.toFixed(0)} lb are needed and ${atHandLb.toFixed(0)} lb are at hand; ${remedy}`;
