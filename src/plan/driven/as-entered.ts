import type { LogPiece, LogPoint } from "../../applied/index.ts";
import type { Notice } from "../../errors/index.ts";
import { hoursOf } from "../../ledger/index.ts";
import { numberText } from "../../units/index.ts";
import { SAME_LB } from "../maps/small-rate.ts";
import type { FieldResult } from "../results/result-types.ts";
import type { EnteredLine, ProductLog } from "./applied-types.ts";
import {
  acOf,
  hasRoomBeside,
  isWithoutLog,
  lbOf,
  SAME_GROUND_SHARE,
  SAME_TYPED_GROUND_SHARE,
} from "./entered-lines.ts";
import { logDigest } from "./log-of-product.ts";
import { readingsNear } from "./readings-in-plane.ts";
import { isOfSpan, isShown } from "./shown-work.ts";

/** Pounds that differ by no more of themselves are the same: figures rounded on their way (ours). */
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

/** Lines of the ledger that a log shows, and of each of its readings near the field the line that has it. */
interface ShownWork {
  readonly shown: readonly EnteredLine[];
  readonly ofReading: readonly (EnteredLine | undefined)[];
}

/** The work of a product's lines in a log: a reading's line is that of its file, else the shortest whose hours and ground it is of. */
export function shownWork(
  field: FieldResult,
  lines: readonly EnteredLine[],
  log: ProductLog["log"],
): ShownWork {
  if (lines.length === 0) return { shown: [], ofReading: [] };
  const readings = readingsNear(field, log);
  const digests = digestsOfFiles(log);
  const whole = digests.size === 1 ? [...digests.values()][0]! : logDigest(log);
  const isGiven = ({ log: digest }: EnteredLine): boolean =>
    digest === whole || [...digests.values()].includes(digest ?? "");
  const shown = lines.filter((line) => isGiven(line) || (line.span && isShown(line.span, readings)));
  const ofWhole = shown.find((line) => line.log === whole);
  const ofFile = new Map(
    [...digests].map(([file, digest]) => [file, shown.find((line) => line.log === digest)] as const),
  );
  const others = shown.filter((line) => !isGiven(line)).toSorted((one, two) => hoursIn(one) - hoursIn(two));
  const ofReading = readings.map(
    (reading) =>
      ofWhole ??
      ofFile.get(reading.part ?? 0) ??
      others.find(({ span }) => span !== undefined && isOfSpan(span, reading)),
  );
  return { shown, ofReading };
}

/** Digests of the files that a log is made of, by their number in it. */
function digestsOfFiles(log: ProductLog["log"]): ReadonlyMap<number, string> {
  const files = new Map<number, ProductLog["log"]["points"][number][]>();
  for (const point of log.points) {
    const own = files.get(point.part ?? 0);
    if (own === undefined) files.set(point.part ?? 0, [point]);
    else own.push(point);
  }
  return new Map([...files].map(([file, points]) => [file, logDigest({ ...log, points })]));
}

function hoursIn({ span }: EnteredLine): number {
  const [from, to] = (span && hoursOf(span)) ?? [0, Number.POSITIVE_INFINITY];
  return to - from;
}

/**
 * What the ledger has of a log's own readings counts in place of the log's pounds: a scale or a meter factor stood behind it when it
 * was entered, and the order reckons with it. Line by line, by the file or its hours; lines without times, and those that do not
 * have the acres of their readings, together. Lines without a log are with these where field and log leave no room for them
 * elsewhere. Lines that tell of more or less ground than their readings are left out. `near`: the log's readings in the field,
 * in order; `pieces`: what they cover; `covers`: what pieces bring in the field.
 */
export function enteredWork(
  field: FieldResult,
  lines: readonly EnteredLine[],
  { shown, ofReading }: ShownWork,
  near: readonly LogPoint[],
  pieces: readonly LogPiece[],
  covers: Cover,
): readonly Entered[] {
  if (lines.length === 0) return [];
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
  const typed = lines.filter(isWithoutLog);
  const rest = [
    ...shown.filter((line) => byLine.every((one) => !one.lines.includes(line))),
    ...(hasRoomBeside(field, covers(pieces).areaAc, typed) ? [] : typed),
  ];
  const left = pieces.filter((piece) => byLine.every((one) => !one.pieces.has(piece)));
  return [...byLine, ...entered(rest, left, covers)];
}

/** One group where lines and readings are of the same ground; else none. */
function entered(lines: readonly EnteredLine[], pieces: readonly LogPiece[], covers: Cover): Entered[] {
  if (lines.length === 0 || pieces.length === 0) return [];
  const { lb: logLb, areaAc } = covers(pieces);
  const inLines = acOf(lines);
  const share = lines.some(isWithoutLog) ? SAME_TYPED_GROUND_SHARE : SAME_GROUND_SHARE;
  if (Math.abs(areaAc - inLines) > share * inLines) return [];
  const lb = lbOf(lines);
  const isSame = Math.abs(lb - logLb) <= Math.max(SAME_LB, SAME_SHARE * logLb);
  if (!isSame && !(logLb > 0)) return [];
  return [{ lines, pieces: new Set(pieces), logLb, factor: isSame ? 1 : lb / logLb }];
}

/** Whether the lines have other pounds than the log times its own factor. */
export const hasOtherPounds = (
  groups: readonly Entered[],
  ownFactor: number,
  share: number = SAME_SHARE,
): boolean => groups.some(({ factor }) => Math.abs(factor - ownFactor) > share * ownFactor);

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
  const others = groups.filter((one) => hasOtherPounds([one], ownFactor, TOLD_SHARE));
  return others.map(({ lines, logLb, factor }): Notice => {
    const lb = lbOf(lines);
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
