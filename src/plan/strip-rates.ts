import { InputError, type Notice } from "../errors/index.ts";
import { sum } from "../numeric/index.ts";
import { type Ground, stepSegment } from "../prescription/index.ts";
import { type MapLimits, meetLimits } from "../strips/index.ts";
import type { Plan, PlanField } from "./document-types.ts";
import type { LaidPasses } from "./drive-result-types.ts";
import { groundOf } from "./map-ground.ts";
import { rigDrive } from "./rig-drive.ts";
import { cappedMaps, type StretchedMap, stretchMap } from "./stretch-passes.ts";
import type { MeterLimits } from "./strip-limits.ts";

/** Rates as a map takes them, lb product/ac, a piece each. */
export interface RatedPieces {
  readonly rateLbPerAc: Float64Array;
  readonly stretchOf?: Int32Array;
}

interface StripRates {
  readonly maps: readonly RatedPieces[];
  readonly notices: readonly Notice[];
}

/**
 * The rates of all products over the pieces of the passes, from the means wanted there: a step for every piece, or
 * stretches that the meters can follow and, where the plan tells its limits, the controller can load.
 */
export function stripRates(
  plan: Plan,
  field: PlanField,
  passes: LaidPasses,
  means: readonly Float64Array[],
  mostLbPerAc: number,
  meters: readonly MeterLimits[],
): StripRates {
  const { shortestStretchM, leadM } = rigDrive(plan.rig);
  if (shortestStretchM === null)
    return { maps: steppedPieces(plan, passes, means, mostLbPerAc, meters), notices: [] };
  const stepLbPerAc = plan.rig.rateStepLbPerAc;
  const notices: Notice[] = [];
  const stretched = means.map((mean) =>
    withinLimits(plan, field, passes, shortestStretchM, notices, (shortestM) =>
      stretchMap(passes, mean, { shortestM, stepLbPerAc, leadM }),
    ),
  );
  const capped = cappedMaps(stretched, stepLbPerAc, mostLbPerAc);
  const maps = capped.map((map, b) => ({
    ...map,
    rateLbPerAc: map.rateLbPerAc.map((rate) => withinMeter(rate, meters[b]!, stepLbPerAc)),
  }));
  return { maps: cappedByMeter(maps, capped, mostLbPerAc), notices };
}

function steppedPieces(
  plan: Plan,
  passes: LaidPasses,
  means: readonly Float64Array[],
  mostLbPerAc: number,
  meters: readonly MeterLimits[],
): readonly RatedPieces[] {
  const { rateStepLbPerAc } = plan.rig;
  const stepped = means.map((mean) => new Float64Array(mean.length));
  passes.pieces.forEach(({ keptOff }, k) => {
    if (keptOff) return;
    const rates = stepSegment(
      means.map((mean) => mean[k]!),
      rateStepLbPerAc,
      mostLbPerAc,
    );
    rates.forEach((rate, product) => {
      stepped[product]![k] = rate;
    });
  });
  const maps = stepped.map((rateLbPerAc) => ({ rateLbPerAc }));
  const metered = maps.map(({ rateLbPerAc }, b) => ({
    rateLbPerAc: rateLbPerAc.map((rate) => withinMeter(rate, meters[b]!, rateStepLbPerAc)),
  }));
  return cappedByMeter(metered, maps, mostLbPerAc);
}

/** The nearest step that the meter can lay, or nothing. */
function withinMeter(rate: number, { leastLbPerAc, mostLbPerAc }: MeterLimits, step: number): number {
  if (rate > mostLbPerAc) return Math.floor(mostLbPerAc / step + 1e-9) * step;
  if (rate > 0 && rate < leastLbPerAc)
    return rate >= leastLbPerAc / 2 ? Math.ceil(leastLbPerAc / step - 1e-9) * step : 0;
  return rate;
}

/** Raised to a meter's least a rate may break the cap of every place: it is not laid at all there. */
function cappedByMeter<Map extends RatedPieces>(
  metered: readonly Map[],
  before: readonly RatedPieces[],
  mostLbPerAc: number,
): readonly Map[] {
  if (mostLbPerAc === Number.POSITIVE_INFINITY) return metered;
  const count = metered[0]?.rateLbPerAc.length ?? 0;
  const breaks = Array.from(
    { length: count },
    (_, k) => metered.reduce((all, map) => all + map.rateLbPerAc[k]!, 0) > mostLbPerAc + 1e-9,
  );
  return metered.map((map, b) => ({
    ...map,
    rateLbPerAc: map.rateLbPerAc.map((rate, k) =>
      breaks[k] && rate > before[b]!.rateLbPerAc[k]! + 1e-9 ? 0 : rate,
    ),
  }));
}

/** The finest map the controller takes; its limits are looked at only where the plan tells them. */
function withinLimits(
  plan: Plan,
  field: PlanField,
  passes: LaidPasses,
  shortestM: number,
  notices: Notice[],
  mapAt: (shortestM: number) => StretchedMap,
): StretchedMap {
  const { mostPolygons, mostBytes } = plan.controller ?? {};
  if (mostPolygons === undefined && mostBytes === undefined) return mapAt(shortestM);
  const limits: MapLimits = {
    ...(mostPolygons === undefined ? {} : { polygons: mostPolygons }),
    ...(mostBytes === undefined ? {} : { bytes: mostBytes }),
  };
  const sized = (lengthM: number) => {
    const map = mapAt(lengthM);
    const ground = groundOf(plan, map, passes);
    const totalLb = sum(map.rateLbPerAc.map((rate, k) => rate * passes.areaAc[k]!));
    return { ...sizeOf(ground), totalLb, stretched: map };
  };
  try {
    const met = meetLimits(limits, shortestM, sized);
    notices.push(...met.notices.map((notice) => ({ ...notice, where: field.id })));
    return met.map.stretched;
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    notices.push({ code: error.code, message: `${error.message} ${error.remedy}`, where: field.id });
    return mapAt(shortestM);
  }
}

/** Bytes are those of the .shp: 100 of head, 52 a record, 4 a ring, 16 a vertex, the closing one counted. */
function sizeOf({ polygons }: Ground): { polygons: number; vertices: number; bytes: number } {
  let vertices = 0;
  let rings = 0;
  for (const polygon of polygons) {
    rings += polygon.length;
    for (const ring of polygon) vertices += ring.length + 1;
  }
  return {
    polygons: polygons.length,
    vertices,
    bytes: 100 + 52 * polygons.length + 4 * rings + 16 * vertices,
  };
}
