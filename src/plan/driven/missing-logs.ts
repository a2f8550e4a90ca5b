import { InputError, type Notice } from "../../errors/index.ts";
import {
  acresGoneOver,
  hoursOf,
  isInBox,
  isNear,
  type LedgerEntry,
  type LogSpan,
  type PlacedEntry,
  stripEntries,
} from "../../ledger/index.ts";
import { sum } from "../../numeric/index.ts";
import { numberText } from "../../units/index.ts";
import type { FieldResult } from "../results/result-types.ts";
import { bothProducts, byHandInWords } from "../stands/both-products.ts";
import { OR_PUT_BACK } from "../stands/product-put-back.ts";
import type { AppliedField, AppliedProduct, ProductLog } from "./applied-types.ts";
import { logDigest } from "./log-of-product.ts";
import { readingsNear } from "./readings-in-plane.ts";

/** Of an entry's hours so much must lie within the readings that show it; pounds and acres beyond it are others (ours). */
const SHOWN_SHARE = 0.9;
const MORE_LB = 1.05;
const MORE_AC = 1.02;

/** Lines of the ledger that what was given does not bear out. */
interface Missing {
  /** Work that is in none of it. */
  readonly missing: readonly PlacedEntry[];
  /** Work of the very logs, entered with other pounds: by tickets or a meter factor that are not given now. */
  readonly otherPounds: readonly PlacedEntry[];
}

/**
 * What the ledger has in a field's strip pass that neither its logs nor the pounds given show: work of other days. Ground of
 * theirs would count as ground that got nothing. A line of which the readings are known must be among them; of another
 * one acres and pounds say whether it can be of the same work. Of a product that no strip map of the field has, laid in
 * place of one, no log is read: its lines are never shown.
 */
export function missingWork(
  field: FieldResult,
  ledger: readonly LedgerEntry[],
  logs: readonly ProductLog[],
  { products, byPounds }: Pick<AppliedField, "products" | "byPounds">,
  covered: Float64Array,
): Missing {
  const own = stripEntries(ledger, field.field.id);
  const { passes } = field;
  const strip = field.prescriptions.filter((map) => map.pass === "strip");
  const instead = own.filter(
    (entry) => entry.p2o5Lb + entry.k2oLb > 0 && strip.every((map) => map.product !== entry.product),
  );
  const nothing: Missing = { missing: [], otherPounds: [] };
  const byMap = strip.map(({ product, rateLbPerAc }): Missing => {
    const entries = own.filter((entry) => entry.product === product);
    const enteredLb = sum(entries.map(({ lb }) => lb));
    const applied = products.find((one) => one.product === product);
    const log = logs.find((one) => one.product === product);
    if (applied !== undefined && log !== undefined) return notShown(field, entries, log, applied);
    const typed = byPounds.find((one) => one.product === product);
    if (typed !== undefined)
      return enteredLb > MORE_LB * typed.lb ? { ...nothing, missing: entries } : nothing;
    // Lines out of a log tell where little or nothing was laid: to count it as laid by the map would lose that.
    const logged = entries.filter(({ span }) => span !== undefined);
    if (logged.length > 0) return { ...nothing, missing: logged };
    // Without a log it counts as laid by its map where the rig was: so must the lines have it.
    const on = (of: (k: number) => number): number =>
      sum(passes.areaAc.map((ac, k) => ac * of(k) * covered[k]!));
    const isThere = isAbout(
      sum(entries.map(({ areaAc }) => areaAc)),
      on(() => 1),
    );
    return isThere &&
      isAbout(
        enteredLb,
        on((k) => rateLbPerAc[k]!),
      )
      ? nothing
      : { ...nothing, missing: entries };
  });
  return {
    missing: [...byMap.flatMap((one) => one.missing), ...instead],
    otherPounds: byMap.flatMap((one) => one.otherPounds),
  };
}

/**
 * Of those lines the ones that tell of ground the logs do not show: of a product that is logged, and all of them where one
 * rig was by the ledger on more acres than the logs have.
 */
export function hiddenGround(
  field: FieldResult,
  missing: readonly PlacedEntry[],
  ledger: readonly LedgerEntry[],
  logged: readonly string[],
  coveredAc: number,
): readonly PlacedEntry[] {
  const mapped = field.prescriptions.filter(({ pass }) => pass === "strip").map(({ product }) => product);
  if (acresGoneOver(stripEntries(ledger, field.field.id), mapped) > MORE_AC * coveredAc) return missing;
  return missing.filter(({ product }) => logged.includes(product));
}

const isAbout = (one: number, two: number): boolean => Math.abs(one - two) <= (MORE_LB - 1) * two;

function notShown(
  field: FieldResult,
  entries: readonly PlacedEntry[],
  { log }: ProductLog,
  { coveredAc, placedLb }: AppliedProduct,
): Missing {
  const digest = logDigest(log);
  const readings = readingsNear(field, log);
  const hidden = entries.filter(
    (entry) => entry.log !== digest && (entry.span === undefined || !isShown(entry.span, readings)),
  );
  const isMore = sum(entries.map(({ lb }) => lb)) > MORE_LB * placedLb;
  const dark = hidden.filter(({ span }) => span === undefined);
  const shown = entries.filter((entry) => !hidden.includes(entry));
  const shownLb = sum(shown.map(({ lb }) => lb));
  const isSameGround =
    hidden.length === 0 &&
    Math.abs(sum(shown.map(({ areaAc }) => areaAc)) - coveredAc) <= (MORE_AC - 1) * coveredAc;
  const isLess = isSameGround && placedLb > MORE_LB * shownLb;
  const isElsewhere = sum([coveredAc, ...dark.map(({ areaAc }) => areaAc)]) <= MORE_AC * field.checked.areaAc;
  return {
    missing: hidden.filter(({ span }) => span !== undefined || isMore || isElsewhere),
    otherPounds: shownLb > MORE_LB * placedLb || isLess ? shown : [],
  };
}

/** Where and when a log of one product began and ended in a field, as a line of the ledger keeps it; nothing without readings there. */
export function spanOf(field: FieldResult, log: ProductLog["log"]): { span?: LogSpan } {
  const readings = readingsNear(field, log);
  const [first, last] = [readings[0], readings.at(-1)];
  if (first === undefined || last === undefined) return {};
  const times = first.time === "" || last.time === "" ? {} : { began: first.time, ended: last.time };
  const box = boxOf(readings);
  return {
    span: { readings: readings.length, first: rounded(first.at), last: rounded(last.at), box, ...times },
  };
}

/** West, south, east and north of readings, degrees. */
function boxOf(readings: ReturnType<typeof readingsNear>): NonNullable<LogSpan["box"]> {
  let [west, south, east, north] = [180, 90, -180, -90];
  for (const { at } of readings) {
    [west, east] = [Math.min(west, at[0]), Math.max(east, at[0])];
    [south, north] = [Math.min(south, at[1]), Math.max(north, at[1])];
  }
  return [...rounded([west, south]), ...rounded([east, north])];
}

/** A tenth of a metre. */
const rounded = ([lon, lat]: readonly [number, number]): LogSpan["first"] => [
  Math.round(lon * 1e6) / 1e6,
  Math.round(lat * 1e6) / 1e6,
];

/**
 * Whether readings show the work that a line of the ledger tells of: its hours on its ground, where a second rig was elsewhere,
 * else where it began and where it ended.
 */
function isShown(span: LogSpan, readings: ReturnType<typeof readingsNear>): boolean {
  const hours = hoursOf(span);
  const { box } = span;
  const there = box === undefined ? readings : readings.filter(({ at }) => isInBox(box, at));
  const times = there.map(({ time }) => Date.parse(time) / 3_600_000).filter(Number.isFinite);
  if (hours !== null && times.length > 0) {
    const within = times.filter((time) => time >= hours[0] && time <= hours[1]);
    const [from, to] = within.reduce(
      ([low, high], time) => [Math.min(low, time), Math.max(high, time)],
      [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY],
    );
    if (within.length > 0 && to - from >= SHOWN_SHARE * (hours[1] - hours[0])) return true;
  }
  return [span.first, span.last].every((place) => readings.some(({ at }) => isNear(at, place)));
}

/** Lines of the ledger in a few words each. */
const entriesInWords = (entries: readonly PlacedEntry[]): string =>
  entries
    .map((entry) => {
      const { number, date } = entry as LedgerEntry & PlacedEntry;
      return `entry ${number} of ${date}, ${numberText(entry.lb, 0)} lb ${entry.product} on ${numberText(entry.areaAc, 1)} ac`;
    })
    .join("; ");

/** The doubt that stands above all that is worked out of a part of a field's logs; `areLogged`: any log is given. */
export function logsMissing(
  { field, prescriptions, checked }: FieldResult,
  entries: readonly PlacedEntry[],
  ledger: readonly LedgerEntry[],
  areLogged: boolean,
): Notice {
  const mapped = prescriptions.filter(({ pass }) => pass === "strip").map(({ product }) => product);
  const others = [
    ...new Set(entries.map(({ product }) => product).filter((product) => !mapped.includes(product))),
  ];
  const isMapped = entries.some(({ product }) => mapped.includes(product));
  const isTyped = !areLogged && entries.every(({ log, span }) => log === undefined && span === undefined);
  const ofAll = isTyped
    ? "give the pounds of all its days together"
    : "give all the field's logs together (on the command line each with --log)";
  const wanted = isMapped ? [ofAll] : [];
  const typed = entries.filter(({ from, product }) => from === "typed" && mapped.includes(product));
  const own =
    typed.length === 0 || isTyped
      ? []
      : [
          "where the pounds typed are those of the logs given, take their lines back first (`ledger --void`), or the work counts twice",
        ];
  const both = bothProducts(stripEntries(ledger, field.id), mapped, checked.areaAc);
  const noCatchUp =
    both === null
      ? `a catch-up is not worked out where it was laid; where the plan's product was changed after the pass, the build from before the change as PLAN reads its log and works it out, ${OR_PUT_BACK}`
      : byHandInWords(both);
  const unread =
    others.length === 0
      ? []
      : [
          `no log of ${others.join(", ")} is read, which no strip map here has: what is left to drive is \`remainder\` by passes (--done-after) or by a line, and ${noCatchUp}`,
        ];
  return {
    code: "logs-missing",
    message: `${field.name}: the ledger has work in its strip pass that is not in what was given: ${entriesInWords(entries)}; ${[...wanted, ...own, ...unread].join("; ")}`,
    where: field.id,
  };
}

/** The doubt about logs that were entered with other pounds than they show now. */
export const logsWeighed = ({ field }: FieldResult, entries: readonly PlacedEntry[]): Notice => ({
  code: "logs-weighed",
  message: `${field.name}: the ledger has other pounds of the logs that were given: ${entriesInWords(entries)}; give them with the tickets or pounds (--tickets, one file with those of all days) or the meter factor (fills.meterFactor) that they were entered with`,
  where: field.id,
});

/** Throws `logs-missing` where the ledger has work of the logged products that the logs do not show. */
export function requireAllLogs(notices: readonly Notice[], nothing: string): void {
  const notice = notices.find(({ code }) => code === "logs-missing");
  if (notice === undefined) return;
  throw new InputError(
    "logs-missing",
    notice.message,
    `${nothing} A line of the ledger that is wrong is taken back with \`ledger --void\`.`,
  );
}

/** Throws `logs-weighed` where the ledger has other pounds of the logs than they show. */
export function requireWeighed(notices: readonly Notice[]): void {
  const notice = notices.find(({ code }) => code === "logs-weighed");
  if (notice === undefined) return;
  throw new InputError(
    "logs-weighed",
    notice.message,
    "No catch-up map was written. A line of the ledger that is wrong is taken back with `ledger --void`.",
  );
}
