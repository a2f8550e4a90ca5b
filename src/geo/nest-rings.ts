import { boundsOf } from "./bounds.ts";
import { boxHolds, liesInside } from "./lies-inside.ts";
import { ringArea } from "./plane-area.ts";
import type { MultiPolygon, Ring } from "./types.ts";

/**
 * Polygons out of loose rings, by containment alone: a ring inside an even number of others is an outer ring, inside an
 * odd number a hole of the smallest outer ring round it. Which way a ring runs is not trusted (files with reversed rings
 * exist); the result is oriented, outer rings in the order given. Rings may touch at vertices but not cross.
 */
export const nestRings = (rings: readonly Ring[]): MultiPolygon => {
  const areas = rings.map(ringArea);
  const sizes = areas.map(Math.abs);
  const boxes = rings.map((ring) => boundsOf([[ring]]));
  const around = rings.map((ring, inner) =>
    rings.flatMap((other, outer) =>
      sizes[outer]! > sizes[inner]! && boxHolds(boxes[outer]!, boxes[inner]!) && liesInside(ring, other)
        ? [outer]
        : [],
    ),
  );
  const isOuter = (index: number): boolean => around[index]!.length % 2 === 0;
  const polygons = new Map<number, Ring[]>();
  rings.forEach((ring, index) => {
    if (isOuter(index)) polygons.set(index, [areas[index]! > 0 ? ring : ring.toReversed()]);
  });
  rings.forEach((ring, index) => {
    if (isOuter(index)) return;
    const home = around[index]!.filter(isOuter).reduce((a, b) => (sizes[a]! <= sizes[b]! ? a : b));
    polygons.get(home)!.push(areas[index]! < 0 ? ring : ring.toReversed());
  });
  return [...polygons.values()];
};
