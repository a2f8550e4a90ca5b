import {
  boundsOf,
  containsPoint,
  distanceToBoundary,
  type Point,
  type Polygon,
  type Ring,
} from "../geo/index.ts";
import type { Random } from "./random.ts";
import { wandering } from "./wavy-line.ts";

export type HoleKind = "waterway" | "pond" | "grove";

const CLEAR_M = 24;
const TRIES = 60;

/** The polygon with up to `kinds.length` holes, each clear of the outline and of the others; what finds no room
 * is left out. Holes are clockwise. */
export function withHoles(random: Random, polygon: Polygon, kinds: readonly HoleKind[]): Polygon {
  let result = polygon;
  for (const kind of kinds) {
    const hole = roomFor(random, result, kind);
    if (hole !== undefined) result = [...result, hole];
  }
  return result;
}

function roomFor(random: Random, polygon: Polygon, kind: HoleKind): Ring | undefined {
  const { minX, minY, maxX, maxY } = boundsOf([polygon]);
  for (let i = 0; i < TRIES; i++) {
    const middle: Point = [random.between(minX, maxX), random.between(minY, maxY)];
    const hole = holeAround(random, kind, middle);
    const fits = hole.every((p) => containsPoint([polygon], p) && distanceToBoundary([polygon], p) > CLEAR_M);
    if (fits) return hole;
  }
  return undefined;
}

/** A hole of that kind: a waterway of 11 to 16 m by 180 to 340 m, a pond, or trees around a well. */
function holeAround(random: Random, kind: HoleKind, middle: Point): Ring {
  if (kind === "waterway") {
    const length = random.between(180, 340);
    return waterway(random, middle, length, random.between(11, 16), random.between(0, Math.PI));
  }
  return kind === "pond"
    ? blob(random, middle, random.between(18, 34), 22)
    : blob(random, middle, random.between(11, 17), 9);
}

/** A grassed waterway: a slightly bent band with blunt ends, clockwise; `headingRad` counted from east. */
export function waterway(
  random: Random,
  middle: Point,
  lengthM: number,
  widthM: number,
  headingRad: number,
): Ring {
  const bend = wandering(random, -lengthM / 2, lengthM / 2, 90);
  const width = wandering(random, -lengthM / 2, lengthM / 2, 45);
  const count = Math.round(lengthM / 17);
  const cos = Math.cos(headingRad);
  const sin = Math.sin(headingRad);
  const at = (i: number, side: number): Point => {
    const along = (i / count - 0.5) * lengthM;
    const half = (i === 0 || i === count ? 0.35 : 0.5) * widthM * (1 + 0.08 * width(along));
    const off = 9 * bend(along) + side * half;
    return [middle[0] + along * cos - off * sin, middle[1] + along * sin + off * cos];
  };
  const stations = Array.from({ length: count + 1 }, (_, i) => i);
  return [...stations.map((i) => at(i, 1)), ...stations.reverse().map((i) => at(i, -1))];
}

function blob(random: Random, middle: Point, radiusM: number, count: number): Ring {
  const long = random.between(1, 1.35);
  return Array.from({ length: count }, (_, i): Point => {
    const angle = (-2 * Math.PI * i) / count;
    const radius = radiusM * random.between(0.92, 1.08);
    return [middle[0] + radius * long * Math.cos(angle), middle[1] + (radius * Math.sin(angle)) / long];
  });
}
