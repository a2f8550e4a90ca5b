import { BATCH, type Estimator, GROUP, sameStart, varianceOf } from "./batch.ts";
import { openWorkspace, panelSize, toPanels, type Workspace } from "./kernels/index.ts";
import type { OrdinarySystem } from "./ordinary-system.ts";
import type { Support } from "./support.ts";
import { targetCovariances } from "./target-covariances.ts";

/** The estimator on WebAssembly; undefined where the host cannot run it. Same bits as the one in JavaScript. */
export function webAssemblyEstimator(
  system: OrdinarySystem,
  support: Support,
  withVariance: boolean,
): Estimator | undefined {
  const { n, dual, unit, unitSum, mean, constant } = system;
  const size = panelSize(n);
  const squares = withVariance && !constant;
  const space = openWorkspace((squares ? 2 * size * size : 0) + (BATCH + 8) * size + 1024);
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

/** Writes covariances of a batch to the heap: element (group, sample, target) at c + 4 size group + 4 sample + target. */
interface CovariancesOnto {
  readonly use: (active: Int32Array, count: number) => void;
  readonly fill: (targetU: Float64Array, targetV: Float64Array, targets: number) => void;
}

function covariancesOnto(
  system: OrdinarySystem,
  support: Support,
  space: Workspace,
  c: number,
): CovariancesOnto {
  const { covariance, u, v, n } = system;
  const size = panelSize(n);
  const { kernels, heap, take } = space;
  const { pieces } = covariance;
  if (pieces === undefined) {
    const one = targetCovariances(covariance, support, u, v);
    let active = new Int32Array(0);
    let count = 0;
    return {
      use: (next, nextCount) => {
        active = next as Int32Array<ArrayBuffer>;
        count = nextCount;
      },
      fill: (targetU, targetV, targets) => {
        for (let k = 0; k < targets; k++) {
          one(targetU[k]!, targetV[k]!, active, count, heap, c + (k >> 2) * 4 * size + (k & 3), GROUP);
        }
      },
    };
  }
  const [ownU, ownV, atU, atV] = [take(size), take(size), take(BATCH), take(BATCH)];
  const pieceCount = pieces.end.length;
  const coefficients = take(4 * pieceCount);
  for (let j = 0; j < pieceCount; j++) {
    heap.set([pieces.end[j]!, pieces.a0[j]!, pieces.a1[j]!, pieces.a3[j]!], coefficients + 4 * j);
  }
  const [offsetU, offsetV, weight] = [take(16), take(16), take(16)];
  heap.set(support.du, offsetU);
  heap.set(support.dv, offsetV);
  heap.set(support.weight, weight);
  let count = 0;
  return {
    use: (active, nextCount) => {
      count = nextCount;
      for (let i = 0; i < count; i++) {
        heap[ownU + i] = u[active[i]!]!;
        heap[ownV + i] = v[active[i]!]!;
      }
    },
    fill: (targetU, targetV, targets) => {
      const groups = Math.ceil(targets / GROUP);
      heap.set(targetU.subarray(0, targets), atU);
      heap.set(targetV.subarray(0, targets), atV);
      const head = [
        8 * atU,
        8 * atV,
        groups,
        8 * ownU,
        8 * ownV,
        count,
        8 * coefficients,
        pieceCount,
      ] as const;
      if (support.block) {
        const offsets = [8 * offsetU, 8 * offsetV, 8 * weight, support.radius] as const;
        kernels.cubicBlock(...head, ...offsets, 8 * c, size);
      } else {
        kernels.cubicPoint(...head, covariance.total, 8 * c, size);
      }
    },
  };
}
