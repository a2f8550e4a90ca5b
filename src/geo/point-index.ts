import { BucketGrid } from "./bucket-grid.ts";

/** Points to be found near an edge. */
export class PointIndex {
  /** Numbers of the points that `findNear` found. */
  readonly found: number[] = [];
  readonly #grid: BucketGrid;
  readonly #starts: Int32Array;
  readonly #items: Int32Array;

  constructor(xs: ArrayLike<number>, ys: ArrayLike<number>) {
    const count = xs.length;
    let minX = count > 0 ? xs[0]! : 0;
    let maxX = minX;
    let minY = count > 0 ? ys[0]! : 0;
    let maxY = minY;
    for (let i = 1; i < count; i++) {
      minX = Math.min(minX, xs[i]!);
      maxX = Math.max(maxX, xs[i]!);
      minY = Math.min(minY, ys[i]!);
      maxY = Math.max(maxY, ys[i]!);
    }
    this.#grid = new BucketGrid(minX, minY, maxX, maxY, count);
    // Counting sort by bucket.
    this.#starts = new Int32Array(this.#grid.count + 1);
    this.#items = new Int32Array(count);
    const buckets = new Int32Array(count);
    for (let i = 0; i < count; i++) {
      buckets[i] = this.#grid.bucketOf(xs[i]!, ys[i]!);
      this.#starts[buckets[i]! + 1]! += 1;
    }
    for (let bucket = 0; bucket < this.#grid.count; bucket++) {
      this.#starts[bucket + 1]! += this.#starts[bucket]!;
    }
    const next = this.#starts.slice();
    for (let i = 0; i < count; i++) this.#items[next[buckets[i]!]!++] = i;
  }

  /**
   * Leaves in `found` every point within `pad` of the edge, and others near it, none twice.
   * Returns how many; they hold until the next call.
   */
  findNear(ax: number, ay: number, bx: number, by: number, pad: number): number {
    const runs = this.#grid.findAlong(ax, ay, bx, by, pad);
    let count = 0;
    for (let run = 0; run < runs; run++) {
      // Buckets of a run follow one another, and so do their points.
      const end = this.#starts[this.#grid.lasts[run]! + 1]!;
      for (let i = this.#starts[this.#grid.firsts[run]!]!; i < end; i++)
        this.found[count++] = this.#items[i]!;
    }
    return count;
  }
}
