import { boundsOf } from "./bounds.ts";
import { BucketGrid } from "./bucket-grid.ts";
import { containsPoint } from "./contains-point.ts";
import { boxHolds } from "./lies-inside.ts";
import type { Point, Polygon } from "./types.ts";

/** The number of the polygon a point lies in, or -1. On a shared edge either may come. */
type PolygonFinder = (point: Point) => number;

export const polygonFinder = (polygons: readonly Polygon[]): PolygonFinder => {
  const boxes = polygons.map((polygon) => boundsOf([polygon]));
  const whole = boundsOf(polygons);
  if (polygons.length === 0) return () => -1;
  const grid = new BucketGrid(whole.minX, whole.minY, whole.maxX, whole.maxY, polygons.length);
  const buckets: number[][] = Array.from({ length: grid.count }, () => []);
  boxes.forEach(({ minX, minY, maxX, maxY }, number) => {
    const middleY = (minY + maxY) / 2;
    const runs = grid.findAlong(minX, middleY, maxX, middleY, (maxY - minY) / 2);
    for (let run = 0; run < runs; run++) {
      for (let bucket = grid.firsts[run]!; bucket <= grid.lasts[run]!; bucket++)
        buckets[bucket]!.push(number);
    }
  });
  return (point) => {
    const [x, y] = point;
    const here = { minX: x, minY: y, maxX: x, maxY: y };
    if (!boxHolds(whole, here)) return -1;
    const found = buckets[grid.bucketOf(x, y)]!.find(
      (number) => boxHolds(boxes[number]!, here) && containsPoint([polygons[number]!], point),
    );
    return found ?? -1;
  };
};
