import { boundsOf, distanceToBoundary, type Point, type Ring } from "../geo/index.ts";

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

/** The line A-B through `middle`, A at its back end; heading in degrees clockwise from north. */
export function lineThrough(middle: Point, headingDeg: number, lengthM: number): [Point, Point] {
  const [dx, dy] = turned([0, lengthM / 2], headingDeg);
  return [
    [middle[0] - dx, middle[1] - dy],
    [middle[0] + dx, middle[1] + dy],
  ];
}

/** Rings farther away than this do not count. */
const FARTHEST_M = 400;

/** To the nearest edge of any of the rings, m; 400 where none is nearer. */
export function distanceToRings(rings: readonly Ring[]): (x: number, y: number) => number {
  const boxes = rings.map((ring) => boundsOf([[ring]]));
  return (x, y) => {
    let least = FARTHEST_M;
    rings.forEach((ring, r) => {
      const { minX, minY, maxX, maxY } = boxes[r]!;
      if (x < minX - least || x > maxX + least || y < minY - least || y > maxY + least) return;
      least = Math.min(least, distanceToBoundary([[ring]], [x, y]));
    });
    return least;
  };
}
