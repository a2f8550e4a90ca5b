import { boundsOf, containsPoint, distanceToBoundary, type MultiPolygon, type Point } from "../geo/index.ts";
import { squareMetres } from "../units/index.ts";
import type { Random } from "./random.ts";

/** One sample for each square of this size, the usual most a sample should stand for (extension guidance). */
const AC_PER_SAMPLE = 2.5;
/** Samples keep away from edges, where old bands and turning rows are. */
export const CLEAR_OF_EDGE_M = 15;
/** Side of a square, 330 ft. */
const CELL_M = Math.sqrt(squareMetres(AC_PER_SAMPLE));
/** A square with less of the field than this gets no sample. */
const LEAST_SHARE = 0.4;
const TRIES = 16;

/**
 * Where samples were taken: one in each square, unaligned (anywhere in the square's middle 70 %), west to east
 * and south to north. Points in the plane of the polygons, m.
 */
export function samplePlaces(random: Random, field: MultiPolygon): Point[] {
  const { minX, minY, maxX, maxY } = boundsOf(field);
  const places: Point[] = [];
  for (let y = minY; y < maxY; y += CELL_M) {
    for (let x = minX; x < maxX; x += CELL_M) {
      if (shareInside(field, x, y) < LEAST_SHARE) continue;
      const place = placeInSquare(random, field, x, y);
      if (place !== undefined) places.push(place);
    }
  }
  return places;
}

function placeInSquare(random: Random, field: MultiPolygon, x: number, y: number): Point | undefined {
  for (let i = 0; i < TRIES; i++) {
    const place: Point = [x + CELL_M * random.between(0.15, 0.85), y + CELL_M * random.between(0.15, 0.85)];
    if (containsPoint(field, place) && distanceToBoundary(field, place) >= CLEAR_OF_EDGE_M) return place;
  }
  return undefined;
}

function shareInside(field: MultiPolygon, x: number, y: number): number {
  let inside = 0;
  for (let i = 0; i < 25; i++) {
    const point: Point = [x + (((i % 5) + 0.5) / 5) * CELL_M, y + ((Math.floor(i / 5) + 0.5) / 5) * CELL_M];
    if (containsPoint(field, point)) inside++;
  }
  return inside / 25;
}
