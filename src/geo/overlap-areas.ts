import { boundsOf } from "./bounds.ts";
import { ellipsoidArea } from "./ellipsoid-area.ts";
import { fillRings } from "./fill-rings.ts";
import type { MultiPolygon } from "./types.ts";

interface OverlapArea {
  /** Numbers, from 0, of the two that lie over one another; `one` is the lower. */
  readonly one: number;
  readonly other: number;
  readonly areaM2: number;
}

/**
 * Pairs of areas in longitude and latitude that lie over one another, with the land they share on the ellipsoid, m2.
 * Each is sound in itself and oriented. Shared edges are no overlap; rounding leaves specks of well under 1 m2.
 */
export const overlapAreas = (areas: readonly MultiPolygon[]): OverlapArea[] => {
  const boxes = areas.map((area) => boundsOf(area));
  const sizes = areas.map((area) => ellipsoidArea(area));
  const order = areas.map((_, index) => index).sort((a, b) => boxes[a]!.minX - boxes[b]!.minX);
  const found: OverlapArea[] = [];
  let open: number[] = [];
  for (const index of order) {
    const box = boxes[index]!;
    open = open.filter((other) => boxes[other]!.maxX > box.minX);
    for (const other of open) {
      const near = boxes[other]!;
      if (near.minY >= box.maxY || box.minY >= near.maxY) continue;
      const union = fillRings([...areas[index]!, ...areas[other]!], "non-zero");
      const areaM2 = sizes[index]! + sizes[other]! - ellipsoidArea(union);
      const [one, two] = index < other ? [index, other] : [other, index];
      if (areaM2 > 0) found.push({ one, other: two, areaM2 });
    }
    open.push(index);
  }
  return found.sort((a, b) => b.areaM2 - a.areaM2 || a.one - b.one || a.other - b.other);
};
