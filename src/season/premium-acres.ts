import { requireNumber } from "../capacity/index.ts";
import { dayNumber } from "./calendar.ts";
import { type WeatherInput, workableDayCounts } from "./workable-days.ts";

interface PremiumInput extends WeatherInput {
  readonly acres: number;
  readonly acPerDay: number;
  /** Last day with the premium blend. */
  readonly lastDay: string;
  /** $/ac lost by running plain too early, and $/ac of premium product left over. */
  readonly tooLittlePerAc: number;
  readonly tooMuchPerAc: number;
}

export interface PremiumAcres {
  /** Acres of the premium blend to order; the plain blend covers the rest. */
  readonly orderAc: number;
  readonly expectedAc: number;
  /** Share of years in which the acres done must not be above the order, and the share at `orderAc`. */
  readonly fractile: number;
  readonly chanceAtOrder: number;
  readonly days: number;
}

/**
 * How many acres of the premium blend to order when the acres done before the switch are random: the smallest Q with
 * P(done <= Q) >= too little / (too little + too much). Throws `number-not-usable`.
 */
export function premiumAcres(input: PremiumInput): PremiumAcres {
  const { acres, acPerDay, start, lastDay, tooLittlePerAc, tooMuchPerAc } = input;
  requireNumber("acres", acres, { above: 0 });
  requireNumber("acPerDay", acPerDay, { above: 0 });
  requireNumber("tooLittlePerAc", tooLittlePerAc, { above: 0 });
  requireNumber("tooMuchPerAc", tooMuchPerAc, { above: 0 });
  const days = requireNumber("the days up to lastDay", dayNumber(lastDay) - dayNumber(start) + 1, {
    atLeast: 1,
  });
  const counts = workableDayCounts(input, days)[days]!;
  const fractile = tooLittlePerAc / (tooLittlePerAc + tooMuchPerAc);
  const done = (k: number): number => Math.min(acres, acPerDay * k);
  let expectedAc = 0;
  const atMost = new Map<number, number>();
  counts.forEach((chance, k) => {
    expectedAc += chance * done(k);
    atMost.set(done(k), (atMost.get(done(k)) ?? 0) + chance);
  });
  let cumulative = 0;
  let orderAc = acres;
  for (const [ac, chance] of atMost) {
    cumulative += chance;
    if (cumulative < fractile) continue;
    orderAc = ac;
    break;
  }
  return { orderAc, expectedAc, fractile, chanceAtOrder: cumulative, days };
}
