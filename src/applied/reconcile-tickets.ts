import { requireNumber } from "../capacity/index.ts";
import type { Notice } from "../errors/index.ts";
import { sum } from "../numeric/index.ts";
import { numberText } from "../units/index.ts";

export interface TicketInput {
  /** lb on hand (cart, bins) before the first ticket and after the last. */
  readonly startLb: number;
  readonly endLb: number;
  readonly tickets: readonly { readonly grossLb: number; readonly tareLb: number }[];
  /** lb spilled or swept out. */
  readonly wasteLb: number;
  /** lb that the log says went out. */
  readonly loggedLb: number;
  /** Error of one weighing, lb, for the uncertainty. */
  readonly scaleErrorLb?: number;
}

export interface TicketResult {
  readonly deliveredLb: number;
  readonly usedLb: number;
  /** Used / logged: multiply the as-applied map by it. */
  readonly meterFactor: number;
  /** Logged / used - 1. */
  readonly logErrorShare: number;
  /** About scale error x sqrt(2 x tickets) / logged; null without a scale error. */
  readonly meterFactorError: number | null;
  /** False above 20 % (common practice): something else than the meter is wrong. */
  readonly mayRescale: boolean;
  readonly notices: readonly Notice[];
}

const WARN_SHARE = 0.05;
const REFUSE_SHARE = 0.2;

/**
 * What the scale says against what the log says. Limits of 5 and 20 % are ours (common practice). The same pair of weighings
 * twice is told. Throws `number-not-usable`.
 */
export function reconcileTickets(input: TicketInput): TicketResult {
  const { startLb, endLb, tickets, wasteLb, scaleErrorLb } = input;
  const loggedLb = requireNumber("loggedLb", input.loggedLb, { above: 0 });
  const deliveredLb = sum(
    tickets.map(({ grossLb, tareLb }, t) =>
      requireNumber(
        `gross - tare of ticket ${t + 1}`,
        requireNumber(`gross of ticket ${t + 1}`, grossLb) - tareLb,
      ),
    ),
  );
  const usedLb = requireNumber(
    "start + delivered - end - waste",
    requireNumber("startLb", startLb) +
      deliveredLb -
      requireNumber("endLb", endLb) -
      requireNumber("wasteLb", wasteLb),
    { above: 0 },
  );
  const meterFactor = usedLb / loggedLb;
  const off = Math.abs(meterFactor - 1);
  const mayRescale = off <= REFUSE_SHARE;
  const percent = `${((meterFactor - 1) * 100).toFixed(1)} %`;
  const message = mayRescale
    ? `the scale shows ${percent} against the log; the map is multiplied by ${meterFactor.toFixed(4)}; check the meter`
    : `the scale shows ${percent} against the log, more than any meter is off: look for a missing ticket, stock or log`;
  return {
    deliveredLb,
    usedLb,
    meterFactor,
    logErrorShare: loggedLb / usedLb - 1,
    meterFactorError:
      scaleErrorLb === undefined ? null : (scaleErrorLb * Math.sqrt(2 * tickets.length)) / loggedLb,
    mayRescale,
    notices: [
      ...(off > WARN_SHARE
        ? [{ code: mayRescale ? "meter-off" : "tickets-do-not-match", message, where: "tickets" }]
        : []),
      ...ticketsTwice(tickets),
    ],
  };
}

/** Tickets with the gross and the tare of another: two loads hardly weigh the same to the pound, empty and full. */
function ticketsTwice(tickets: TicketInput["tickets"]): Notice[] {
  const byPair = new Map<string, number[]>();
  for (const [t, { grossLb, tareLb }] of tickets.entries()) {
    const pair = `${numberText(grossLb, 0)} and ${numberText(tareLb, 0)} lb`;
    byPair.set(pair, [...(byPair.get(pair) ?? []), t + 1]);
  }
  return [...byPair].flatMap(([pair, numbers]): Notice[] => {
    if (numbers.length === 1) return [];
    const message = `tickets ${numbers.slice(0, -1).join(", ")} and ${numbers.at(-1)} hold the same weighings, ${pair}: was one entered twice? Each is counted`;
    return [{ code: "ticket-twice", message, where: "tickets" }];
  });
}

interface FillPair {
  readonly loggedLb: number;
  /** By the scale. */
  readonly trueLb: number;
}

/** Meter factor from single fills: the ratio of sums (the default) and least squares through 0. Throws `number-not-usable`. */
export function meterFactorOfFills(fills: readonly FillPair[]): {
  readonly ratio: number;
  readonly leastSquares: number;
} {
  const logged = requireNumber("the logged lb of all fills", sum(fills.map((fill) => fill.loggedLb)), {
    above: 0,
  });
  return {
    ratio: sum(fills.map((fill) => fill.trueLb)) / logged,
    leastSquares:
      sum(fills.map((fill) => fill.trueLb * fill.loggedLb)) / sum(fills.map((fill) => fill.loggedLb ** 2)),
  };
}
