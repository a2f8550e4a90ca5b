import type { MultiPolygon, Point } from "./types.ts";

/** Square of the distance from a point to the stretch between two others. */
export const squaredDistanceToEdge = (
  x: number,
  y: number,
  ax: number,
  ay: number,
  bx: number,
  by: number,
): number => {
  const alongX = bx - ax;
  const alongY = by - ay;
  const length2 = alongX * alongX + alongY * alongY;
  const share = length2 > 0 ? ((x - ax) * alongX + (y - ay) * alongY) / length2 : 0;
  const at = Math.min(1, Math.max(0, share));
  const offX = x - ax - at * alongX;
  const offY = y - ay - at * alongY;
  return offX * offX + offY * offY;
};

/** Distance to the nearest edge of any ring, m, from inside or outside; infinite when there is no edge. */
export const distanceToBoundary = (area: MultiPolygon, [x, y]: Point): number => {
  let nearest = Number.POSITIVE_INFINITY;
  for (const polygon of area) {
    for (const ring of polygon) {
      let from = ring[ring.length - 1]!;
      for (const to of ring) {
        const squared = squaredDistanceToEdge(x, y, from[0], from[1], to[0], to[1]);
        if (squared < nearest) nearest = squared;
        from = to;
      }
    }
  }
  return Math.sqrt(nearest);
};

/** Distance from a point to the nearest place of an open line, m; infinite for fewer than two points. */
export const distanceToLine = (line: readonly Point[], [x, y]: Point): number => {
  let nearest = Number.POSITIVE_INFINITY;
  line.forEach(([bx, by], i) => {
    if (i === 0) return;
    const [ax, ay] = line[i - 1]!;
    nearest = Math.min(nearest, squaredDistanceToEdge(x, y, ax, ay, bx, by));
  });
  return Math.sqrt(nearest);
};
