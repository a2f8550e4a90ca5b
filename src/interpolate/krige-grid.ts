import type { Grid } from "../geo/index.ts";
import { estimator, GROUP } from "./estimator.ts";
import { ordinarySystem } from "./ordinary-system.ts";
import { Pacer } from "./pacer.ts";
import { supportOf } from "./support.ts";
import type { Kriged, Pacing, Samples, VariogramModel } from "./types.ts";

export interface KrigeGridOptions extends Pacing {
  /** False leaves the variance out (all NaN), which is many times faster. */
  readonly variance: boolean;
  /** "cell" when left out: the mean over the cell. "point": the value at its centre, a spike on a sample. */
  readonly support?: "cell" | "point";
}

/** Side of a tile in cells; samples beyond the model's reach of a tile are left out of its sums, exactly. */
const TILE = 16;

/**
 * Ordinary kriging over the wanted cells of a lattice (1 = wanted), from all samples.
 * Results nx * ny, row-major, south row first; NaN elsewhere. Errors as `krige`; `StoppedError` on request.
 */
export async function krigeGrid(
  samples: Samples,
  model: VariogramModel,
  grid: Grid,
  wanted: Uint8Array,
  options: KrigeGridOptions,
): Promise<Kriged> {
  const { nx, ny, ix0, iy0, cellM } = grid;
  if (wanted.length !== nx * ny) throw new Error("krigeGrid: the mask does not fit the grid");
  const system = ordinarySystem(samples, model);
  const { covariance, n } = system;
  const { ux, uy, vx, vy } = covariance;
  const block = options.support === "point" ? undefined : { widthM: cellM, heightM: cellM };
  const engine = estimator(system, supportOf(covariance, block), options.variance);
  const estimate = new Float64Array(nx * ny).fill(Number.NaN);
  const variance = new Float64Array(nx * ny).fill(Number.NaN);
  const pacer = new Pacer(options);
  const active = new Int32Array(n);
  const cells = new Int32Array(TILE * TILE);
  const targetU = new Float64Array(GROUP);
  const targetV = new Float64Array(GROUP);

  for (let row = 0; row < ny; row += TILE) {
    const rows = Math.min(TILE, ny - row);
    for (let column = 0; column < nx; column += TILE) {
      const columns = Math.min(TILE, nx - column);
      let count = 0;
      for (let iy = row; iy < row + rows; iy++) {
        for (let ix = column; ix < column + columns; ix++) {
          if (wanted[iy * nx + ix] === 1) cells[count++] = iy * nx + ix;
        }
      }
      if (count === 0) continue;
      const west = (ix0 + column) * cellM;
      const south = (iy0 + row) * cellM;
      const used = within(samples, covariance.reachM, west, south, columns * cellM, rows * cellM, active);
      engine.useSamples(active, used);
      const cost = used * (block === undefined ? 4 : 64) + (options.variance ? used * used * 2 : 0);
      for (let from = 0; from < count; from += GROUP) {
        const group = Math.min(GROUP, count - from);
        for (let k = 0; k < group; k++) {
          const cell = cells[from + k]!;
          const dx = (ix0 + (cell % nx) + 0.5) * cellM - system.originX;
          const dy = (iy0 + Math.floor(cell / nx) + 0.5) * cellM - system.originY;
          targetU[k] = ux * dx + uy * dy;
          targetV[k] = vx * dx + vy * dy;
        }
        engine.evaluate(targetU, targetV, group);
        for (let k = 0; k < group; k++) {
          estimate[cells[from + k]!] = engine.estimate[k]!;
          if (options.variance) variance[cells[from + k]!] = engine.variance[k]!;
        }
        if (pacer.due(cost)) await pacer.pause();
      }
    }
    options.onRow?.(row + rows);
  }
  return { estimate, variance };
}

/** Positions of the samples within `reachM` of a rectangle, ascending, written to `out`; returns how many. */
function within(
  { x, y }: Samples,
  reachM: number,
  west: number,
  south: number,
  widthM: number,
  heightM: number,
  out: Int32Array,
): number {
  let count = 0;
  for (let i = 0; i < x.length; i++) {
    const dx = Math.max(0, west - x[i]!, x[i]! - west - widthM);
    const dy = Math.max(0, south - y[i]!, y[i]! - south - heightM);
    if (dx * dx + dy * dy <= reachM * reachM) out[count++] = i;
  }
  return count;
}
