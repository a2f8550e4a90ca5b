import solverFile from "highs/runtime?url";
import {
  type FieldResult,
  loadSplitSolver,
  type Parallel,
  type Progress,
  type RunOptions,
  type StageCache,
} from "#core";
import { breathe } from "./yielding.ts";

/** Rows of a map on its way are told this often, ms. */
const ROWS_EVERY_MS = 100;
/** Messages are read this often within a stage, ms. */
const BREATHE_EVERY_MS = 8;

/** Thrown at a border between stages when a newer plan has come or Stop was pressed. */
export class Superseded extends Error {}

/** The solver of the cheapest split, a file of its own that is fetched when it is wanted. */
const solver = () => loadSplitSolver({ locateFile: () => solverFile });

export interface Part {
  readonly answers: NonNullable<RunOptions["answers"]>;
  readonly only: readonly string[];
  readonly files: "written" | "later";
  readonly cache: StageCache;
  readonly parallel: Parallel;
  /** False once nobody waits for it any more. */
  readonly isWanted: () => boolean;
  readonly onProgress: (progress: Progress) => void;
  readonly onField?: ((field: FieldResult) => void) | undefined;
}

/** Options of a run that ends when it is not wanted any more, and reads the worker's messages as it goes. */
export function partOptions({ isWanted, onProgress, onField, ...part }: Part): RunOptions {
  const check = () => {
    if (!isWanted()) throw new Superseded();
  };
  let last = performance.now();
  let rowsToldAt = 0;
  return {
    ...part,
    solver,
    signal: {
      get aborted() {
        return !isWanted();
      },
      throwIfAborted: check,
    },
    pause: async () => {
      if (performance.now() - last > BREATHE_EVERY_MS) {
        await breathe();
        last = performance.now();
      }
      check();
    },
    ...(onField ? { onField } : {}),
    onProgress: (progress) => {
      if (progress.map) {
        if (performance.now() - rowsToldAt < ROWS_EVERY_MS) return;
        rowsToldAt = performance.now();
      }
      onProgress(progress);
    },
  };
}
