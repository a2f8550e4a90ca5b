import { InputError, type Notice, type Question } from "../errors/index.ts";
import { fieldFrame, type Point } from "../geo/index.ts";
import { KG_PER_HA_PER_LB_PER_AC, M_PER_FT } from "../units/index.ts";
import { type Layer, namedOnes, type Skipped } from "./feature.ts";
import { isMissingMark } from "./missing-marks.ts";
import { numberMarks } from "./number-marks.ts";
import { plainName } from "./plain-name.ts";
import { settleRateUnit } from "./rate-column.ts";
import type { FileAnswers } from "./settle-system.ts";

/** One logged place of an as-applied log. */
export interface AppliedPoint {
  /** Its number in the file. */
  readonly record: number;
  /** Longitude and latitude, degrees. */
  readonly at: Point;
  /** As the file words it; empty without one. */
  readonly time: string;
  /** Null where the log gives none. */
  readonly targetLbPerAc: number | null;
  readonly appliedLbPerAc: number;
  readonly widthFt: number;
  /** Way driven since the point before. */
  readonly distanceFt: number;
  /** Counted from 0, one product after the other; a new one begins where the rig turns or jumps. */
  readonly pass: number;
  /** As the file calls it; empty where it does not say. */
  readonly product: string;
}

export interface AppliedLog {
  readonly points: readonly AppliedPoint[];
  readonly products: readonly string[];
  readonly readUnit: "lb/ac" | "kg/ha";
}

interface AppliedReading {
  readonly layer: Layer;
  /** Null while a question is open. */
  readonly log: AppliedLog | null;
  readonly questions: readonly Question[];
}

interface Columns {
  readonly target: string | undefined;
  readonly applied: string | undefined;
  readonly width: string | undefined;
  readonly distance: string | undefined;
  readonly time: string | undefined;
  readonly product: string | undefined;
}

function columnsOf(names: readonly string[]): Columns {
  const find = (pattern: RegExp): string | undefined => names.find((name) => pattern.test(plainName(name)));
  return {
    target: find(/^(target|tgt|setpoint|rx|prescribed|planned)(rate)?(lbs?ac|kgha)?\d?$/),
    applied: find(/^(as)?(applied|appld|appl|actual)(rate)?(lbs?ac|kgha)?\d?$/),
    width: find(/^(swath)?(width|wdth)(ft|feet|m)?$/),
    distance: find(/^(distance|dist)(ft|feet|m)?$/),
    time: find(/^(time|datetime|timestamp|isotime|gpstime)$/),
    product: find(/^(product|productname|material)$/),
  };
}

/** Whether columns name both a target and an applied rate. */
export function hasAppliedRates(names: readonly string[]): boolean {
  const { target, applied } = columnsOf(names);
  return target !== undefined && applied !== undefined;
}

/**
 * An as-applied log out of points with attributes. A real 0 is kept; a point without a place or without an applied rate
 * is left out with a notice. Width and way need a unit in their names; a missing way is measured between the points.
 * Question: `unit.rate`. Throws `no-applied-rate`, `no-width`, `negative-rate`.
 */
export function readAppliedPoints(layer: Layer, answers: FileAnswers): AppliedReading {
  const columns = columnsOf(layer.columns.map(({ name }) => name));
  const { applied, target, width } = columns;
  if (applied === undefined) {
    const has = layer.columns.map(({ name }) => name).join(", ") || "no attributes";
    throw new InputError(
      "no-applied-rate",
      `${layer.path}: no column with applied rates (${has})`,
      "Choose the log of the work done.",
    );
  }
  if (width === undefined || lengthUnit(width) === null) {
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
  const distance =
    columns.distance !== undefined && lengthUnit(columns.distance) !== null ? columns.distance : undefined;
  const used = [...rateNames, width, ...(distance === undefined ? [] : [distance])];
  const texts = layer.features.flatMap(({ record, properties }) =>
    used.flatMap((name) => {
      const value = properties[name];
      return typeof value === "string"
        ? [{ text: value, where: `${layer.one} ${record}, column ${name}` }]
        : [];
    }),
  );
  const marks = numberMarks(texts, layer.path, answers);
  questions.push(...marks.questions);
  notices.push(...marks.notices);
  const scale = unit === "kg/ha" ? 1 / KG_PER_HA_PER_LB_PER_AC : 1;
  const skipped: Skipped[] = [];
  const found: Omit<AppliedPoint, "pass">[] = [];
  const products = new Set<string>();
  for (const { record, geometry, properties } of layer.features) {
    const number = (name: string | undefined): number | null => {
      const value = name === undefined ? null : properties[name];
      if (typeof value === "number") return value;
      const read = isMissingMark(String(value ?? "")) ? null : marks.read(String(value));
      return typeof read === "number" ? read : null;
    };
    const rate = number(applied);
    const at = geometry?.kind === "point" ? geometry.at : null;
    const widthFt = number(width);
    if (at === null || rate === null || widthFt === null) {
      skipped.push({
        record,
        reason: at === null ? "no position" : rate === null ? "no applied rate" : "no width",
      });
      continue;
    }
    if (rate < 0) {
      const message = `${layer.path}, ${layer.one} ${record}: ${applied} is ${rate}, below zero`;
      throw new InputError("negative-rate", message, "Mend the log.");
    }
    const targetRate = number(target);
    const way = number(distance);
    const product = columns.product === undefined ? "" : String(properties[columns.product] ?? "");
    if (product !== "") products.add(product);
    found.push({
      record,
      at,
      time: columns.time === undefined ? "" : String(properties[columns.time] ?? ""),
      targetLbPerAc: targetRate === null ? null : targetRate * scale,
      appliedLbPerAc: rate * scale,
      widthFt: widthFt * lengthUnit(width)!,
      distanceFt: way === null ? Number.NaN : way * lengthUnit(distance!)!,
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
    log: { points: passesByProduct(found), products: [...products], readUnit: unit },
    questions,
  };
}

/** Feet in one of the unit a column's name carries; null when it carries none. */
function lengthUnit(name: string): number | null {
  const found = /(ft|feet|m)$/.exec(plainName(name))?.[1];
  if (found === undefined) return null;
  return found === "m" ? 1 / M_PER_FT : 1;
}

const TURN_DEG = 60;
const JUMP = 3;

/** The readings of each product in passes of their own, products in the order in which they turn up. */
export function passesByProduct(points: readonly Omit<AppliedPoint, "pass">[]): AppliedPoint[] {
  let before = 0;
  return [...new Set(points.map(({ product }) => product))].flatMap((product) => {
    const first = before;
    const own = inPasses(points.filter((point) => point.product === product));
    before += (own.at(-1)?.pass ?? -1) + 1;
    return own.map((point) => ({ ...point, pass: point.pass + first }));
  });
}

/** Numbers the passes: a new one begins where the way turns by more than 60 degrees or jumps to three times the swath and
 * more. Ways that the log does not give are measured. */
function inPasses(points: readonly Omit<AppliedPoint, "pass">[]): AppliedPoint[] {
  const first = points[0];
  if (first === undefined) return [];
  const frame = fieldFrame(first.at[0], first.at[1]);
  let pass = 0;
  let heading: number | null = null;
  let before: Point | null = null;
  return points.map((point) => {
    const at = frame.toPlane(point.at);
    const wayM: number = before === null ? 0 : Math.hypot(at[0] - before[0], at[1] - before[1]);
    const usualM = Math.max(point.distanceFt || 0, point.widthFt) * M_PER_FT;
    if (before !== null && wayM > 0.05) {
      const way = (Math.atan2(at[0] - before[0], at[1] - before[1]) * 180) / Math.PI;
      const turned = heading === null ? 0 : Math.abs(((way - heading + 540) % 360) - 180);
      if (turned > TURN_DEG || wayM > JUMP * usualM) {
        pass += 1;
        heading = null;
      } else heading = way;
    }
    before = at;
    const distanceFt = Number.isNaN(point.distanceFt)
      ? heading === null
        ? 0
        : wayM / M_PER_FT
      : point.distanceFt;
    return { ...point, distanceFt, pass };
  });
}
