import { type MultiPolygon, multiPolygonArea, type Point, type Ring, ringArea } from "../geo/index.ts";
import { distanceToSegment } from "./survey.ts";

export interface Box {
  readonly west: number;
  readonly south: number;
  readonly east: number;
  readonly north: number;
}

export function boxOf(rings: Iterable<Ring>): Box {
  const points = [...rings].flat();
  const xs = points.map(([x]) => x);
  const ys = points.map(([, y]) => y);
  return { west: Math.min(...xs), south: Math.min(...ys), east: Math.max(...xs), north: Math.max(...ys) };
}

export const middleOf = (box: Box): Point => [(box.west + box.east) / 2, (box.south + box.north) / 2];

/** Centre of gravity of a ring's inside. */
export function centroid(ring: Ring): Point {
  const [x0, y0] = ring[0]!;
  let twice = 0;
  let sumX = 0;
  let sumY = 0;
  ring.forEach(([x, y], i) => {
    const [nx, ny] = ring[(i + 1) % ring.length]!;
    const cross = (x - x0) * (ny - y0) - (nx - x0) * (y - y0);
    twice += cross;
    sumX += cross * (x + nx - 2 * x0);
    sumY += cross * (y + ny - 2 * y0);
  });
  return [x0 + sumX / (3 * twice), y0 + sumY / (3 * twice)];
}

/** Turned about 0, 0, degrees clockwise. */
export function turned([x, y]: Point, clockwiseDeg: number): Point {
  const angle = (-clockwiseDeg * Math.PI) / 180;
  const cos = Math.cos(angle);
  const sin = Math.sin(angle);
  return [x * cos - y * sin, x * sin + y * cos];
}

export const turnedAll = (polygons: MultiPolygon, clockwiseDeg: number): MultiPolygon =>
  polygons.map((polygon) => polygon.map((ring) => ring.map((point) => turned(point, clockwiseDeg))));

/** The line A-B through `middle`, A at its back end; heading in degrees clockwise from north. */
export function lineThrough(middle: Point, headingDeg: number, lengthM: number): [Point, Point] {
  const [dx, dy] = turned([0, lengthM / 2], headingDeg);
  return [
    [middle[0] - dx, middle[1] - dy],
    [middle[0] + dx, middle[1] + dy],
  ];
}

/** To the nearest edge of any of the rings, m; rings whose box lies farther than 400 m count as 400 m away. */
export function distanceToRings(rings: readonly Ring[]): (x: number, y: number) => number {
  const boxes = rings.map((ring) => boxOf([ring]));
  return (x, y) => {
    let least = 400;
    rings.forEach((ring, r) => {
      const { west, south, east, north } = boxes[r]!;
      if (x < west - least || x > east + least || y < south - least || y > north + least) return;
      ring.forEach((point, i) => {
        least = Math.min(least, distanceToSegment([x, y], point, ring[(i + 1) % ring.length]!));
      });
    });
    return least;
  };
}

export const ringAreaM2 = (ring: Ring): number => Math.abs(ringArea(ring));
export const polygonsAreaM2 = (polygons: MultiPolygon): number => multiPolygonArea(polygons);
