import type { Parallel } from "../../interpolate/index.ts";
import type { Highs } from "../../split/index.ts";
import type { Answers } from "../document/answers.ts";
import type { StageCache } from "../document/stage.ts";
import type { FieldResult } from "./result-types.ts";

/** What `run` takes besides plan and files. */
export interface RunOptions {
  /** Answers to questions that files raise; those in the plan stand unless given here. */
  readonly answers?: Answers;
  /** Only these field ids. */
  readonly only?: readonly string[];
  readonly cache?: StageCache;
  readonly onProgress?: (progress: Progress) => void;
  /** Called with each field as soon as it is worked out. */
  readonly onField?: (result: FieldResult) => void;
  /** `later`: work out every rate and total, but write no files and read nothing back yet. */
  readonly files?: "written" | "later";
  /** `driving`: readings of the need that drive no rate are left out, and the order has no range. So where files come
   * later, unless all are asked for. */
  readonly readings?: "all" | "driving";
  /** Looked at before every stage; aborted ends the run by throwing its reason. */
  readonly signal?: { readonly aborted: boolean; throwIfAborted(): void };
  /** Loads the solver of the optimum, where the host must say how; else it is found beside the program. */
  readonly solver?: () => Promise<Highs>;
  /** Lets the host's own queue run (a message, Ctrl-C) at every border and within long stages. */
  readonly pause?: () => Promise<void>;
  /** Threads for soil maps that are long work; a map is the same to the last bit. */
  readonly parallel?: Parallel;
}

/** How far a run has come. */
export interface Progress {
  readonly field: string;
  readonly stage: string;
  readonly fieldNumber: number;
  readonly fieldCount: number;
  /** Of a soil map on its way: which test, and the part of its rows that is done. */
  readonly map?: { readonly test: string; readonly done: number };
}
