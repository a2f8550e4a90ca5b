import { requireNumber } from "../capacity/index.ts";
import { sum } from "../numeric/index.ts";
import type { RefillPlan } from "./refill-types.ts";

/** A tender with a compartment for each bin's product. */
export interface CompartmentTender {
  readonly id: string;
  readonly compartmentLb: readonly number[];
  readonly tripHours: number;
}

interface TimedStop {
  readonly number: number;
  readonly afterPass: number;
  readonly placeId: string;
  /** Acres and minutes of work since the stop before. */
  readonly acres: number;
  readonly workMinutes: number;
  /** Hours since the start of the field. */
  readonly arriveHour: number;
  readonly waitMinutes: number;
  /** lb that the tender lacked for this load when it drove off for more; null where it did not drive off for this load. */
  readonly shortLb: number | null;
  readonly leaveHour: number;
  /** Null with product always at hand. */
  readonly tenderId: string | null;
  /** lb of each product to hand over. */
  readonly loadLb: readonly number[];
}

export interface RefillTimes {
  readonly stops: readonly TimedStop[];
  readonly waitMinutes: number;
  /** Hours until the last pass is done. */
  readonly doneHour: number;
  /** Reload trips of each tender, in the order given. */
  readonly trips: readonly number[];
}

/**
 * When each stop of a plan comes, who serves it and how long the rig waits: the tender sheet. A tender that cannot serve the
 * next load from every compartment leaves at once and is back full after its trip. Throws `number-not-usable`, also when a
 * load is larger than every tender's compartments.
 */
export function refillTimes(input: {
  readonly plan: RefillPlan;
  readonly passAc: readonly number[];
  readonly workAcPerHour: number;
  readonly transferLbPerHour: number;
  readonly tenders?: readonly CompartmentTender[];
}): RefillTimes {
  const { plan, passAc, tenders = [] } = input;
  const workAcPerHour = requireNumber("workAcPerHour", input.workAcPerHour, { above: 0 });
  const transferLbPerHour = requireNumber("transferLbPerHour", input.transferLbPerHour, { above: 0 });
  const fleet = tenders.map(
    (tender): Standing => ({
      tender,
      stockLb: [...tender.compartmentLb],
      hereAt: 0,
      trips: 0,
      sentFor: null,
    }),
  );
  const acresOf = (leg: number): number => sum(passAc.slice(plan.legs[leg]!.from, plan.legs[leg]!.to));
  let now = 0;
  const stops = plan.stops.map((stop, s): TimedStop => {
    const acres = acresOf(s);
    now += acres / workAcPerHour;
    // The stop's minutes hold the way there and back; half of them lie before the transfer.
    const arriveHour = now + stop.minutes / 120;
    const shortOf = (want: readonly number[], lb: readonly number[]): number =>
      sum(want.map((one, b) => Math.max(0, one - (lb[b] ?? 0))));
    const enough = (lb: readonly number[]): boolean =>
      stop.loadLb.every((want, b) => want <= (lb[b] ?? 0) + 1e-9);
    for (const one of fleet) {
      if (one.hereAt <= arriveHour && !enough(one.stockLb))
        sendOff(one, arriveHour, { stop: s, shortLb: shortOf(stop.loadLb, one.stockLb) });
    }
    const able = fleet.filter((one) => enough(one.stockLb));
    if (fleet.length > 0 && able.length === 0) {
      requireNumber(`the compartments for the load after pass ${stop.afterPass}`, Number.NaN);
    }
    // Of those on site the one with least in it, else the one that is back first.
    const here = able
      .filter((one) => one.hereAt <= arriveHour)
      .sort((a, b) => sum(a.stockLb) - sum(b.stockLb))[0];
    const served = here ?? able.sort((a, b) => a.hereAt - b.hereAt)[0];
    const wait = served === undefined ? 0 : Math.max(0, served.hereAt - arriveHour);
    const filled = arriveHour + wait + sum(stop.loadLb) / transferLbPerHour;
    const shortLb = served?.sentFor?.stop === s ? served.sentFor.shortLb : null;
    if (served !== undefined) {
      stop.loadLb.forEach((lb, b) => {
        served.stockLb[b] = served.stockLb[b]! - lb;
      });
      const next = plan.stops[s + 1];
      if (next?.loadLb.some((lb, b) => lb > served.stockLb[b]! + 1e-9))
        sendOff(served, filled, { stop: s + 1, shortLb: shortOf(next.loadLb, served.stockLb) });
    }
    now = filled + stop.minutes / 120;
    return {
      number: s + 1,
      afterPass: stop.afterPass,
      placeId: stop.placeId,
      acres,
      workMinutes: (60 * acres) / workAcPerHour,
      arriveHour,
      waitMinutes: 60 * wait,
      shortLb,
      leaveHour: now,
      tenderId: served?.tender.id ?? null,
      loadLb: stop.loadLb,
    };
  });
  return {
    stops,
    waitMinutes: sum(stops.map((stop) => stop.waitMinutes)),
    doneHour: now + acresOf(plan.legs.length - 1) / workAcPerHour,
    trips: fleet.map((one) => one.trips),
  };
}

interface Standing {
  readonly tender: CompartmentTender;
  stockLb: number[];
  hereAt: number;
  trips: number;
  /** The stop whose load it lacked something for when it last drove off, from 0, and what it lacked. */
  sentFor: { readonly stop: number; readonly shortLb: number } | null;
}

function sendOff(one: Standing, at: number, sentFor: NonNullable<Standing["sentFor"]>): void {
  one.sentFor = sentFor;
  one.stockLb = [...one.tender.compartmentLb];
  one.hereAt = at + one.tender.tripHours;
  one.trips++;
}
