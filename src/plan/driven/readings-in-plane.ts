import type { LogPiece, LogPoint } from "../../applied/index.ts";
import type { Notice } from "../../errors/index.ts";
import { boundsOf, distance, type Point, polygonFinder } from "../../geo/index.ts";
import { sum } from "../../numeric/index.ts";
import { acres, counted, M_PER_FT, numberText } from "../../units/index.ts";
import type { FieldResult } from "../results/result-types.ts";
import type { ProductLog } from "./applied-types.ts";

/** Readings so far outside the field's box still count as its own, metres. */
const NEAR_M = 30;

interface ReadingsInPlane {
  /** In the field's box and a little around it. */
  readonly near: readonly LogPoint[];
  readonly far: readonly LogPoint[];
}

/** Readings in the plane of a field, in the order of the log: its own, and those that lie elsewhere. */
export function readingsInPlane(field: FieldResult, log: ProductLog["log"]): ReadingsInPlane {
  const { frame, boundary } = field.checked;
  const isIn = nearBox(boundary);
  const near: LogPoint[] = [];
  const far: LogPoint[] = [];
  for (const point of log.points) {
    const at = frame.toPlane(point.at);
    const time = Date.parse(point.time);
    (isIn(at) ? near : far).push({
      record: point.record,
      at,
      seconds: Number.isNaN(time) ? null : time / 1_000,
      appliedLbPerAc: point.appliedLbPerAc,
      targetLbPerAc: point.targetLbPerAc,
      widthM: point.widthFt * M_PER_FT,
      pass: point.pass,
      wayM: point.distanceFt * M_PER_FT,
    });
  }
  return { near, far };
}

/** Fields in which readings lie, by the boundary. */
export const fieldsOfLog = (fields: readonly FieldResult[], logs: readonly ProductLog[]): FieldResult[] =>
  fieldsWith(fields, logs, () => true);

/** Those of them in which nothing was laid while there is another where something was: the rig only crossed them. */
export function fieldsCrossed(fields: readonly FieldResult[], logs: readonly ProductLog[]): FieldResult[] {
  const laid = fieldsWith(fields, logs, ({ appliedLbPerAc }) => appliedLbPerAc > 0);
  return laid.length === 0 ? [] : fieldsOfLog(fields, logs).filter((field) => !laid.includes(field));
}

function fieldsWith(
  fields: readonly FieldResult[],
  logs: readonly ProductLog[],
  counts: (point: ProductLog["log"]["points"][number]) => boolean,
): FieldResult[] {
  return fields.filter(({ checked }) => {
    const find = polygonFinder(checked.boundary);
    return logs.some(({ log }) =>
      log.points.some((point) => counts(point) && find(checked.frame.toPlane(point.at)) >= 0),
    );
  });
}

/** Of logs, as those of a display's file of several fields, the ones that have a reading in a field. */
export const logsInField = (field: FieldResult, logs: readonly ProductLog[]): readonly ProductLog[] =>
  logs.filter((one) => fieldsOfLog([field], [one]).length > 0);

/** Told of a field for logs that were given and have no reading in it, while others have: their products count without them. */
export function logsNotInField(field: FieldResult, logs: readonly ProductLog[]): Notice[] {
  const there = logsInField(field, logs);
  const elsewhere = there.length === 0 ? [] : logs.filter((one) => !there.includes(one));
  return elsewhere.map(({ product }) => ({
    code: "log-not-in-field",
    message: `none of the readings of the log of ${product} lies in ${field.field.name}: it counts as if none was given; look whether its log of this field was left out`,
    where: field.field.id,
  }));
}

/** Readings of a log in a field's box and a little around it, as they were read. */
export function readingsNear(field: FieldResult, log: ProductLog["log"]): ProductLog["log"]["points"] {
  const { frame, boundary } = field.checked;
  const isIn = nearBox(boundary);
  return log.points.filter(({ at }) => isIn(frame.toPlane(at)));
}

const nearBox = (boundary: FieldResult["checked"]["boundary"]): ((at: Point) => boolean) => {
  const { minX, minY, maxX, maxY } = boundsOf(boundary);
  return ([x, y]) => x > minX - NEAR_M && x < maxX + NEAR_M && y > minY - NEAR_M && y < maxY + NEAR_M;
};

/** lb that went out over the pieces of a log. */
export const poundsOfPieces = (pieces: readonly LogPiece[]): number =>
  sum(pieces.map(({ start, end, widthM, lbPerAc }) => lbPerAc * acres(distance(start, end) * widthM)));

/** A log of a whole day goes over several fields; what lies off this one is in none of its figures but the meter factor of a scale, which weighs it too. */
export function readingsElsewhere(
  { field }: FieldResult,
  product: string,
  far: readonly LogPoint[],
  lb: number,
  isWeighed: boolean,
): Notice[] {
  if (far.length === 0) return [];
  const message = `${product}: ${counted(far.length, "reading")} of its log, ${numberText(lb, 0)} lb, ${far.length === 1 ? "lies" : "lie"} over ${NEAR_M} m off ${field.name} and ${far.length === 1 ? "is" : "are"} not counted here${isWeighed ? `, but in the meter factor: what the scale has as used is held against all that the log laid, there too` : ""}`;
  return [{ code: "readings-elsewhere", message, where: field.id }];
}
