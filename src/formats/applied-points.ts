import { InputError, type Notice, type Question } from "../errors/index.ts";
import { M_PER_FT } from "../units/index.ts";
import { type Layer, namedOnes, type Skipped } from "./feature.ts";
import { type AppliedPoint, type LoggedPoint, passesByProduct } from "./log-passes.ts";
import { numberIn, numberMarks } from "./number-marks.ts";
import { plainName } from "./plain-name.ts";
import { LB_PER_AC_IN, type RateUnit, refuseNegativeRate, settleRateUnit, textCells } from "./rate-column.ts";
import type { FileAnswers } from "./settle-system.ts";
import { WAY_NAMES, wayThatCountsOn, wayWithoutUnit } from "./way-column.ts";

export interface AppliedLog {
  readonly points: readonly AppliedPoint[];
  readonly products: readonly string[];
  readonly readUnit: RateUnit;
}

interface AppliedReading {
  readonly layer: Layer;
  /** Null while a question is open. */
  readonly log: AppliedLog | null;
  readonly questions: readonly Question[];
}

interface LogColumns {
  readonly target: string | undefined;
  readonly applied: string | undefined;
  readonly width: string | undefined;
  readonly distance: string | undefined;
  readonly time: string | undefined;
  /** Of a log whose times are hours of the day alone. */
  readonly date: string | undefined;
  readonly product: string | undefined;
}

/** A shapefile cuts its columns' names at so many letters. */
const MOST_LETTERS = 10;

/** A name without a bracket that the cut left open: `Distance (`, `Target (lb`. */
const withoutOpenBracket = (name: string): string =>
  name.length === MOST_LETTERS ? name.replace(/\([^)]*$/, "") : name;

/** Whether a name is the beginning of one of these words and `rate`, cut somewhere in `rate`: `Applied Ra`, `TargetRat`. */
function isCutRate(name: string, words: RegExp): boolean {
  const word = name.length === MOST_LETTERS ? words.exec(plainName(name))?.[0] : undefined;
  return word !== undefined && "rate".startsWith(plainName(name).slice(word.length));
}

function logColumns(names: readonly string[]): LogColumns {
  const find = (pattern: RegExp, cut?: RegExp): string | undefined =>
    names.find(
      (name) => pattern.test(plainName(withoutOpenBracket(name))) || (cut && isCutRate(name, cut)) === true,
    );
  return {
    target: find(
      /^(target|tgt|setpoint|rx|prescribed|planned)(rate)?(lbs?ac?|kgha)?\d?$/,
      /^(target|setpoint|prescribed|planned)/,
    ),
    applied: find(
      /^(as)?(applied|appld|appl|actual)(rate)?(lbs?ac?|kgha)?\d?$/,
      /^(as)?(applied|appld|actual)/,
    ),
    width: find(/^(swath)?(width|wdth)(ft|feet|m)?$|^swath(ft|feet|m|widt)$/),
    distance: find(WAY_NAMES),
    time: find(/^(utc|local)?(time|datetime|timestamp|isotime|gpstime)(utc|gmt|local)?$/),
    date: find(/^(date|day|workdate|logdate)(utc|gmt|local)?$/),
    product: find(/^(product|productname|material)$/),
  };
}

/** Whether columns name both a target and an applied rate. */
export function hasAppliedRates(names: readonly string[]): boolean {
  const { target, applied } = logColumns(names);
  return target !== undefined && applied !== undefined;
}

/** Whether columns name an applied rate and the width it was laid in, without which no log is read. */
export function hasLogColumns(names: readonly string[]): boolean {
  const { applied, width } = logColumns(names);
  return applied !== undefined && width !== undefined;
}

/**
 * An as-applied log out of points with attributes. A real 0 is kept; a point without a place, an applied rate or a
 * width is left out with a notice; times that stand still, such as days alone, are not used, with a notice. Width and way need a unit in their names; a way
 * without one, or that counts on, is not used, with a notice, and a missing way is measured between the points.
 * Question: `unit.rate`. Throws `no-applied-rate`, `no-width`, `negative-rate`.
 */
export function readAppliedPoints(layer: Layer, answers: FileAnswers): AppliedReading {
  const columns = logColumns(layer.columns.map(({ name }) => name));
  const { applied, target, width } = columns;
  if (applied === undefined) {
    const has = layer.columns.map(({ name }) => name).join(", ") || "no attributes";
    throw new InputError(
      "no-applied-rate",
      `${layer.path}: no column with applied rates (${has})`,
      "Choose the log of the work done, or name its columns APPL_LBAC, TGT_LBAC and WIDTH_FT (kg/ha: APPL_KGHA, TGT_KGHA).",
    );
  }
  const widthUnitFt = width === undefined ? null : lengthUnitFt(width);
  if (width === undefined || widthUnitFt === null) {
    const what =
      width === undefined ? "no column with the width" : `the column ${width} does not say its unit`;
    throw new InputError("no-width", `${layer.path}: ${what}`, "Name the column Width_ft or Width_m.");
  }
  const questions: Question[] = [];
  const notices: Notice[] = [];
  const rateNames = [target, applied].filter((name) => name !== undefined);
  const shown = layer.features
    .slice(0, 3)
    .map(({ properties }) => rateNames.map((name) => properties[name] ?? "blank").join("/"));
  const unit = settleRateUnit(layer.path, rateNames, shown.join(", "), answers, questions);
  const wayUnitFt = columns.distance === undefined ? null : lengthUnitFt(columns.distance);
  const distance = wayUnitFt === null ? undefined : columns.distance;
  // A name whose unit was cut off is nobody's fault.
  const unread = distance === undefined ? columns.distance : undefined;
  if (unread !== undefined && withoutOpenBracket(unread) === unread)
    notices.push(wayWithoutUnit(unread, layer.path));
  const used = [...rateNames, width, ...(distance === undefined ? [] : [distance])];
  const marks = numberMarks(textCells(layer, used), layer.path, answers);
  questions.push(...marks.questions);
  notices.push(...marks.notices);
  const scale = LB_PER_AC_IN[unit ?? "lb/ac"];
  const skipped: Skipped[] = [];
  const found: LoggedPoint[] = [];
  const products = new Set<string>();
  for (const { record, geometry, properties } of layer.features) {
    const number = (name: string | undefined): number | null =>
      name === undefined ? null : numberIn(properties[name], marks);
    const text = (name: string | undefined): string =>
      name === undefined ? "" : String(properties[name] ?? "");
    const rate = number(applied);
    const at = geometry?.kind === "point" ? geometry.at : null;
    const wide = number(width);
    if (at === null || rate === null || wide === null) {
      skipped.push({
        record,
        reason: at === null ? "no position" : rate === null ? "no applied rate" : "no width",
      });
      continue;
    }
    refuseNegativeRate(layer, record, applied, rate);
    const targetRate = number(target);
    const way = number(distance);
    const product = text(columns.product);
    if (product !== "") products.add(product);
    found.push({
      record,
      at,
      time: withDay(text(columns.date), text(columns.time)),
      targetLbPerAc: targetRate === null ? null : targetRate * scale,
      appliedLbPerAc: rate * scale,
      widthFt: wide * widthUnitFt,
      distanceFt: way === null ? Number.NaN : way * wayUnitFt!,
      product,
    });
  }
  if (skipped.length > 0) {
    const reasons = [...new Set(skipped.map(({ reason }) => reason))].join(", ");
    const message = `${namedOnes(
      layer.one,
      skipped.map(({ record }) => record),
    )} left out: ${reasons}`;
    notices.push({ code: "points-left-out", message, where: layer.path });
  }
  const countsOn = distance === undefined ? null : wayThatCountsOn(found, distance, layer.path);
  if (countsOn !== null) notices.push(countsOn);
  const stands = timesStandStill(found);
  if (stands) {
    const shownTime = found.find(({ time }) => time !== "")!.time;
    const message = `the column ${columns.time} does not go on from reading to reading (${shownTime}): it is not used, the readings count in the order of the file`;
    notices.push({ code: "times-stand-still", message, where: layer.path });
  }
  const ordered = found.map((point) => ({
    ...point,
    ...(stands ? { time: "" } : {}),
    ...(countsOn === null ? {} : { distanceFt: Number.NaN }),
  }));
  const kept = new Set(found.map(({ record }) => record));
  const left: Layer = {
    ...layer,
    features: layer.features.filter(({ record }) => kept.has(record)),
    skipped: [...layer.skipped, ...skipped],
    notices: [...layer.notices, ...notices],
  };
  if (unit === null || questions.length > 0) return { layer: left, log: null, questions };
  return {
    layer: left,
    log: { points: passesByProduct(ordered), products: [...products], readUnit: unit },
    questions,
  };
}

/** An hour of the day with the day of its own column before it; any other time as it stands. */
const withDay = (day: string, time: string): string =>
  day !== "" && /^\d{1,2}:\d{2}/.test(time) ? `${day.replace(/[T ]\d{1,2}:.*$/, "")} ${time}` : time;

/** Seconds between one time and the next by which readings cannot be told from repeated ones any more (ours). */
const LONG_STEP_S = 10;

/**
 * Whether over half of the times are no later than that of the reading before, of the same product, and those that are come
 * in long steps: days alone, times to the minute, a file sorted backward. Several readings a second stand for what they are.
 */
function timesStandStill(points: readonly LoggedPoint[]): boolean {
  const before = new Map<string, number>();
  let still = 0;
  let short = 0;
  let long = 0;
  for (const { time, product } of points) {
    const at = Date.parse(time) / 1_000;
    if (Number.isNaN(at)) continue;
    const step = at - (before.get(product) ?? Number.NaN);
    before.set(product, at);
    if (step <= 0) still++;
    else if (step <= LONG_STEP_S) short++;
    else if (step > LONG_STEP_S) long++;
  }
  return still > short + long && short <= long;
}

/** Feet in one of the unit a column's name carries; null when it carries none. */
function lengthUnitFt(name: string): number | null {
  const found = /(ft|feet|m)$/.exec(plainName(name))?.[1];
  if (found === undefined) return null;
  return found === "m" ? 1 / M_PER_FT : 1;
}
