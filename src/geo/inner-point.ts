import { boundsOf } from "./bounds.ts";
import { polygonArea } from "./plane-area.ts";
import type { MultiPolygon, Point } from "./types.ts";

/**
 * A point well inside an area: the middle of the longest stretch of land on a level line through its largest part.
 * Undefined for an area without land.
 */
export function innerPoint(area: MultiPolygon): Point | undefined {
  const largest = area.toSorted((a, b) => Math.abs(polygonArea(b)) - Math.abs(polygonArea(a)))[0];
  if (largest === undefined) return undefined;
  const { minY, maxY } = boundsOf([largest]);
  let best: { readonly point: Point; readonly lengthM: number } | undefined;
  // Odd shares, so that a line seldom runs along a vertex.
  for (const share of [0.503, 0.297, 0.711, 0.107, 0.893]) {
    const y = minY + share * (maxY - minY);
    const crossings = largest.flatMap((ring) =>
      ring.flatMap((to, i) => {
        const from = ring.at(i - 1)!;
        if (from[1] > y === to[1] > y) return [];
        return [from[0] + ((y - from[1]) / (to[1] - from[1])) * (to[0] - from[0])];
      }),
    );
    crossings.sort((a, b) => a - b);
    for (let i = 0; i + 1 < crossings.length; i += 2) {
      const lengthM = crossings[i + 1]! - crossings[i]!;
      if (lengthM > (best?.lengthM ?? 0))
        best = { point: [(crossings[i]! + crossings[i + 1]!) / 2, y], lengthM };
    }
  }
  return best?.point;
}
