import { findLag, type LogPoint } from "../../applied/index.ts";
import { type Point, polygonFinder } from "../../geo/index.ts";
import { median } from "../../interpolate/index.ts";
import type { Prescription } from "../../prescription/index.ts";
import type { FieldResult } from "../results/result-types.ts";
import type { LagOfLog } from "./applied-types.ts";

/** Readings that say enough about the lag. */
const LAG_READINGS = 4_000;

/** A target is the map's where it is as near to the map's rate, times the pass's own factor, at so many seconds at most before or after (ours). */
const NEAR_LB_PER_AC = 1;
const NEAR_SHARE = 0.03;
const AHEAD_S = 3;
/** A pass with fewer of its targets the map's was driven by another map (ours). */
const SHARE_OF_MAP = 0.9;
/** Of a log of another map single passes may be as this map has them; from so much of the readings on a part was driven by it (ours). */
const LEAST_DRIVEN = 0.15;

/**
 * How late a log's meter follows its product's map of the field (`points`, cleaned). Where the log tells target rates, by the passes
 * whose targets are this map's, up to a factor; without seconds where none is.
 */
export function lagOfLog({ passes }: FieldResult, map: Prescription, points: readonly LogPoint[]): LagOfLog {
  const find = polygonFinder(passes.pieces.map((piece) => piece.polygon));
  const planned = (at: Point): number | null => {
    const k = find(at);
    return k < 0 ? null : map.rateLbPerAc[k]!;
  };
  const some = readingsForLag(points);
  const told = some.filter(({ seconds, targetLbPerAc = null }) => seconds !== null && targetLbPerAc !== null);
  if (2 * told.length < some.length) return { ...findLag(some, planned), isOfOtherMap: false };
  const judged = byPass(some).map((pass) => ({ pass, isDriven: isByMap(pass, planned) }));
  const passesWhere = (is: boolean): LogPoint[] =>
    judged.filter(({ isDriven }) => isDriven === is).flatMap(({ pass }) => pass);
  const [driven, others] = [passesWhere(true), passesWhere(false)];
  const lag = findLag(driven, planned);
  const isOfOtherMap = others.length > 0 && driven.length < LEAST_DRIVEN * (driven.length + others.length);
  return isOfOtherMap ? { ...lag, lagSeconds: Number.NaN, isOfOtherMap } : { ...lag, isOfOtherMap };
}

/** Whole passes of a log, evenly through the work, that say enough about its lag. */
export function readingsForLag(points: readonly LogPoint[]): LogPoint[] {
  const every = Math.max(1, Math.ceil(points.length / LAG_READINGS));
  return byPass(points)
    .filter((_, place) => place % every === 0)
    .flat();
}

function byPass(points: readonly LogPoint[]): LogPoint[][] {
  const passes = new Map<number, LogPoint[]>();
  for (const point of points) {
    const own = passes.get(point.pass);
    if (own === undefined) passes.set(point.pass, [point]);
    else own.push(point);
  }
  return [...passes.values()];
}

/**
 * Whether a pass's target rates are a map's; null where no reading says so, each of target 0: that may be a shut section's.
 * Controllers look ahead of the rig, and displays write late.
 */
function isByMap(pass: readonly LogPoint[], planned: (at: Point) => number | null): boolean | null {
  const readings = pass.flatMap(({ at, seconds, targetLbPerAc = null }) => {
    const rate = planned(at);
    if (rate === null || !targetLbPerAc) return [];
    return [{ seconds: seconds ?? Number.NaN, rate, target: targetLbPerAc }];
  });
  if (readings.length === 0) return null;
  const rated = readings.filter(({ rate }) => rate > 0);
  const factor = rated.length === 0 ? 0 : median(rated.map(({ rate, target }) => target / rate));
  const isNear = (target: number, rate: number): boolean =>
    Math.abs(target - factor * rate) <= Math.max(NEAR_LB_PER_AC, NEAR_SHARE * target);
  const near = readings.filter(({ target, seconds }, i) => {
    for (const step of [-1, 1])
      for (let j = i; readings[j] !== undefined; j += step) {
        if (isNear(target, readings[j]!.rate)) return true;
        if (!(Math.abs(readings[j]!.seconds - seconds) < AHEAD_S)) break;
      }
    return false;
  });
  return near.length >= SHARE_OF_MAP * readings.length;
}
