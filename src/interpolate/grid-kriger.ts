import { cellCentre } from "../geo/index.ts";
import { BATCH } from "./batch.ts";
import type { Covariance } from "./covariance.ts";
import { estimator } from "./estimator.ts";
import { nearestKriger } from "./nearest-kriger.ts";
import { ordinarySystem } from "./ordinary-system.ts";
import { supportOf } from "./support.ts";
import { samplesInReach } from "./target-tiles.ts";
import { nearestWork, targetWork } from "./target-work.ts";
import type { GridJob, Kriged, RowBand } from "./types.ts";
import { VARIANCE_NEAREST, WHOLE_SYSTEM_SAMPLES } from "./whole-system.ts";

export interface GridKriger {
  /**
   * Kriges a band into arrays of rows * nx, which start as NaN; yields the multiply-and-adds done since it last did,
   * so that its caller can pause in between.
   */
  readonly band: (band: RowBand, into: Kriged) => Generator<number>;
  /** Gives its memory back. */
  readonly close: () => void;
}

/**
 * Side of a tile in cells; samples beyond the model's reach of a tile are left out of its sums, exactly. Smaller tiles
 * leave out more samples and pick the others from the inverse more often; of 4, 8 and 16 this was fastest.
 */
export const TILE = 8;

/** Solves the equations once; bands can then be had in any order, and give the same bits in whatever bands. */
export function gridKriger(job: GridJob): GridKriger {
  const { samples, grid, wanted, model, arithmetic } = job;
  const { nx, ix0, iy0, cellM } = grid;
  const system = ordinarySystem(samples, model, arithmetic);
  const { covariance, n, originX, originY } = system;
  const { ux, uy, vx, vy } = covariance;
  const block = job.support === "point" ? undefined : { widthM: cellM, heightM: cellM };
  const support = supportOf(covariance, block);
  const few = job.variance && n > WHOLE_SYSTEM_SAMPLES && !system.constant;
  const engine = estimator(system, support, job.variance && !few, arithmetic);
  const nearest = few ? nearestKriger(samples, model, VARIANCE_NEAREST, block) : undefined;
  const active = new Int32Array(n);
  const cells = new Int32Array(TILE * TILE);
  const targetU = new Float64Array(BATCH);
  const targetV = new Float64Array(BATCH);
  const costOf = (used: number): number =>
    targetWork(used, block, job.variance && !few) + (few ? nearestWork(n, VARIANCE_NEAREST, block) : 0);

  function* band({ row, rows }: RowBand, into: Kriged): Generator<number> {
    for (let south = row; south < row + rows; south += TILE) {
      const north = Math.min(south + TILE, row + rows);
      for (let west = 0; west < nx; west += TILE) {
        const east = Math.min(west + TILE, nx);
        const count = wantedIn(wanted, nx, west, east, south, north, cells);
        if (count === 0) continue;
        const tile = turnedAround(
          covariance,
          (ix0 + west) * cellM - originX,
          (ix0 + east) * cellM - originX,
          (iy0 + south) * cellM - originY,
          (iy0 + north) * cellM - originY,
        );
        const used = samplesInReach(system, tile, covariance.reachM, active);
        engine.useSamples(active, used);
        for (let from = 0; from < count; from += BATCH) {
          const batch = Math.min(BATCH, count - from);
          for (let k = 0; k < batch; k++) {
            const cell = cells[from + k]!;
            const [x, y] = cellCentre(grid, cell);
            const [dx, dy] = [x - originX, y - originY];
            targetU[k] = ux * dx + uy * dy;
            targetV[k] = vx * dx + vy * dy;
          }
          engine.evaluate(targetU, targetV, batch);
          for (let k = 0; k < batch; k++) {
            const cell = cells[from + k]!;
            into.estimate[cell - row * nx] = engine.estimate[k]!;
            if (!job.variance) continue;
            nearest?.evaluate(...cellCentre(grid, cell));
            into.variance[cell - row * nx] = nearest?.variance ?? engine.variance[k]!;
          }
          yield batch * costOf(used);
        }
      }
    }
  }
  return { band, close: engine.close };
}

/**
 * Positions of the wanted cells of a tile, two rows at a time, so that the four worked on together stand close; returns
 * how many.
 */
function wantedIn(
  wanted: Uint8Array,
  nx: number,
  west: number,
  east: number,
  south: number,
  north: number,
  cells: Int32Array,
): number {
  let count = 0;
  for (let iy = south; iy < north; iy += 2) {
    for (let ix = west; ix < east; ix++) {
      const cell = iy * nx + ix;
      if (wanted[cell] === 1) cells[count++] = cell;
      if (iy + 1 < north && wanted[cell + nx] === 1) cells[count++] = cell + nx;
    }
  }
  return count;
}

/** The rectangle, in turned coordinates, around a rectangle. */
function turnedAround(
  { ux, uy, vx, vy }: Covariance,
  west: number,
  east: number,
  south: number,
  north: number,
): { west: number; east: number; south: number; north: number } {
  const [u1, u2, u3, u4] = [ux * west, ux * east, uy * south, uy * north];
  const [v1, v2, v3, v4] = [vx * west, vx * east, vy * south, vy * north];
  return {
    west: Math.min(u1, u2) + Math.min(u3, u4),
    east: Math.max(u1, u2) + Math.max(u3, u4),
    south: Math.min(v1, v2) + Math.min(v3, v4),
    north: Math.max(v1, v2) + Math.max(v3, v4),
  };
}
