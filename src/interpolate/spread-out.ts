/**
 * Positions, ascending, of `limit` samples that stand as far apart as they can: starting from the one nearest the
 * middle, each next is the one farthest from those already taken (the earlier on a tie). All of them when there are
 * no more than `limit`.
 */
export function spreadOut(x: Float64Array, y: Float64Array, limit: number): Int32Array {
  const n = x.length;
  if (n <= limit) return Int32Array.from({ length: n }, (_, i) => i);
  const middleX = x.reduce((a, b) => a + b, 0) / n;
  const middleY = y.reduce((a, b) => a + b, 0) / n;
  const gap = new Float64Array(n).fill(Number.POSITIVE_INFINITY);
  let next = 0;
  let nearest = Number.POSITIVE_INFINITY;
  for (let i = 0; i < n; i++) {
    const d2 = (x[i]! - middleX) ** 2 + (y[i]! - middleY) ** 2;
    if (d2 < nearest) {
      nearest = d2;
      next = i;
    }
  }
  const taken = new Int32Array(limit);
  for (let k = 0; k < limit; k++) {
    taken[k] = next;
    const fromX = x[next]!;
    const fromY = y[next]!;
    let farthest = -1;
    for (let i = 0; i < n; i++) {
      gap[i] = Math.min(gap[i]!, (x[i]! - fromX) ** 2 + (y[i]! - fromY) ** 2);
      if (gap[i]! > farthest) {
        farthest = gap[i]!;
        next = i;
      }
    }
  }
  return taken.sort();
}
