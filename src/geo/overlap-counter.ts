import { boundsOf } from "./bounds.ts";
import type { Grid, Polygon, Ring } from "./types.ts";

/** Calls back with the index of each grid cell the polygon covers and the covered area, m2, row by row. */
export type OverlapCounter = (polygon: Polygon, visit: (cell: number, areaM2: number) => void) => void;

/** Areas, in cells, smaller than this are the rounding of a cell the polygon only touches. */
const DUST = 1e-13;

/** Cells the polygon's box covers, and two working arrays over them. */
interface Window {
  readonly ix0: number;
  readonly iy0: number;
  readonly nx: number;
  readonly area: Float64Array;
  readonly cover: Float64Array;
}

/**
 * A rising stretch of an edge within one row of cells; x in cells from the window's west side, y in cells from the
 * row's south side. In each cell it adds what lies west of it there, and by its rise to every cell further west.
 */
const addInRow = (
  window: Window,
  row: number,
  sign: number,
  fromX: number,
  fromY: number,
  toX: number,
  toY: number,
): void => {
  const start = row * window.nx;
  const east = toX > fromX;
  // On a cell edge: the cell the stretch heads into, and the one it comes out of.
  let column = Math.min(window.nx - 1, east ? Math.floor(fromX) : Math.max(0, Math.ceil(fromX) - 1));
  let last = column;
  if (east) last = Math.min(window.nx - 1, Math.ceil(toX) - 1);
  else if (toX < fromX) last = Math.floor(toX);
  const slope = (toY - fromY) / (toX - fromX);
  let x = fromX;
  let y = fromY;
  while (column !== last) {
    const edge = east ? column + 1 : column;
    const nextY = Math.min(toY, Math.max(y, fromY + (edge - fromX) * slope));
    const rise = sign * (nextY - y);
    window.area[start + column]! += rise * ((x + edge) / 2 - column);
    window.cover[start + column]! += rise;
    x = edge;
    y = nextY;
    column += east ? 1 : -1;
  }
  const rise = sign * (toY - y);
  window.area[start + column]! += rise * ((x + toX) / 2 - column);
  window.cover[start + column]! += rise;
};

/** Splits an edge at the rows, from its lower end up whichever way it runs: neighbours get the same stretches. */
const addEdge = (
  window: Window,
  sign: number,
  fromX: number,
  fromY: number,
  toX: number,
  toY: number,
): void => {
  const slope = (toX - fromX) / (toY - fromY);
  const lowX = Math.min(fromX, toX);
  const highX = Math.max(fromX, toX);
  const firstRow = Math.floor(fromY);
  const lastRow = Math.ceil(toY) - 1;
  let x = fromX;
  for (let row = firstRow; row <= lastRow; row++) {
    const isLast = row === lastRow;
    const nextX = isLast ? toX : Math.min(highX, Math.max(lowX, fromX + (row + 1 - fromY) * slope));
    addInRow(window, row, sign, x, row === firstRow ? fromY - row : 0, nextX, isLast ? toY - row : 1);
    x = nextX;
  }
};

const addRing = (window: Window, ring: Ring, cellM: number): void => {
  const last = ring[ring.length - 1]!;
  let fromX = last[0] / cellM - window.ix0;
  let fromY = last[1] / cellM - window.iy0;
  for (const point of ring) {
    const toX = point[0] / cellM - window.ix0;
    const toY = point[1] / cellM - window.iy0;
    if (toY > fromY) addEdge(window, 1, fromX, fromY, toX, toY);
    else if (toY < fromY) addEdge(window, -1, toX, toY, fromX, fromY);
    fromX = toX;
    fromY = toY;
  }
};

/**
 * A counter of overlap areas between polygons and the cells of one grid, for use on many small polygons: it works only
 * in each polygon's own box and keeps its working arrays. Exact line integrals, no clipping; the areas add up to the
 * polygon's own. Outer rings counter-clockwise, holes clockwise. What lies off the grid is left out.
 */
export const overlapCounter = (grid: Grid): OverlapCounter => {
  const { cellM } = grid;
  const cellM2 = cellM * cellM;
  let area = new Float64Array(64);
  let cover = new Float64Array(64);
  return (polygon, visit) => {
    const box = boundsOf([polygon]);
    if (!(box.maxY > box.minY)) return;
    const ix0 = Math.floor(box.minX / cellM);
    const iy0 = Math.floor(box.minY / cellM);
    const nx = Math.max(1, Math.ceil(box.maxX / cellM) - ix0);
    const ny = Math.max(1, Math.ceil(box.maxY / cellM) - iy0);
    const count = nx * ny;
    if (area.length < count) {
      area = new Float64Array(2 * count);
      cover = new Float64Array(2 * count);
    } else {
      area.fill(0, 0, count);
      cover.fill(0, 0, count);
    }
    const window = { ix0, iy0, nx, area, cover };
    for (const ring of polygon) addRing(window, ring, cellM);
    for (let row = 0; row < ny; row++) {
      const gridRow = iy0 + row - grid.iy0;
      if (gridRow < 0 || gridRow >= grid.ny) continue;
      // From the east, so that each cell knows the rise of all that lies east of it.
      let covered = 0;
      for (let column = nx - 1; column >= 0; column--) {
        const index = row * nx + column;
        const share = area[index]! + covered;
        covered += cover[index]!;
        area[index] = share > 1 - DUST ? 1 : share;
      }
      for (let column = 0; column < nx; column++) {
        const share = area[row * nx + column]!;
        const gridColumn = ix0 + column - grid.ix0;
        if (share <= DUST || gridColumn < 0 || gridColumn >= grid.nx) continue;
        visit(gridRow * grid.nx + gridColumn, share * cellM2);
      }
    }
  };
};
