import type { Grid } from "../geo/index.ts";
import { type GridKriger, gridKriger, TILE } from "./grid-kriger.ts";
import { Pacer } from "./pacer.ts";
import { checkSamples } from "./same-place.ts";
import { StoppedError } from "./stopped-error.ts";
import { targetWork } from "./target-work.ts";
import type {
  Arithmetic,
  GridJob,
  Kriged,
  Pacing,
  Parallel,
  RowBand,
  Samples,
  VariogramModel,
} from "./types.ts";
import { checkModel } from "./variogram-model.ts";

interface KrigeGridOptions extends Pacing {
  /** False leaves the variance out (all NaN), which is many times faster. */
  readonly variance: boolean;
  /** "cell" when left out: the mean over the cell. "point": the value at its centre, a spike on a sample. */
  readonly support?: "cell" | "point";
  /** "fastest" when left out; the map is the same to the last bit. */
  readonly arithmetic?: Arithmetic;
}

/** Rows done between two calls of `onRow`. */
const BAND = 2 * TILE;
/** Work that keeps one thread busy for about a fifth of a second; less is not worth sending away. */
const WORTH_SENDING = 1e9;

/**
 * Ordinary kriging over the wanted cells of a lattice (1 = wanted), from all samples; above 2,500 of them the variance
 * comes from the nearest 32. Results nx * ny, row-major, south row first; NaN elsewhere. Errors as `krige`;
 * `StoppedError` on request.
 */
export async function krigeGrid(
  samples: Samples,
  model: VariogramModel,
  grid: Grid,
  wanted: Uint8Array,
  options: KrigeGridOptions,
): Promise<Kriged> {
  const { nx, ny } = grid;
  if (wanted.length !== nx * ny) throw new Error("krigeGrid: the mask does not fit the grid");
  const { variance, support = "cell", arithmetic = "fastest", parallel } = options;
  const job: GridJob = { samples, model, grid, wanted, variance, support, arithmetic };
  const out = { estimate: new Float64Array(nx * ny), variance: new Float64Array(nx * ny) };
  for (const map of [out.estimate, out.variance]) map.fill(Number.NaN);
  const bands: RowBand[] = [];
  for (let row = 0; row < ny; row += BAND) bands.push({ row, rows: Math.min(BAND, ny - row) });
  if (parallel === undefined || parallel.threads < 2 || workOf(job) < WORTH_SENDING)
    await inThisThread(job, bands, out, options);
  else await elsewhere(job, bands, out, options, parallel);
  return out;
}

async function inThisThread(
  job: GridJob,
  bands: readonly RowBand[],
  out: Kriged,
  options: Pacing,
): Promise<void> {
  const pacer = new Pacer(options);
  const kriger: GridKriger = gridKriger(job);
  const { nx } = job.grid;
  try {
    for (const band of bands) {
      const [from, to] = [band.row * nx, (band.row + band.rows) * nx];
      const into = { estimate: out.estimate.subarray(from, to), variance: out.variance.subarray(from, to) };
      for (const work of kriger.band(band, into)) if (pacer.due(work)) await pacer.pause();
      options.onRow?.(band.row + band.rows);
    }
  } finally {
    kriger.close();
  }
}

async function elsewhere(
  job: GridJob,
  bands: readonly RowBand[],
  out: Kriged,
  { onRow, signal }: Pacing,
  parallel: Parallel,
): Promise<void> {
  if (signal?.aborted === true) throw new StoppedError();
  // What is wrong with the input is told by this thread, as an error of its own kind.
  checkModel(job.model);
  checkSamples(job.samples);
  let rowsDone = 0;
  await parallel.bands(
    job,
    bands,
    ({ row, rows }, kriged) => {
      out.estimate.set(kriged.estimate, row * job.grid.nx);
      out.variance.set(kriged.variance, row * job.grid.nx);
      rowsDone += rows;
      onRow?.(rowsDone);
    },
    signal,
  );
}

/** Multiply-and-adds at most. */
function workOf({ samples, wanted, variance, grid }: GridJob): number {
  const cells = wanted.reduce((count, w) => count + (w === 1 ? 1 : 0), 0);
  const block = { widthM: grid.cellM, heightM: grid.cellM };
  return cells * targetWork(samples.value.length, block, variance);
}
