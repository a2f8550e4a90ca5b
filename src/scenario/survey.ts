import { distance, distanceToLine, type Point, type Ring } from "../geo/index.ts";
import type { Random } from "./random.ts";

/** How a boundary was taken up: every `everyM` along straight edges, each place off by about `errorM`. */
export interface Survey {
  readonly everyM: number;
  readonly errorM: number;
  /** Bends smaller than this are lost. */
  readonly toleranceM: number;
}

const CLOSEST_M = 2.5;
const LEAST_PLACES = 14;

/** The ring as somebody would have taken it up: simplified, with places on long edges, off by a slow drift. */
export function surveyed(random: Random, ring: Ring, survey: Survey): Ring {
  const corners = simplified(ring, survey.toleranceM);
  const places = spaced(corners, Math.min(survey.everyM, perimeter(corners) / LEAST_PLACES));
  let east = random.normal();
  let north = random.normal();
  const keep = 0.75;
  const fresh = Math.sqrt(1 - keep * keep);
  const held = (drift: number): number => Math.max(-2, Math.min(2, drift)) * survey.errorM;
  return places.map(([x, y]): Point => {
    east = keep * east + fresh * random.normal();
    north = keep * north + fresh * random.normal();
    return [x + held(east), y + held(north)];
  });
}

/** Douglas and Peucker's simplification of a ring, from its two vertices that lie farthest apart west to east. */
function simplified(ring: Ring, toleranceM: number): Ring {
  let first = 0;
  let far = 0;
  ring.forEach(([x], i) => {
    if (x < ring[first]![0]) first = i;
    if (x > ring[far]![0]) far = i;
  });
  const from = [...ring.slice(first), ...ring.slice(0, first)];
  const split = (far - first + ring.length) % ring.length;
  const there = chain(from.slice(0, split + 1), toleranceM);
  const back = chain([...from.slice(split), from[0]!], toleranceM);
  return apart([...there.slice(0, -1), ...back.slice(0, -1)]);
}

function chain(points: readonly Point[], toleranceM: number): Point[] {
  const a = points[0]!;
  const b = points.at(-1)!;
  let worst = 0;
  let at = 0;
  for (let i = 1; i < points.length - 1; i++) {
    const away = distanceToLine([a, b], points[i]!);
    if (away > worst) {
      worst = away;
      at = i;
    }
  }
  if (worst <= toleranceM) return [a, b];
  return [...chain(points.slice(0, at + 1), toleranceM).slice(0, -1), ...chain(points.slice(at), toleranceM)];
}

/** Without vertices that lie closer than 2.5 m to the one before. */
function apart(ring: Ring): Ring {
  return ring.filter((point, i) => distance(point, ring.at(i - 1)!) >= CLOSEST_M);
}

function perimeter(ring: Ring): number {
  return ring.reduce((sum, point, i) => sum + distance(ring.at(i - 1)!, point), 0);
}

function spaced(ring: Ring, everyM: number): Ring {
  return ring.flatMap((point, i): Point[] => {
    const next = ring[(i + 1) % ring.length]!;
    const [[x, y], [nx, ny]] = [point, next];
    const count = Math.max(1, Math.round(distance(point, next) / everyM));
    return Array.from(
      { length: count },
      (_, j): Point => [x + ((nx - x) * j) / count, y + ((ny - y) * j) / count],
    );
  });
}
