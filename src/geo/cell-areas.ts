import { boundsOf } from "./bounds.ts";
import { type OverlapCounter, overlapCounter } from "./overlap-counter.ts";
import type { Grid, MultiPolygon } from "./types.ts";

/** The smallest grid of `cellM` squares, edges on multiples of `cellM`, that holds every vertex. */
export const boundingGrid = (area: MultiPolygon, cellM: number): Grid => {
  const { minX, minY, maxX, maxY } = boundsOf(area);
  const ix0 = Math.floor(minX / cellM);
  const iy0 = Math.floor(minY / cellM);
  return {
    nx: Math.max(1, Math.ceil(maxX / cellM) - ix0),
    ny: Math.max(1, Math.ceil(maxY / cellM) - iy0),
    ix0,
    iy0,
    cellM,
  };
};

/**
 * Area of each grid cell inside the polygons, m2, exact but for rounding: 0 outside, `cellM` squared well inside.
 * Parts are taken not to overlap. What lies off the grid is not counted.
 */
export const cellAreas = (area: MultiPolygon, grid: Grid): Float64Array => {
  const areas = new Float64Array(grid.nx * grid.ny);
  const counter: OverlapCounter = overlapCounter(grid);
  for (const polygon of area) {
    counter(polygon, (cell, areaM2) => {
      areas[cell]! += areaM2;
    });
  }
  return areas;
};
