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
export interface MeteredClass {
  readonly areaAc: number;
  /** lb/ac of each meter, in the order of `maxLbPerMin`. */
  readonly ratesLbPerAc: readonly number[];
}

/** How fast each class can be driven. */
export interface ClassSpeeds {
  /** mph in each class: the wanted speed or what the slowest meter allows. */
  readonly mphByClass: readonly number[];
  /** Area-weighted mean of hours per acre turned back into a speed, mph. */
  readonly meanMph: number;
  /** ac/h at turn efficiency `turnEfficiency` over all classes. */
  readonly acPerHour: number;
  /** Acres in which a meter holds the rig back. */
  readonly slowedAc: number;
}

/** Speed class by class under the meters' limits. Throws `number-not-usable` also without any area. */
export function speedsByClass(input: {
  readonly classes: readonly MeteredClass[];
  readonly widthFt: number;
  readonly wantedMph: number;
  readonly maxLbPerMin: readonly number[];
  readonly turnEfficiency: number;
}): ClassSpeeds {
  const { classes, widthFt, wantedMph, maxLbPerMin, turnEfficiency } = input;
  requireNumber("widthFt", widthFt, { above: 0 });
  requireNumber("wantedMph", wantedMph, { above: 0 });
  requireNumber("turnEfficiency", turnEfficiency, { above: 0, atMost: 1 });
  for (const [m, limit] of maxLbPerMin.entries()) requireNumber(`maxLbPerMin[${m}]`, limit, { above: 0 });
  const mphByClass = classes.map(({ ratesLbPerAc }) =>
    Math.min(wantedMph, ...maxLbPerMin.map((limit, m) => topSpeed(ratesLbPerAc[m] ?? 0, widthFt, limit))),
  );
  const areaAc = requireNumber("the area of the classes", sum(classes.map((one) => one.areaAc)), {
    above: 0,
  });
  const perMph = sum(classes.map((one, i) => one.areaAc / mphByClass[i]!));
  const meanMph = areaAc / perMph;
  return {
    mphByClass,
    meanMph,
    acPerHour: (widthFt * meanMph * turnEfficiency) / FT_MPH_HOURS_PER_AC,
    slowedAc: sum(classes.filter((_, i) => mphByClass[i]! < wantedMph).map((one) => one.areaAc)),
  };
}
