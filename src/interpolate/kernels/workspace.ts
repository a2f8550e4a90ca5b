import { instantiateKernels, type KernelExports } from "./web-assembly.ts";

/** A lent instance of the kernels and its memory. It must be given back once. */
export interface Workspace {
  readonly kernels: KernelExports;
  /** All of the memory as doubles; an element's address is 8 times its index. */
  readonly heap: Float64Array;
  /** The same memory as 32-bit integers. */
  readonly integers: Int32Array;
  /** Index of the first of so many doubles that nobody else uses; their content is left over from earlier work. */
  readonly take: (doubles: number) => number;
  readonly release: () => void;
}

const PAGE = 8192;
/** The module keeps the first bytes for itself. */
const FIRST = 128;
/** A memory cannot shrink; larger ones are dropped when they are given back. */
const KEPT_DOUBLES = 4_000_000;
/** A module's memory ends here: 4 GB. */
const MOST_DOUBLES = 2 ** 29 - PAGE;

const idle: KernelExports[] = [];

/** Room for so many doubles; undefined where the host has no WebAssembly or not that much memory. */
export function openWorkspace(doubles: number): Workspace | undefined {
  if (doubles > MOST_DOUBLES) return undefined;
  const kernels = idle.pop() ?? instantiateKernels();
  if (kernels === undefined) return undefined;
  const missing = FIRST + doubles - kernels.memory.buffer.byteLength / 8;
  try {
    if (missing > 0) kernels.memory.grow(Math.ceil(missing / PAGE));
  } catch {
    idle.push(kernels);
    return undefined;
  }
  const heap = new Float64Array(kernels.memory.buffer);
  let next = FIRST;
  return {
    kernels,
    heap,
    integers: new Int32Array(kernels.memory.buffer),
    take: (count) => {
      const first = next;
      next += count;
      if (next > heap.length) throw new Error("workspace: more taken than asked for");
      return first;
    },
    release: () => {
      if (heap.length <= KEPT_DOUBLES) idle.push(kernels);
    },
  };
}
