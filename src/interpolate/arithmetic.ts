import { factorInPlace, invertLower } from "../numeric/index.ts";
import { fromPanels, openWorkspace, panelSize, toPanels } from "./kernels/index.ts";
import type { Arithmetic } from "./types.ts";

/** Below this many samples moving the numbers costs more than it saves. */
const WORTH_MOVING = 16;

/** `factorInPlace` of numeric, bit for bit. */
export function factorFast(a: Float64Array, n: number, arithmetic: Arithmetic): boolean {
  const size = panelSize(n);
  const space = arithmetic === "javascript" || n < WORTH_MOVING ? undefined : openWorkspace(size * size);
  if (space === undefined) return factorInPlace(a, n);
  const { kernels, heap, take, release } = space;
  const at = take(size * size);
  toPanels(a, n, heap, at);
  const done = kernels.factor(8 * at, size, 4 * n * Number.EPSILON) === 1;
  if (done) fromPanels(heap, at, n, a);
  release();
  return done;
}

/** Diagonal of the inverse of the matrix whose Cholesky factor is given. */
export function inverseDiagonal(
  factor: Float64Array,
  n: number,
  arithmetic: Arithmetic,
): Float64Array<ArrayBuffer> {
  const size = panelSize(n);
  const square = size * size;
  const space =
    arithmetic === "javascript" || n < WORTH_MOVING ? undefined : openWorkspace(2 * square + size);
  if (space === undefined) {
    const lower = invertLower(factor, n);
    return Float64Array.from({ length: n }, (_, i) => {
      let sum = 0;
      for (let k = i; k < n; k++) sum += lower[i * n + k]! * lower[i * n + k]!;
      return sum;
    });
  }
  const { kernels, heap, take, release } = space;
  const [from, lower, diagonal] = [take(square), take(square), take(size)];
  toPanels(factor, n, heap, from);
  kernels.invert(8 * from, 8 * lower, size);
  kernels.squareDiagonal(8 * lower, 8 * diagonal, size);
  const out = heap.slice(diagonal, diagonal + n) as Float64Array<ArrayBuffer>;
  release();
  return out;
}
