import { BucketGrid } from "./bucket-grid.ts";

/** Points to be found near an edge. */
export class PointIndex {
  readonly #grid: BucketGrid;
  readonly #starts: Int32Array;
  readonly #items: Int32Array;

  constructor(xs: ArrayLike<number>, ys: ArrayLike<number>) {
    let minX = Number.POSITIVE_INFINITY;
    let minY = Number.POSITIVE_INFINITY;
    let maxX = Number.NEGATIVE_INFINITY;
    let maxY = Number.NEGATIVE_INFINITY;
    for (let i = 0; i < xs.length; i++) {
      minX = Math.min(minX, xs[i]!);
      maxX = Math.max(maxX, xs[i]!);
      minY = Math.min(minY, ys[i]!);
      maxY = Math.max(maxY, ys[i]!);
    }
    this.#grid =
      xs.length > 0 ? new BucketGrid(minX, minY, maxX, maxY, xs.length) : new BucketGrid(0, 0, 0, 0, 1);
    // Counting sort by bucket.
    this.#starts = new Int32Array(this.#grid.count + 1);
    this.#items = new Int32Array(xs.length);
    const buckets = new Int32Array(xs.length);
    for (let i = 0; i < xs.length; i++) {
      buckets[i] = this.#grid.bucketOf(xs[i]!, ys[i]!);
      this.#starts[buckets[i]! + 1]! += 1;
    }
    for (let bucket = 0; bucket < this.#grid.count; bucket++) {
      this.#starts[bucket + 1]! += this.#starts[bucket]!;
    }
    const next = this.#starts.slice();
    for (let i = 0; i < xs.length; i++) this.#items[next[buckets[i]!]!++] = i;
  }

  /** Calls back with every point within `pad` of the edge, and others near it, each once. */
  visitNear(
    ax: number,
    ay: number,
    bx: number,
    by: number,
    pad: number,
    visit: (point: number) => void,
  ): void {
    this.#grid.visitAlong(ax, ay, bx, by, pad, (bucket) => {
      const end = this.#starts[bucket + 1]!;
      for (let i = this.#starts[bucket]!; i < end; i++) visit(this.#items[i]!);
    });
  }
}
