import { distance, type Point } from "../geo/index.ts";
import type { LogPiece } from "./log-types.ts";

/** Test points in rows and columns: the first stands half a step from the corner both ways. */
export interface TestGrid {
  readonly corner: Point;
  readonly stepM: Point;
}

/**
 * Column and row of the test points in the rectangle that a piece covers, at least the one nearest its middle. The early end
 * counts, the late end does not.
 */
export function pointsInRectangle(
  { start, end, widthM }: Pick<LogPiece, "start" | "end" | "widthM">,
  { corner, stepM }: TestGrid,
): (readonly [number, number])[] {
  const [[minX, minY], [stepX, stepY]] = [corner, stepM];
  const length = distance(start, end);
  const middle = [
    Math.floor(((start[0] + end[0]) / 2 - minX) / stepX),
    Math.floor(((start[1] + end[1]) / 2 - minY) / stepY),
  ] as const;
  if (length === 0) return [middle];
  const [u, v] = [(end[0] - start[0]) / length, (end[1] - start[1]) / length];
  const half = widthM / 2;
  const reach = (axis: 0 | 1): readonly [number, number] => {
    const across = Math.abs(axis === 0 ? v : u) * half;
    const step = stepM[axis];
    return [
      Math.floor((Math.min(start[axis], end[axis]) - across - corner[axis]) / step) - 1,
      Math.ceil((Math.max(start[axis], end[axis]) + across - corner[axis]) / step) + 1,
    ];
  };
  const found: (readonly [number, number])[] = [];
  const [fromC, toC] = reach(0);
  const [fromR, toR] = reach(1);
  for (let c = fromC; c <= toC; c++) {
    for (let r = fromR; r <= toR; r++) {
      const x = minX + (c + 0.5) * stepX - start[0];
      const y = minY + (r + 0.5) * stepY - start[1];
      const along = x * u + y * v;
      const right = x * v - y * u;
      if (along >= 0 && along < length && right >= -half && right < half) found.push([c, r]);
    }
  }
  return found.length > 0 ? found : [middle];
}
