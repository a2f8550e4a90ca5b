import { requireBlendNumber } from "./blend-classes.ts";
import type { Grade } from "./product.ts";

/** Products that together come nearest to a need. */
export interface ProductsForNeed {
  /** lb/ac of each product, in the order given; never negative. */
  readonly lbPerAc: readonly number[];
  /** Root of the sum of squares of what is off, lb nutrient/ac; 0 inside the reach of the products. */
  readonly residualLbPerAc: number;
}

/**
 * Products from bins that are metered alone for a need, by non-negative least squares (active set, Lawson and Hanson 1974;
 * from memory). Any need inside the reach of the products is met exactly. Nutrients that are not in `need` do not count.
 */
export function productsForNeed(grades: readonly Partial<Grade>[], need: Partial<Grade>): ProductsForNeed {
  const keys = Object.keys(need) as (keyof Grade)[];
  const b = keys.map((key) => requireBlendNumber(`need ${key}`, need[key]!));
  const columns = grades.map((grade) => keys.map((key) => (grade[key] ?? 0) / 100));
  const x = new Array<number>(columns.length).fill(0);
  const active = new Set<number>();
  const rest = (): number[] =>
    b.map((want, r) => want - columns.reduce((sum, column, p) => sum + column[r]! * x[p]!, 0));
  for (let round = 0; round < 10 * columns.length; round++) {
    const left = rest();
    const pull = columns.map((column) => column.reduce((sum, a, r) => sum + a * left[r]!, 0));
    const enter = pull.reduce(
      (best, value, p) => (!active.has(p) && value > (pull[best] ?? 1e-9) ? p : best),
      -1,
    );
    if (enter < 0) break;
    active.add(enter);
    for (;;) {
      const free = [...active].sort((p, q) => p - q);
      const tried = normalEquations(columns, b, free);
      if (tried.every((value) => value > 1e-12)) {
        x.fill(0);
        free.forEach((p, i) => {
          x[p] = tried[i]!;
        });
        break;
      }
      // Walk towards the trial until the first product would turn negative; that one leaves.
      let step = 1;
      free.forEach((p, i) => {
        if (tried[i]! <= 1e-12) step = Math.min(step, x[p]! / (x[p]! - tried[i]!));
      });
      free.forEach((p, i) => {
        x[p] = x[p]! + step * (tried[i]! - x[p]!);
        if (x[p]! <= 1e-12) {
          x[p] = 0;
          active.delete(p);
        }
      });
      if (active.size === 0) break;
    }
  }
  return { lbPerAc: x, residualLbPerAc: Math.hypot(...rest()) };
}

/** Least squares over the chosen columns, by elimination with pivots; the systems have a handful of rows. */
function normalEquations(
  columns: readonly (readonly number[])[],
  b: readonly number[],
  free: readonly number[],
): number[] {
  const dot = (u: readonly number[], v: readonly number[]): number =>
    u.reduce((sum, a, r) => sum + a * v[r]!, 0);
  const rows = free.map((p) => [...free.map((q) => dot(columns[p]!, columns[q]!)), dot(columns[p]!, b)]);
  const n = free.length;
  for (let c = 0; c < n; c++) {
    let pivot = c;
    for (let r = c + 1; r < n; r++) if (Math.abs(rows[r]![c]!) > Math.abs(rows[pivot]![c]!)) pivot = r;
    [rows[c], rows[pivot]] = [rows[pivot]!, rows[c]!];
    // Two products of one analysis: the later one stays at 0.
    if (Math.abs(rows[c]![c]!) < 1e-12) continue;
    for (let r = 0; r < n; r++) {
      if (r === c) continue;
      const factor = rows[r]![c]! / rows[c]![c]!;
      for (let k = c; k <= n; k++) rows[r]![k] = rows[r]![k]! - factor * rows[c]![k]!;
    }
  }
  return rows.map((row, i) => (Math.abs(row[i]!) < 1e-12 ? 0 : row[n]! / row[i]!));
}
