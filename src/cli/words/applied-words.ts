import type { CatchUp, TicketResult } from "../../applied/index.ts";
import { lbText, textTable } from "../../report/index.ts";
import { numberText } from "../../units/index.ts";
import type { AppliedResult } from "../calculations/applied.ts";

export function ticketWords(tickets: TicketResult): string[] {
  const { meterFactorError } = tickets;
  const plusMinus = meterFactorError === null ? "" : ` ± ${numberText(meterFactorError, 4)}`;
  return [
    `Scale: ${tickets.deliveredLb > 0 ? `${lbText(tickets.deliveredLb)} lb delivered, ` : ""}${lbText(tickets.usedLb)} lb used; meter factor ${numberText(tickets.meterFactor, 4)}${plusMinus}; the log is ${numberText(100 * tickets.logErrorShare, 2)} % off`,
    ...tickets.notices.map((notice) => `Notice: ${notice.message}`),
  ];
}

function catchUpWords(made: CatchUp): string[] {
  return [
    ...textTable([
      ["lb of", "need", "placed", "catch-up", "over", "dropped", "tons of product"],
      ...(["p2o5", "k2o"] as const).map((oxide) => {
        const { needLb, placedLb, catchUpLb, overLb, droppedLb } = made.balance[oxide];
        const figures = [needLb, placedLb, catchUpLb, overLb, droppedLb].map(lbText1);
        return [oxide.toUpperCase(), ...figures, numberText(made.productTons[oxide], 3)];
      }),
    ]),
    `need = placed + catch-up − over + dropped`,
    `Takes the place of the planned broadcast map of ${made.voidsBroadcastOf.join(", ")}: delete that one from stick and display first.`,
  ];
}

const lbText1 = (lb: number): string => numberText(lb, 1);

export function appliedWords({ tickets, fills, catchTest, catchUp }: AppliedResult): string[] {
  return [
    ...(tickets ? ticketWords(tickets) : []),
    ...(fills
      ? [
          `Fills: meter factor ${numberText(fills.ratio, 4)} by sums, ${numberText(fills.leastSquares, 4)} by least squares`,
        ]
      : []),
    ...(catchTest
      ? [
          `Catch test: ${numberText(catchTest.caughtLb, 2)} lb caught, ${numberText(catchTest.wantedLb, 2)} lb wanted; ${numberText(catchTest.appliedLbPerAc, 1)} lb/ac; meter factor ${numberText(catchTest.meterFactor, 4)}`,
          catchTest.rowsOff.length === 0
            ? "Every row lies within the tolerance."
            : `Rows off: ${catchTest.rowsOff.map((row) => `${row} (${numberText(100 * catchTest.rowOffShare[row - 1]!, 1)} %)`).join(", ")}`,
        ]
      : []),
    ...(catchUp ? catchUpWords(catchUp) : []),
  ];
}
