import type { PlannedGrid } from "../formats/index.ts";
import { boundsOf, boxArea, overlapCounter, type Polygon } from "../geo/index.ts";
import { MG_PER_M2_PER_LB_PER_AC, writtenWith } from "../units/index.ts";

/** North size of a cell in degrees for each metre: 10 m are about 9.0e-5 (common practice). */
const DEG_PER_M = 9.0e-6;
/** Less of a cell than this is rounding, not ground. */
const LEAST_SHARE = 1e-7;

/** The smallest grid of cells about `cellM` metres each way that holds the polygons; corner and sizes as they are written. */
function gridOver(polygons: readonly Polygon[], cellM: number): Omit<PlannedGrid, "kind" | "mgPerM2"> {
  const { minX, minY, maxX, maxY } = boundsOf(polygons);
  const northDeg = writtenWith(cellM * DEG_PER_M, 12);
  const eastDeg = writtenWith((cellM * DEG_PER_M) / Math.cos((((minY + maxY) / 2) * Math.PI) / 180), 12);
  const southWest = [Math.floor(minX * 1e9) / 1e9, Math.floor(minY * 1e9) / 1e9] as const;
  const columns = Math.max(1, Math.ceil((maxX - southWest[0]) / eastDeg));
  const rows = Math.max(1, Math.ceil((maxY - southWest[1]) / northDeg));
  return { southWest, eastDeg, northDeg, columns, rows };
}

/**
 * Rates of pieces of ground, one array a product, as a grid: each cell has the mean of what lies in it, weighed by area, to
 * a whole mg/m2; ground outside the pieces does not thin it, and a cell without ground has 0. So what a cell places
 * on its part of the field is what the pieces place there, but for the rounding (at most 0.0045 lb/ac). `coveredM2` is
 * each cell's part of the ground, on the ellipsoid.
 */
export function areaShareGrid(
  polygons: readonly Polygon[],
  ratesLbPerAc: readonly Float64Array[],
  cellM: number,
): { readonly grid: PlannedGrid; readonly coveredM2: Float64Array } {
  const place = gridOver(polygons, cellM);
  const { southWest, eastDeg, northDeg, columns, rows } = place;
  const cells = columns * rows;
  const count = overlapCounter({ nx: columns, ny: rows, ix0: 0, iy0: 0, cellM: 1 });
  const covered = new Float64Array(cells);
  const weighted = ratesLbPerAc.map(() => new Float64Array(cells));
  polygons.forEach((polygon, k) => {
    const inCells = polygon.map((ring) =>
      ring.map(([lon, lat]) => [(lon - southWest[0]) / eastDeg, (lat - southWest[1]) / northDeg] as const),
    );
    count(inCells, (cell, share) => {
      covered[cell]! += share;
      ratesLbPerAc.forEach((rates, product) => {
        weighted[product]![cell]! += share * rates[k]!;
      });
    });
  });
  const cellM2 = Array.from({ length: rows }, (_, row) => {
    const [west, bottom] = [southWest[0], southWest[1] + row * northDeg];
    return boxArea([west, bottom], [west + eastDeg, southWest[1] + (row + 1) * northDeg]);
  });
  const mgPerM2 = weighted.map((sums) =>
    Int32Array.from(sums, (lb, cell) =>
      covered[cell]! > LEAST_SHARE ? Math.round((lb / covered[cell]!) * MG_PER_M2_PER_LB_PER_AC) : 0,
    ),
  );
  const coveredM2 = covered.map((share, cell) => share * cellM2[Math.floor(cell / columns)]!);
  return { grid: { kind: "grid", ...place, mgPerM2 }, coveredM2 };
}
