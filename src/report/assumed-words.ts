import type { AssumedFigure, PlanBin } from "../plan/index.ts";
import { numberText } from "../units/index.ts";

const OF_BIN: Readonly<Record<string, string>> = {
  lbPerFt3: "density",
  residualLb: "stays in it",
  filledShare: "part of the volume that fills",
};

const NAMES: Readonly<Record<string, string>> = {
  "rig.work.turnEfficiency": "share of width × speed left after turns",
  "rig.work.minutesPerStop": "a stop without the transfer",
  "rig.work.fillLbPerMin": "from tender to bin",
  "rig.work.hoursPerDay": "working day",
  "rig.work.reserveShare": "kept back of a load",
  "rig.turnRadiusFt": "turn radius",
  "tender.tripMin": "tender away to reload",
  "order.overlapShare": "overlap",
  "fills.headlandMph": "speed on the headland",
  "season.fieldChangeMinutes": "from field to field",
  "season.persistence": "how far a workable day follows another",
  "season.leadDays": "strips ahead of the planter",
};

/** What a key of the plan is to a reader: `bin L, density`; a key without words as it stands. */
function figureName(key: string, bins: readonly Pick<PlanBin, "id">[]): string {
  const [, at, of = ""] = /^rig\.bins\[(\d+)\]\.(\w+)$/.exec(key) ?? [];
  const bin = at === undefined ? undefined : bins[Number(at)];
  if (bin !== undefined && OF_BIN[of] !== undefined) return `bin ${bin.id}, ${OF_BIN[of]}`;
  return NAMES[key] ?? key;
}

const lessDigits = (value: number): string => {
  const short = Number(value.toPrecision(4));
  return numberText(short, Number.isInteger(short) ? 0 : 1);
};

/** A figure nobody typed, in words: `bin L, density: 62.5 lb/ft³`. */
export function assumedInWords(one: AssumedFigure, bins: readonly Pick<PlanBin, "id">[]): string {
  const { key, value, unit } = one;
  const figure = unit.startsWith("share")
    ? `${Number((100 * value).toPrecision(3))} %${unit.slice("share".length)}`
    : `${lessDigits(value)} ${unit.replace("ft3", "ft³")}`;
  return `${figureName(key, bins)}: ${figure}`.trim();
}

/** Those of the figures that nobody published, each in the words given, without a full stop; empty when there are none. */
export function unconfirmedInWords(
  assumed: readonly AssumedFigure[],
  inWords: (one: AssumedFigure) => string,
): string {
  const own = assumed.filter(({ status }) => status === "unconfirmed");
  return own.length === 0 ? "" : `Unconfirmed defaults, type your own: ${own.map(inWords).join("; ")}`;
}

/** A figure nobody typed, by its key: `rig.work.hoursPerDay 11 h`. */
export const assumedByKey = ({ key, value, unit }: AssumedFigure): string =>
  `${key} ${Number(value.toFixed(value < 1 ? 3 : 1))} ${unit}`.trim();
