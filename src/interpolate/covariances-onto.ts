import { BATCH, GROUP } from "./batch.ts";
import { panelSize, type Workspace } from "./kernels/index.ts";
import type { OrdinarySystem } from "./ordinary-system.ts";
import type { Support } from "./support.ts";
import { targetCovariances } from "./target-covariances.ts";

/** Writes covariances of a batch to the heap: element (group, sample, target) at c + 4 size group + 4 sample + target. */
interface CovariancesOnto {
  /** From now on only these samples. */
  readonly use: (active: Int32Array<ArrayBuffer>, count: number) => void;
  readonly fill: (targetU: Float64Array, targetV: Float64Array, targets: number) => void;
}

/** Doubles that `covariancesOnto` takes for a model of so many table numbers or pieces, beside those for the samples. */
export function covarianceRoom({ covariance, n }: OrdinarySystem): number {
  const { pieces, table } = covariance;
  return 2 * panelSize(n) + 2 * BATCH + 48 + (table?.values.length ?? 4 * (pieces?.end.length ?? 0));
}

/** With kernels where the model has one, else one target after another. */
export function covariancesOnto(
  system: OrdinarySystem,
  support: Support,
  space: Workspace,
  c: number,
): CovariancesOnto {
  const size = panelSize(system.n);
  const one = targetCovariances(system.covariance, support, system.u, system.v);
  let active = new Int32Array(0);
  let count = 0;
  const slowly = (targetU: Float64Array, targetV: Float64Array, targets: number): void => {
    for (let k = 0; k < targets; k++) {
      const at = c + (k >> 2) * 4 * size + (k & 3);
      one(targetU[k]!, targetV[k]!, active, count, space.heap, at, GROUP);
    }
  };
  const kernel = kernelOf(system, support, space, c);
  const use = (next: Int32Array<ArrayBuffer>, nextCount: number): void => {
    active = next;
    count = nextCount;
    kernel?.use(active, count);
  };
  const fill = (targetU: Float64Array, targetV: Float64Array, targets: number): void => {
    if (kernel?.fill(targetU, targetV, targets) !== true) slowly(targetU, targetV, targets);
  };
  return { use, fill };
}

interface CovarianceKernel {
  readonly use: (active: Int32Array, count: number) => void;
  /** False when it could not. */
  readonly fill: (targetU: Float64Array, targetV: Float64Array, targets: number) => boolean;
}

function kernelOf(
  { covariance, u, v, n }: OrdinarySystem,
  support: Support,
  { kernels, heap, take }: Workspace,
  c: number,
): CovarianceKernel | undefined {
  const { pieces, table, total } = covariance;
  if (pieces === undefined && table === undefined) return undefined;
  const size = panelSize(n);
  const [ownU, ownV, atU, atV] = [take(size), take(size), take(BATCH), take(BATCH)];
  const put = (values: ArrayLike<number>): number => {
    const at = take(values.length);
    heap.set(values, at);
    return 8 * at;
  };
  const [offsetU, offsetV, weight] = [put(support.du), put(support.dv), put(support.weight)];
  const out = [8 * c, size] as const;
  const blockArguments = [offsetU, offsetV, weight, support.radius, ...out] as const;
  let count = 0;
  const targetsAndSamples = (targets: number) =>
    [8 * atU, 8 * atV, Math.ceil(targets / GROUP), 8 * ownU, 8 * ownV, count] as const;
  let evaluate: (targets: number) => boolean;
  if (table !== undefined) {
    const { values, first, near } = table;
    const at = put(values);
    const model = [at, first, table.pieces, near] as const;
    const run = (targets: number): boolean =>
      (support.block
        ? kernels.tableBlock(...targetsAndSamples(targets), ...model, ...blockArguments)
        : kernels.tablePoint(...targetsAndSamples(targets), ...model, total, ...out)) === 1;
    // A piece of the table may be missing: it is filled by whoever does it the slow way, and is there from then on.
    let stale = false;
    evaluate = (targets) => {
      if (stale) heap.set(values, at / 8);
      stale = !run(targets);
      return !stale;
    };
  } else {
    const { end, a0, a1, a3 } = pieces!;
    const model = [put(Array.from(end).flatMap((h, j) => [h, a0[j]!, a1[j]!, a3[j]!])), end.length] as const;
    evaluate = (targets) => {
      if (support.block) kernels.cubicBlock(...targetsAndSamples(targets), ...model, ...blockArguments);
      else kernels.cubicPoint(...targetsAndSamples(targets), ...model, total, ...out);
      return true;
    };
  }
  return {
    use: (active, nextCount) => {
      count = nextCount;
      for (let i = 0; i < count; i++) {
        heap[ownU + i] = u[active[i]!]!;
        heap[ownV + i] = v[active[i]!]!;
      }
    },
    fill: (targetU, targetV, targets) => {
      heap.set(targetU.subarray(0, targets), atU);
      heap.set(targetV.subarray(0, targets), atV);
      return evaluate(targets);
    },
  };
}
