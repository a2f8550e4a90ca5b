import { polygonFinder } from "../../src/geo/index.ts";
import type { FieldResult, Plan } from "../../src/plan/index.ts";
import { workedPasses } from "../../src/plan/index.ts";

export interface DrivenTruth {
  /** Places in working order of passes that are left out. */
  readonly skips?: readonly number[];
  /** Places in working order of passes that are driven with the bin shut: readings of 0. */
  readonly shut?: readonly number[];
  /** Seconds by which the meter follows the map. */
  readonly lagS?: number;
  /** Passes driven at all; every one when left out. */
  readonly upTo?: number;
}

export interface DrivenPoint {
  readonly lonLat: readonly [number, number];
  readonly seconds: number;
  readonly target: number;
  readonly applied: number;
}

const M_PER_S = 7 * 0.44704;

/** A log as a rig would write it that drives the field by its map of one bin: a reading a second, turns without any. */
export function driveField(
  plan: Plan,
  field: FieldResult,
  bin: number,
  truth: DrivenTruth = {},
): DrivenPoint[] {
  const { skips = [], shut = [], lagS = 0, upTo = Number.POSITIVE_INFINITY } = truth;
  const map = field.prescriptions.filter((one) => one.pass === "strip")[bin]!;
  const find = polygonFinder(field.passes.pieces.map((piece) => piece.polygon));
  const rateAt = (at: readonly [number, number]): number | null => {
    const k = find([at[0], at[1]]);
    return k < 0 ? null : map.rateLbPerAc[k]!;
  };
  let seconds = 0;
  return workedPasses(plan, field).flatMap((pass, k) => {
    seconds += 30;
    if (skips.includes(k) || k >= upTo) return [];
    const { start, end, lengthM } = pass;
    const [u, v] = [(end[0] - start[0]) / lengthM, (end[1] - start[1]) / lengthM];
    const at = (metres: number): [number, number] => [start[0] + u * metres, start[1] + v * metres];
    const points: DrivenPoint[] = [];
    for (let metres = 0; metres <= lengthM; metres += M_PER_S) {
      seconds++;
      const here = at(metres);
      const target = rateAt(here) ?? 0;
      const open = rateAt(at(Math.max(0.1, metres - lagS * M_PER_S))) ?? target;
      const applied = shut.includes(k) ? 0 : open;
      const [lon, lat] = field.checked.frame.toLonLat(here);
      points.push({ lonLat: [lon, lat], seconds, target, applied });
    }
    return points;
  });
}

/** The log as a CSV. */
export function logCsv(points: readonly DrivenPoint[], product: string, widthFt = 30): string {
  const rows = points.map(({ lonLat, seconds, target, applied }) => {
    const time = new Date(Date.UTC(2027, 3, 18, 8) + 1000 * seconds).toISOString().replace(".000Z", "Z");
    return [
      time,
      lonLat[0].toFixed(8),
      lonLat[1].toFixed(8),
      `${widthFt}`,
      target.toFixed(1),
      applied.toFixed(1),
      product,
    ].join(",");
  });
  return `${["Time,Longitude,Latitude,Width_ft,Target_lb_ac,Applied_lb_ac,Product", ...rows].join("\r\n")}\r\n`;
}
