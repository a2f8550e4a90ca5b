import { parentPort } from "node:worker_threads";
import { InputError } from "../errors/index.ts";
import { type GridKriger, gridKriger, type Kriged, type RowBand } from "../interpolate/index.ts";
import type { FromBandThread, ToBandThread } from "./parallel-bands.ts";

/** A thread of `openBandThreads`: solves a job's equations once, then kriges one band after another. */
let current: { readonly kriger: GridKriger; readonly columns: number } | undefined;

parentPort?.on("message", (message: ToBandThread) => {
  if ("job" in message) {
    current?.kriger.close();
    current = undefined;
    try {
      current = { kriger: gridKriger(message.job), columns: message.job.grid.nx };
    } catch (error) {
      // An InputError would lose its class on the way; anything else is a bug and ends the thread.
      if (!(error instanceof InputError)) throw error;
      const { code, message: text, remedy } = error;
      parentPort?.postMessage({ refused: { code, message: text, remedy } } satisfies FromBandThread);
    }
    return;
  }
  if (current === undefined) return; // its job was refused
  const kriged = krigeBand(current.kriger, message.band, current.columns);
  const buffers = [kriged.estimate.buffer, kriged.variance.buffer];
  parentPort?.postMessage({ band: message.band, kriged } satisfies FromBandThread, buffers);
});

function krigeBand(kriger: GridKriger, band: RowBand, columns: number): Kriged {
  const size = band.rows * columns;
  const kriged = {
    estimate: new Float64Array(size).fill(Number.NaN),
    variance: new Float64Array(size).fill(Number.NaN),
  };
  for (const _work of kriger.band(band, kriged));
  return kriged;
}
