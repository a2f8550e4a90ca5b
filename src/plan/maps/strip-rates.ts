import { InputError, inOneLine, type Notice } from "../../errors/index.ts";
import { shpBytes } from "../../formats/index.ts";
import { sum } from "../../numeric/index.ts";
import { type Ground, stepSegment } from "../../prescription/index.ts";
import { type MapLimits, meetLimits } from "../../strips/index.ts";
import type { Plan, PlanField } from "../document/document-types.ts";
import type { LaidPasses } from "../results/drive-result-types.ts";
import { rigDrive } from "../rig/rig-drive.ts";
import { groundOf } from "./map-ground.ts";
import { cappedMaps, type StretchedMap, stretchMap } from "./stretch-passes.ts";

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
): StripRates {
  const { shortestStretchM, leadM } = rigDrive(plan.rig);
  if (shortestStretchM === null)
    return { maps: steppedPieces(plan, passes, means, mostLbPerAc), notices: [] };
  const stepLbPerAc = plan.rig.rateStepLbPerAc;
  const notices: Notice[] = [];
  const stretched = means.map((mean) =>
    withinLimits(plan, field, passes, shortestStretchM, notices, (shortestM) =>
      stretchMap(passes, mean, { shortestM, stepLbPerAc, leadM }),
    ),
  );
  return { maps: cappedMaps(stretched, stepLbPerAc, mostLbPerAc), notices };
}

function steppedPieces(
  plan: Plan,
  passes: LaidPasses,
  means: readonly Float64Array[],
  mostLbPerAc: number,
): RatedPieces[] {
  const stepped = means.map((mean) => new Float64Array(mean.length));
  passes.pieces.forEach(({ keptOff }, k) => {
    if (keptOff) return;
    const rates = stepSegment(
      means.map((mean) => mean[k]!),
      plan.rig.rateStepLbPerAc,
      mostLbPerAc,
    );
    rates.forEach((rate, product) => {
      stepped[product]![k] = rate;
    });
  });
  return stepped.map((rateLbPerAc) => ({ rateLbPerAc }));
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
    notices.push(
      ...met.notices.map((one) => ({ ...one, message: `${field.name}: ${one.message}`, where: field.id })),
    );
    return met.map.stretched;
  } catch (error) {
    if (!(error instanceof InputError)) throw error;
    notices.push({ code: error.code, message: `${field.name}: ${inOneLine(error)}`, where: field.id });
    return mapAt(shortestM);
  }
}

function sizeOf({ polygons }: Ground): { polygons: number; vertices: number; bytes: number } {
  const vertices = polygons.reduce(
    (count, polygon) => polygon.reduce((all, ring) => all + ring.length + 1, count),
    0,
  );
  return { polygons: polygons.length, vertices, bytes: shpBytes(polygons) };
}
