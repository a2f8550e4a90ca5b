import { type Frame, fieldFrame } from "../geo/index.ts";
import { gaussianField, type Surface } from "./gaussian-field.ts";
import type { Land } from "./land.ts";
import { randomStream } from "./random.ts";
import type { Seed, SeedSurface } from "./seed-types.ts";

/** What the soil is at a place; no file holds it. */
export interface SoilAt {
  readonly pPpm: number;
  readonly kPpm: number;
  readonly cecMeqPer100g: number;
  /** Height against its surroundings, in sds of the relief. */
  readonly relief: number;
  /** 0 off the eroded knolls to 1 on their tops. */
  readonly knoll: number;
  /** 0 off the heavy bottoms to 1 in them. */
  readonly bottom: number;
}

export interface Truth {
  /** Soil at a place of the farm, WGS84 degrees. */
  at(lonDeg: number, latDeg: number): SoilAt;
  /** Soil at a place in the farm's plane, m. */
  atPlane(x: number, y: number): SoilAt;
  readonly frame: Frame;
}

const KNOLL_FROM = 0.5;
const BOTTOM_FROM = -0.4;
/** How deep a creek or waterway lies below its surroundings, in sds of the relief, and how far that reaches. */
const CREEK_DEPTH = 1.4;
const CREEK_REACH_M = 90;

/** The true surfaces of a seed; `land` says where water runs and how the plane is turned. */
export function trueSoil(seed: Seed, land: Land): Truth {
  const { soil } = seed;
  const relief = gaussianField(randomStream(seed.seed, "relief"), {
    type: "gaussian",
    scaleM: soil.reliefScaleM,
  });
  const p = lnDeviation(seed, "P", soil.P);
  const k = lnDeviation(seed, "K", soil.K);
  const cec = lnDeviation(seed, "CEC", soil.CEC);
  const atPlane = (x: number, y: number): SoilAt => {
    const fromWater = land.distanceToWater(x, y) / CREEK_REACH_M;
    const height = relief(x, y) - CREEK_DEPTH * Math.exp(-fromWater * fromWater);
    const knoll = rising((height - KNOLL_FROM) / 1.2);
    const bottom = rising((BOTTOM_FROM - height) / 1.2);
    const value = (surface: SeedSurface, deviation: Surface): number => {
      const ln = deviation(x, y) + surface.onKnolls * knoll + surface.inBottoms * bottom;
      return Math.max(surface.least, Math.min(surface.most, surface.median * Math.exp(ln)));
    };
    return {
      pPpm: value(soil.P, p),
      kPpm: value(soil.K, k),
      cecMeqPer100g: value(soil.CEC, cec),
      relief: height,
      knoll,
      bottom,
    };
  };
  const frame = fieldFrame(seed.place.lonDeg, seed.place.latDeg);
  return { frame, atPlane, at: (lonDeg, latDeg) => atPlane(...frame.toPlane([lonDeg, latDeg])) };
}

function lnDeviation(seed: Seed, test: string, surface: SeedSurface): Surface {
  const near = gaussianField(randomStream(seed.seed, `soil/${test}`), {
    type: "exponential",
    scaleM: surface.scaleM,
  });
  if (surface.farmSd === 0) return (x, y) => surface.sd * near(x, y);
  const wide = gaussianField(randomStream(seed.seed, `farm/${test}`), {
    type: "exponential",
    scaleM: surface.farmScaleM,
  });
  return (x, y) => surface.sd * near(x, y) + surface.farmSd * wide(x, y);
}

/** 0 below 0, 1 above 1, smooth between. */
function rising(t: number): number {
  const held = Math.max(0, Math.min(1, t));
  return held * held * (3 - 2 * held);
}
