import { BATCH, type Estimator, GROUP, sameStart, varianceOf } from "./batch.ts";
import { covarianceRoom, covariancesOnto } from "./covariances-onto.ts";
import { openWorkspace, panelSize, toPanels } from "./kernels/index.ts";
import type { OrdinarySystem } from "./ordinary-system.ts";
import type { Support } from "./support.ts";

/** The estimator on WebAssembly; undefined where the host cannot run it. Same bits as the one in JavaScript. */
export function webAssemblyEstimator(
  system: OrdinarySystem,
  support: Support,
  withVariance: boolean,
): Estimator | undefined {
  const { n, dual, unit, unitSum, mean, constant } = system;
  const size = panelSize(n);
  const squares = withVariance && !constant;
  const space = openWorkspace(
    (squares ? 2 * size * size : 0) + (BATCH + 3) * size + 3 * BATCH + 16 + covarianceRoom(system),
  );
  if (space === undefined) return undefined;
  const { kernels, heap, integers, take, release } = space;
  const inverse = squares ? take(size * size) : 0;
  const part = squares ? take(size * size) : 0;
  if (squares) {
    toPanels(system.factor, n, heap, inverse);
    kernels.invert(8 * inverse, 8 * part, size);
    kernels.square(8 * part, 8 * inverse, size);
  }
  const list = take(size);
  const ownDual = take(size);
  const ownUnit = take(size);
  const c = take(BATCH * size);
  const sums = take(2 * BATCH);
  const halves = take(BATCH);
  const block = take(16);
  const covariances = covariancesOnto(system, support, space, c);
  const estimate = new Float64Array(BATCH);
  const variance = new Float64Array(BATCH);
  let active = new Int32Array(0);
  let count = -1;
  let matrix = inverse;

  const useSamples = (next: Int32Array, nextCount: number): void => {
    if (nextCount === count && sameStart(active, next, count)) return;
    active = next.slice(0, nextCount);
    count = nextCount;
    for (let i = 0; i < count; i++) {
      heap[ownDual + i] = dual[active[i]!]!;
      heap[ownUnit + i] = unit[active[i]!]!;
    }
    covariances.use(active, count);
    heap.fill(0, c, c + BATCH * size);
    if (!squares) return;
    matrix = count === n ? inverse : part;
    if (count === n) return;
    integers.set(active, 2 * list);
    kernels.gather(8 * inverse, size, 8 * list, count, 8 * part);
  };

  const evaluate = (targetU: Float64Array, targetV: Float64Array, targets: number): void => {
    const groups = Math.ceil(targets / GROUP);
    covariances.fill(targetU, targetV, targets);
    kernels.sums(8 * c, size, groups, 8 * ownDual, 8 * ownUnit, count, 8 * sums);
    if (squares)
      kernels.halfSquares(8 * matrix, panelSize(count), 8 * c, size, groups, 8 * block, 8 * halves);
    for (let k = 0; k < targets; k++) {
      const at = sums + (k & ~3) * 2 + (k & 3);
      estimate[k] = mean + heap[at]!;
      variance[k] = squares ? varianceOf(heap[at + 4]!, heap[halves + k]!, support.within, unitSum) : 0;
    }
  };

  useSamples(
    Int32Array.from({ length: n }, (_, i) => i),
    n,
  );
  return { useSamples, evaluate, estimate, variance, close: release };
}
