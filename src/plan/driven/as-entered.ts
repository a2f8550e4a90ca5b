import type { LogPiece, LogPoint } from "../../applied/index.ts";
import type { Notice } from "../../errors/index.ts";
import { hoursOf } from "../../ledger/index.ts";
import { sum } from "../../numeric/index.ts";
import { numberText } from "../../units/index.ts";
import type { FieldResult } from "../results/result-types.ts";
import type { EnteredLine, ProductLog } from "./applied-types.ts";
import { logDigest } from "./log-of-product.ts";
import { readingsNear } from "./readings-in-plane.ts";
import { isOfSpan, isShown } from "./shown-work.ts";

/** What a line has and what its readings give are of the same ground where their acres differ by no more (ours). */
export const SAME_GROUND_SHARE = 0.02;
/** The same of lines that somebody typed (ours). */
export const SAME_TYPED_GROUND_SHARE = 0.05;
/** Pounds that differ by no more are the same: figures rounded on their way (ours). */
const SAME_LB = 1;
const SAME_SHARE = 0.001;
/** So much more or less is worth a line (ours). */
const TOLD_SHARE = 0.01;

/** Readings of one log that stand in lines of the ledger, and what their pounds are to be multiplied by. */
export interface Entered {
  readonly lines: readonly EnteredLine[];
  /** The pieces of these readings, a part of those given. */
  readonly pieces: ReadonlySet<LogPiece>;
  /** Pounds of the readings as the log has them. */
  readonly logLb: number;
  /** 1 where line and log have the same. */
  readonly factor: number;
}

/** lb within the field and acres that pieces of a log cover there. */
export type Cover = (pieces: readonly LogPiece[]) => { readonly lb: number; readonly areaAc: number };

/** Lines of a product whose work a log shows. */
export function shownLines(
  field: FieldResult,
  lines: readonly EnteredLine[],
  log: ProductLog["log"],
): readonly EnteredLine[] {
  if (lines.length === 0) return [];
  const digests = [logDigest(log), ...digestsOfParts(log).values()];
  const readings = readingsNear(field, log);
  return lines.filter(
    (line) =>
      (line.log !== undefined && digests.includes(line.log)) ||
      (line.span !== undefined && isShown(line.span, readings)),
  );
}

/** Digests of the files that a log is made of, by their number in it. */
function digestsOfParts(log: ProductLog["log"]): ReadonlyMap<number, string> {
  const parts = new Map<number, ProductLog["log"]["points"][number][]>();
  for (const point of log.points) {
    const own = parts.get(point.part ?? 0);
    if (own === undefined) parts.set(point.part ?? 0, [point]);
    else own.push(point);
  }
  return new Map([...parts].map(([part, points]) => [part, logDigest({ ...log, points })]));
}

/** Of each reading near the field the line that has it: the line of its file, else the shortest whose hours and ground it is of. */
function linesOfReadings(
  field: FieldResult,
  shown: readonly EnteredLine[],
  log: ProductLog["log"],
): (EnteredLine | undefined)[] {
  const digests = digestsOfParts(log);
  const ofFile = new Map(
    [...digests].map(([part, digest]) => [part, shown.find((line) => line.log === digest)] as const),
  );
  const whole = shown.find((line) => line.log === logDigest(log));
  const hours = (line: EnteredLine): number => {
    const [from, to] = (line.span && hoursOf(line.span)) ?? [0, Number.POSITIVE_INFINITY];
    return to - from;
  };
  const others = shown
    .filter((line) => ![...digests.values()].includes(line.log ?? ""))
    .toSorted((one, other) => hours(one) - hours(other));
  return readingsNear(field, log).map(
    (reading) =>
      whole ??
      ofFile.get(reading.part ?? 0) ??
      others.find(({ span }) => span !== undefined && isOfSpan(span, reading)),
  );
}

/**
 * What the ledger has of a log's own readings counts in place of the log's pounds: a scale or a meter factor stood behind it when it
 * was entered, and the order reckons with it. Line by line, by the file or its hours; lines without times, and those that do not have the
 * acres of their readings, together. Typed lines are with these where field and log leave no room for them elsewhere. Lines that
 * tell of more or less ground than their readings are left out. `near`: the log's readings in the field, in order; `pieces`:
 * what they cover; `covers`: what pieces bring in the field.
 */
export function enteredWork(
  field: FieldResult,
  lines: readonly EnteredLine[],
  log: ProductLog["log"],
  near: readonly LogPoint[],
  pieces: readonly LogPiece[],
  covers: Cover,
): readonly Entered[] {
  if (lines.length === 0) return [];
  const shown = shownLines(field, lines, log);
  const ofReading = linesOfReadings(field, shown, log);
  const lineOf = new Map<LogPoint | undefined, EnteredLine | undefined>(
    near.map((point, i) => [point, ofReading[i]]),
  );
  const byLine = shown.flatMap((line) =>
    entered(
      [line],
      pieces.filter(({ of }) => lineOf.get(of) === line),
      covers,
    ),
  );
  const typed = lines.filter((line) => line.log === undefined && line.span === undefined);
  const hasRoom = covers(pieces).areaAc + acOf(typed) <= (1 + SAME_GROUND_SHARE) * field.checked.areaAc;
  const rest = [
    ...shown.filter((line) => byLine.every((one) => !one.lines.includes(line))),
    ...(hasRoom ? [] : typed),
  ];
  const left = pieces.filter((piece) => byLine.every((one) => !one.pieces.has(piece)));
  return [...byLine, ...entered(rest, left, covers)];
}

const acOf = (lines: readonly EnteredLine[]): number => sum(lines.map((line) => line.areaAc));

/** One group where lines and readings are of the same ground; else none. */
function entered(lines: readonly EnteredLine[], pieces: readonly LogPiece[], covers: Cover): Entered[] {
  if (lines.length === 0 || pieces.length === 0) return [];
  const { lb: logLb, areaAc } = covers(pieces);
  const inLines = acOf(lines);
  const isTyped = lines.some(({ span, log }) => span === undefined && log === undefined);
  const share = isTyped ? SAME_TYPED_GROUND_SHARE : SAME_GROUND_SHARE;
  if (Math.abs(areaAc - inLines) > share * inLines) return [];
  const lb = sum(lines.map((line) => line.lb));
  const isSame = Math.abs(lb - logLb) <= Math.max(SAME_LB, SAME_SHARE * logLb);
  if (!isSame && !(logLb > 0)) return [];
  return [{ lines, pieces: new Set(pieces), logLb, factor: isSame ? 1 : lb / logLb }];
}

/** Whether the lines have other pounds than the log times its own factor. */
export const isOther = (groups: readonly Entered[], ownFactor: number, share: number = SAME_SHARE): boolean =>
  groups.some(({ factor }) => Math.abs(factor - ownFactor) > share * ownFactor);

/** Pieces with the rates that make up the lines' pounds; those in no line times the log's own factor. */
export const asEntered = (
  pieces: readonly LogPiece[],
  groups: readonly Entered[],
  ownFactor: number,
): LogPiece[] =>
  pieces.map((piece) => {
    const factor = groups.find((one) => one.pieces.has(piece))?.factor ?? ownFactor;
    return { ...piece, lbPerAc: factor * piece.lbPerAc };
  });

/** Told where the ledger's pounds take the place of those that log and meter factor have. */
export function asEnteredNotices(
  { field }: FieldResult,
  product: string,
  groups: readonly Entered[],
  ownFactor: number,
): Notice[] {
  const others = groups.filter((one) => isOther([one], ownFactor, TOLD_SHARE));
  return others.map(({ lines, logLb, factor }): Notice => {
    const lb = sum(lines.map((line) => line.lb));
    const which = lines.map(({ number, date }) => `entry ${number} of ${date}`).join(" and ");
    const numbers = lines.map(({ number }) => `--void ${number}`).join(", then ");
    const shown = `${ownFactor === 1 ? "the log has" : "log and meter factor have"} ${numberText(ownFactor * logLb, 0)}`;
    return {
      code: "pounds-as-entered",
      message: `${product}: the ledger has ${numberText(lb, 0)} lb (${which}) of readings of which ${shown}; the ledger's count, the log times ${numberText(factor, 4)}. Where that is not so, take ${lines.length === 1 ? "the line" : "the lines"} back (\`ledger ${numbers}\`) and enter the log anew, with its tickets`,
      where: field.id,
    };
  });
}
