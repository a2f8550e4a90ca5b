/** Squares of one size over a box, row by row, for finding what lies near an edge without looking at everything. */
export class BucketGrid {
  readonly count: number;
  /** First and last bucket of each run that `findAlong` found. */
  readonly firsts: number[] = [];
  readonly lasts: number[] = [];
  readonly #minX: number;
  readonly #minY: number;
  readonly #size: number;
  readonly #nx: number;
  readonly #ny: number;

  /** About as many buckets as `items`; the box may be a line or a point. */
  constructor(minX: number, minY: number, maxX: number, maxY: number, items: number) {
    const width = maxX - minX;
    const height = maxY - minY;
    const wanted = Math.max(1, items);
    const size = Math.max(Math.sqrt((width * height) / wanted), Math.max(width, height) / wanted);
    this.#minX = minX;
    this.#minY = minY;
    this.#size = size > 0 ? size : 1;
    this.#nx = Math.floor(width / this.#size) + 1;
    this.#ny = Math.floor(height / this.#size) + 1;
    this.count = this.#nx * this.#ny;
  }

  bucketOf(x: number, y: number): number {
    return this.#row(y) * this.#nx + this.#column(x);
  }

  /**
   * Leaves in `firsts` and `lasts` runs of buckets that hold all that comes within `pad` of the edge, and perhaps a few
   * more, no bucket twice. Returns the number of runs; they hold until the next call.
   */
  findAlong(ax: number, ay: number, bx: number, by: number, pad: number): number {
    const lowY = Math.min(ay, by);
    const highY = Math.max(ay, by);
    const lowX = Math.min(ax, bx);
    const highX = Math.max(ax, bx);
    const firstRow = this.#row(lowY - pad);
    const lastRow = this.#row(highY + pad);
    const slope = highY > lowY ? (bx - ax) / (by - ay) : 0;
    const slack = pad + 1e-9 * this.#size;
    for (let row = firstRow; row <= lastRow; row++) {
      let west = lowX;
      let east = highX;
      if (firstRow !== lastRow && highY > lowY) {
        const bottom = Math.max(lowY, this.#minY + row * this.#size - pad);
        const top = Math.min(highY, this.#minY + (row + 1) * this.#size + pad);
        const atBottom = ax + (bottom - ay) * slope;
        const atTop = ax + (top - ay) * slope;
        west = Math.max(lowX, Math.min(atBottom, atTop));
        east = Math.min(highX, Math.max(atBottom, atTop));
      }
      this.firsts[row - firstRow] = row * this.#nx + this.#column(west - slack);
      this.lasts[row - firstRow] = row * this.#nx + this.#column(east + slack);
    }
    return lastRow - firstRow + 1;
  }

  #column(x: number): number {
    return Math.min(this.#nx - 1, Math.max(0, Math.floor((x - this.#minX) / this.#size)));
  }

  #row(y: number): number {
    return Math.min(this.#ny - 1, Math.max(0, Math.floor((y - this.#minY) / this.#size)));
  }
}
