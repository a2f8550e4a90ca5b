import { findLag, LONGEST_GAP_M, type LogPoint } from "../../applied/index.ts";
import { InputError, type Notice } from "../../errors/index.ts";
import { type Point, polygonFinder } from "../../geo/index.ts";
import { sum } from "../../numeric/index.ts";
import type { Prescription } from "../../prescription/index.ts";
import { numberText } from "../../units/index.ts";
import type { FieldResult } from "../results/result-types.ts";
import type { ProductLog } from "./applied-types.ts";

/** Readings that say enough. */
const READINGS = 4_000;
/** Off its own map by so much of the log's mean rate, and so many times nearer to another product's, a log is doubted (ours). */
const MUCH_OFF = 0.2;
const TIMES_NEARER = 3;
/** So much more of the spread of applied rates explained by another product's map, and the same (ours). */
const EXPLAINED_MORE = 0.5;

/** A file of a log is looked at by itself from so many readings on the field on (ours). */
const MANY_OF_FILE = 100;

/** A reading on one of the field's pieces. */
interface Reading {
  readonly piece: number;
  readonly lbPerAc: number;
}

/** So many readings with rates on the field do not come to nothing (ours). */
const MANY_READINGS = 20;

/** Codes of doubts that whatever is kept for good is not to be built on. */
const GRAVE: readonly string[] = ["log-of-other-product", "same-log-twice"];

/** The doubt for which a log is not to be taken into the ledger; undefined without one. */
export const graveDoubt = (notices: readonly Notice[]): Notice | undefined =>
  notices.find(({ code }) => GRAVE.includes(code));

/**
 * Doubts about which product a log is of: it says another name, or its target rates, where it has none its applied rates
 * (`points`, cleaned), follow another product's strip map of the field far better than its own, which explains
 * `explainedByOwn` of their spread.
 */
export function logDoubts(
  field: FieldResult,
  { product, log }: ProductLog,
  points: readonly LogPoint[],
  explainedByOwn: number,
): Notice[] {
  const strip = field.prescriptions.filter((map) => map.pass === "strip");
  const own = strip.find((map) => map.product === product)!;
  const others = strip.filter((map) => map.product !== product);
  const notices: Notice[] = [];
  const add = (code: string, message: string): void => {
    notices.push({ code, message: `${product}: ${message}`, where: field.field.id });
  };
  const names = [...new Set(log.points.map((point) => point.product))];
  // The blend's own name is that of each of its ratios.
  const blend = field.laid.bins.find((bin) => bin.product.id === product)?.blend?.blend.id;
  for (const name of names.filter((one) => !["", product, blend].includes(one))) {
    if (others.some((map) => map.product === name)) add("log-of-other-product", `its log says ${name}`);
    else add("log-product-name", `its log says “${name}”; taken for ${product}`);
  }
  const find = polygonFinder(field.passes.pieces.map((piece) => piece.polygon));
  const targets = targetsOf(field, log.points, find);
  const applied = points.map(({ at, appliedLbPerAc }) => ({ piece: find(at), lbPerAc: appliedLbPerAc }));
  const readings = (targets ?? applied).filter(({ piece, lbPerAc }) => piece >= 0 && lbPerAc > 0);
  const rates = targets === null ? "applied rates" : "target rates";
  const nearer = nearerMap(readings, own, others);
  const otherFile = nearer === null ? fileOfOther(field, log.points, find, own, others) : null;
  if (nearer !== null) {
    const [offOwn, offOther] = [nearer.offOwn, nearer.offOther].map((off) => numberText(off, 1));
    add(
      "log-of-other-product",
      `the ${rates} of its log lie ${offOwn} lb/ac off the map of ${product} and ${offOther} off that of ${nearer.map.product}: look whether it is the log of ${nearer.map.product}`,
    );
  } else if (otherFile !== null) {
    const [offOwn, offOther] = [otherFile.offOwn, otherFile.offOther].map((off) => numberText(off, 1));
    add(
      "log-of-other-product",
      `of the files or layers of its log one${otherFile.began === "" ? "" : ` (from ${otherFile.began})`}, ${numberText(otherFile.count, 0)} readings, lies ${offOwn} lb/ac off the map of ${product} and ${offOther} off that of ${otherFile.map.product}: look whether it is a log of ${otherFile.map.product}`,
    );
  } else if (targets === null) {
    const explained = (map: Prescription): number =>
      findLag(points, (at: Point) => {
        const k = find(at);
        return k < 0 ? null : map.rateLbPerAc[k]!;
      }).explained;
    const other =
      explainedByOwn > 1 - EXPLAINED_MORE
        ? undefined
        : others
            .map((map) => ({ name: map.product, share: explained(map) }))
            .find(({ share }) => share > explainedByOwn + EXPLAINED_MORE);
    if (other !== undefined)
      add(
        "log-of-other-product",
        `the map of ${product} explains ${numberText(100 * explainedByOwn, 0)} % of the spread of its log's rates and that of ${other.name} ${numberText(100 * other.share, 0)} %: look whether it is the log of ${other.name}`,
      );
  }
  return notices;
}

/** Share of a log's usable readings that have to follow another one for the log to be in the order driven (ours). */
const FOLLOWING_SHARE = 0.5;

/**
 * Throws `log-gives-nothing` where many readings have rates and lie on the field and under half of those that can be used
 * follow another one (`clean`): the rest would count as ground that got nothing.
 */
export function refuseNothing(
  { field, checked, passes }: FieldResult,
  { product, log }: ProductLog,
  clean: { readonly points: readonly unknown[]; readonly pieces: readonly unknown[] },
): void {
  const [usable, following] = [clean.points.length, clean.pieces.length];
  if (following > 0 && following >= FOLLOWING_SHARE * usable) return;
  const find = polygonFinder(passes.pieces.map((piece) => piece.polygon));
  const count = log.points.filter(
    ({ at, appliedLbPerAc }) => appliedLbPerAc > 0 && find(checked.frame.toPlane(at)) >= 0,
  ).length;
  if (count < MANY_READINGS) return;
  const [how, lost] =
    following === 0
      ? ["no two of those that can be used follow each other", "nothing would count as placed"]
      : [
          `of ${numberText(usable, 0)} that can be used ${numberText(following, 0)} follow another one`,
          "the ground of the others would count as skipped",
        ];
  throw new InputError(
    "log-gives-nothing",
    `${product}: ${numberText(count, 0)} readings with rates lie on ${field.name}, and ${how} within ${LONGEST_GAP_M} m: ${lost}`,
    "Give the log as the display wrote it, in the order driven: where it was sorted otherwise, sort it by its times. It needs a reading every few seconds.",
  );
}

/** Rates on the field's pieces, of readings evenly through the work. */
function readingsOn(
  { checked }: FieldResult,
  points: Points,
  find: (at: Point) => number,
  rate: (point: Points[number]) => number,
): Reading[] {
  const every = Math.max(1, Math.ceil(points.length / READINGS));
  return points.flatMap((point, i) => {
    const piece = i % every === 0 ? find(checked.frame.toPlane(point.at)) : -1;
    return piece < 0 ? [] : [{ piece, lbPerAc: rate(point) }];
  });
}

/** Target rates on the field's pieces; null where under half of the readings there have one. */
function targetsOf(
  field: FieldResult,
  points: ProductLog["log"]["points"],
  find: (at: Point) => number,
): Reading[] | null {
  const inField = readingsOn(field, points, find, ({ targetLbPerAc }) => targetLbPerAc ?? Number.NaN);
  const told = inField.filter(({ lbPerAc }) => !Number.isNaN(lbPerAc));
  return told.length === 0 || told.length < inField.length / 2 ? null : told;
}

/** Another product's map that the readings lie far nearer to than to their own; root of the mean square, lb/ac. */
function nearerMap(
  readings: readonly Reading[],
  own: Prescription,
  others: readonly Prescription[],
): { readonly map: Prescription; readonly offOwn: number; readonly offOther: number } | null {
  if (readings.length === 0) return null;
  const off = (map: Prescription): number =>
    Math.sqrt(
      sum(readings.map(({ piece, lbPerAc }) => (lbPerAc - map.rateLbPerAc[piece]!) ** 2)) / readings.length,
    );
  const offOwn = off(own);
  if (offOwn <= (MUCH_OFF * sum(readings.map(({ lbPerAc }) => lbPerAc))) / readings.length) return null;
  const [best] = others
    .map((map) => ({ map, offOwn, offOther: off(map) }))
    .sort((a, b) => a.offOther - b.offOther);
  return best !== undefined && best.offOther * TIMES_NEARER < offOwn ? best : null;
}

/** The first of a log's files or layers that by its own rates is another product's; the rest of the log would hide it. */
function fileOfOther(
  field: FieldResult,
  points: Points,
  find: (at: Point) => number,
  own: Prescription,
  others: readonly Prescription[],
): (NonNullable<ReturnType<typeof nearerMap>> & { readonly count: number; readonly began: string }) | null {
  const files = filesOf(points);
  if (files.length < 2) return null;
  for (const file of files) {
    const targets =
      targetsOf(field, file, find) ?? readingsOn(field, file, find, (one) => one.appliedLbPerAc);
    const readings = targets.filter(({ piece, lbPerAc }) => piece >= 0 && lbPerAc > 0);
    const nearer = readings.length < MANY_OF_FILE ? null : nearerMap(readings, own, others);
    if (nearer !== null) return { ...nearer, count: file.length, began: file[0]!.time };
  }
  return null;
}

/** The readings of each file or layer of a log. */
function filesOf(points: Points): Points[number][][] {
  const files = new Map<number, Points[number][]>();
  for (const point of points) {
    const file = files.get(point.part ?? 0);
    if (file === undefined) files.set(point.part ?? 0, [point]);
    else file.push(point);
  }
  return [...files.values()];
}

/** Products given the same readings, a file or all, where they do not tell them apart themselves: one of them is another product's. */
export function sameLogTwice(logs: readonly ProductLog[], where: string): Notice[] {
  return logs.flatMap((one, i) =>
    logs.slice(i + 1).flatMap((two) => {
      if (one.product === two.product) return [];
      const [all, others] = [filesOf(one.log.points), filesOf(two.log.points)];
      const same = all.find((file) => others.some((other) => isSame(file, other)));
      if (same === undefined) return [];
      const isWhole = all.length === 1 && others.length === 1;
      const began = same[0]!.time === "" ? "" : ` (from ${same[0]!.time})`;
      const log = isWhole ? "the same log" : `the same log among others, ${same.length} readings${began}`;
      const message = `${one.product} and ${two.product} were given ${log}, reading for reading: it can be of one of them alone`;
      return [{ code: "same-log-twice", message, where }];
    }),
  );
}

type Points = ProductLog["log"]["points"];

const isSame = (one: Points, two: Points): boolean =>
  one.length === two.length &&
  one.every((a, i) => {
    const b = two[i]!;
    return (
      a.product === b.product &&
      a.at[0] === b.at[0] &&
      a.at[1] === b.at[1] &&
      a.time === b.time &&
      a.appliedLbPerAc === b.appliedLbPerAc
    );
  });
