import { PointIndex } from "./point-index.ts";
import type { VertexTable } from "./vertex-table.ts";

/** Half a lattice step, and a little for the rounding in where a cut was computed. */
const HALF_SQUARE = 0.5 + 1e-6;
/** Rounding moves an edge by up to half the diagonal of a square; it may then pass squares that come this near. */
const HALF_MARGIN = 1.25;

/**
 * Squares sit this far off centre on their lattice points, in steps, so that round numbers in a field (half steps, edges
 * at 45 degrees) do not fall on the border between two squares, where an edge would seem to pass both.
 */
const SKEW_X = 0.012_345_678;
const SKEW_Y = 0.007_654_321;

export const roundX = (x: number): number => Math.floor(x + (0.5 - SKEW_X));
export const roundY = (y: number): number => Math.floor(y + (0.5 - SKEW_Y));

/** Leads edges through the lattice points whose squares they pass. Coordinates are in lattice steps. */
export class EdgeRouter {
  /** Whether any edge since this was last set to false came near a square it does not pass. */
  nearMiss = false;
  readonly #xs: readonly number[];
  readonly #ys: readonly number[];
  readonly #index: PointIndex;
  readonly #hits: number[] = [];
  readonly #along: number[] = [];

  /** The lattice points, all of them, that edges are to be led through. */
  constructor({ xs, ys }: VertexTable) {
    this.#xs = xs;
    this.#ys = ys;
    this.#index = new PointIndex(xs, ys);
  }

  /**
   * Appends to `path` the points an edge passes between its ends, which are the points `a` and `b` and lie in their
   * squares. Worked out from the west end whichever way the edge runs. Returns how many were appended.
   */
  route(ax: number, ay: number, a: number, bx: number, by: number, b: number, path: number[]): number {
    if (a === b) return 0;
    if (ax < bx || (ax === bx && ay <= by)) {
      const count = this.#find(ax, ay, a, bx, by, b);
      for (let i = 0; i < count; i++) path.push(this.#hits[i]!);
      return count;
    }
    const count = this.#find(bx, by, b, ax, ay, a);
    for (let i = count - 1; i >= 0; i--) path.push(this.#hits[i]!);
    return count;
  }

  /** Leaves in `hits`, in order, the points passed by an edge that runs east. */
  #find(fromX: number, fromY: number, from: number, toX: number, toY: number, to: number): number {
    const xs = this.#xs;
    const ys = this.#ys;
    const runX = toX - fromX;
    const runY = toY - fromY;
    const breadth = Math.abs(runX) + Math.abs(runY);
    const start = runX * (xs[from]! + SKEW_X - fromX) + runY * (ys[from]! + SKEW_Y - fromY);
    const end = runX * (xs[to]! + SKEW_X - fromX) + runY * (ys[to]! + SKEW_Y - fromY);
    const lowY = Math.min(fromY, toY);
    const highY = Math.max(fromY, toY);
    const candidates = this.#index.findNear(fromX, fromY, toX, toY, HALF_MARGIN);
    let count = 0;
    for (let i = 0; i < candidates; i++) {
      const point = this.#index.found[i]!;
      if (point === from || point === to) continue;
      const x = xs[point]! + SKEW_X;
      const y = ys[point]! + SKEW_Y;
      // How far off the edge's box the middle of the square is, and how far off its line.
      const off = Math.max(fromX - x, x - toX, lowY - y, y - highY);
      if (off > HALF_MARGIN) continue;
      const offX = x - fromX;
      const offY = y - fromY;
      const aside = Math.abs(runX * offY - runY * offX);
      if (aside > HALF_MARGIN * breadth) continue;
      const at = runX * offX + runY * offY;
      if (off > HALF_SQUARE || aside > HALF_SQUARE * breadth || at <= start || at >= end) {
        this.nearMiss = true;
        continue;
      }
      let slot = count;
      while (
        slot > 0 &&
        (this.#along[slot - 1]! > at || (this.#along[slot - 1] === at && this.#hits[slot - 1]! > point))
      ) {
        this.#along[slot] = this.#along[slot - 1]!;
        this.#hits[slot] = this.#hits[slot - 1]!;
        slot--;
      }
      this.#along[slot] = at;
      this.#hits[slot] = point;
      count++;
    }
    return count;
  }
}
