import { sum } from "../numeric/index.ts";
import { requireNumber } from "./require-number.ts";
import { FT_MPH_HOURS_PER_AC, FT_MPH_MINUTES_PER_AC } from "./rig.ts";

/** lb per minute through the meter at a rate, width and speed. */
export const meterFlow = (rateLbPerAc: number, widthFt: number, mph: number): number =>
  (rateLbPerAc * widthFt * mph) / FT_MPH_MINUTES_PER_AC;

/** mph at which a meter of `maxLbPerMin` can just keep a rate; Infinity at a rate of 0. */
export const topSpeed = (rateLbPerAc: number, widthFt: number, maxLbPerMin: number): number =>
  rateLbPerAc === 0
    ? Number.POSITIVE_INFINITY
    : (FT_MPH_MINUTES_PER_AC * maxLbPerMin) / (rateLbPerAc * widthFt);

/** Ground with one rate of each meter. */
export interface MeteredZone {
  readonly areaAc: number;
  /** lb/ac of each meter, in the order of `maxLbPerMin`. */
  readonly ratesLbPerAc: readonly number[];
}

/** How fast each zone can be driven. */
export interface ZoneSpeeds {
  /** mph in each zone: the wanted speed or what the slowest meter allows. */
  readonly mphByZone: readonly number[];
  /** Area-weighted mean of hours per acre turned back into a speed, mph. */
  readonly meanMph: number;
  /** ac/h at turn efficiency `turnEfficiency` over all zones. */
  readonly acPerHour: number;
  /** Acres in which a meter holds the rig back. */
  readonly slowedAc: number;
}

/** Speed zone by zone under the meters' limits. Throws `number-not-usable` also without any area. */
export function speedsByZone(input: {
  readonly zones: readonly MeteredZone[];
  readonly widthFt: number;
  readonly wantedMph: number;
  readonly maxLbPerMin: readonly number[];
  readonly turnEfficiency: number;
}): ZoneSpeeds {
  const { zones, widthFt, wantedMph, maxLbPerMin, turnEfficiency } = input;
  requireNumber("widthFt", widthFt, { above: 0 });
  requireNumber("wantedMph", wantedMph, { above: 0 });
  requireNumber("turnEfficiency", turnEfficiency, { above: 0, atMost: 1 });
  for (const [m, limit] of maxLbPerMin.entries()) requireNumber(`maxLbPerMin[${m}]`, limit, { above: 0 });
  const mphByZone = zones.map(({ ratesLbPerAc }) =>
    Math.min(wantedMph, ...maxLbPerMin.map((limit, m) => topSpeed(ratesLbPerAc[m] ?? 0, widthFt, limit))),
  );
  const areaAc = requireNumber("the area of the zones", sum(zones.map((zone) => zone.areaAc)), { above: 0 });
  const perMph = sum(zones.map((zone, i) => zone.areaAc / mphByZone[i]!));
  const meanMph = areaAc / perMph;
  return {
    mphByZone,
    meanMph,
    acPerHour: (widthFt * meanMph * turnEfficiency) / FT_MPH_HOURS_PER_AC,
    slowedAc: sum(zones.filter((_, i) => mphByZone[i]! < wantedMph).map((zone) => zone.areaAc)),
  };
}
