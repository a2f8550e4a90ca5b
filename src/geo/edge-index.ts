import { BucketGrid } from "./bucket-grid.ts";
import type { Ring } from "./types.ts";

/** The two ends of each edge, in four arrays. */
export interface Edges {
  readonly ax: number[];
  readonly ay: number[];
  readonly bx: number[];
  readonly by: number[];
}

export const noEdges = (): Edges => ({ ax: [], ay: [], bx: [], by: [] });

export const addEdge = (
  { ax, ay, bx, by }: Edges,
  fromX: number,
  fromY: number,
  toX: number,
  toY: number,
): void => {
  ax.push(fromX);
  ay.push(fromY);
  bx.push(toX);
  by.push(toY);
};

/** The edges of rings, each ring closed, in order. */
export const edgesOf = (rings: readonly Ring[]): Edges => {
  const edges = noEdges();
  for (const ring of rings) {
    ring.forEach(([ax, ay], i) => {
      const [bx, by] = ring[(i + 1) % ring.length]!;
      addEdge(edges, ax, ay, bx, by);
    });
  }
  return edges;
};

/** Edges to be found near an edge or a point. */
export class EdgeIndex {
  readonly #grid: BucketGrid;
  readonly #buckets: number[][];
  readonly #seen: Int32Array;
  #visit = 0;

  constructor({ ax, ay, bx, by }: Edges) {
    let minX = 0;
    let minY = 0;
    let maxX = 0;
    let maxY = 0;
    for (let i = 0; i < ax.length; i++) {
      minX = i === 0 ? Math.min(ax[i]!, bx[i]!) : Math.min(minX, ax[i]!, bx[i]!);
      maxX = i === 0 ? Math.max(ax[i]!, bx[i]!) : Math.max(maxX, ax[i]!, bx[i]!);
      minY = i === 0 ? Math.min(ay[i]!, by[i]!) : Math.min(minY, ay[i]!, by[i]!);
      maxY = i === 0 ? Math.max(ay[i]!, by[i]!) : Math.max(maxY, ay[i]!, by[i]!);
    }
    this.#grid = new BucketGrid(minX, minY, maxX, maxY, ax.length);
    this.#buckets = Array.from({ length: this.#grid.count }, () => []);
    this.#seen = new Int32Array(ax.length);
    for (let i = 0; i < ax.length; i++) {
      this.#along(ax[i]!, ay[i]!, bx[i]!, by[i]!, 0, (bucket) => this.#buckets[bucket]!.push(i));
    }
  }

  /** Calls back with every edge that comes within `pad` of the edge, and others near it, each once. */
  visitNear(
    ax: number,
    ay: number,
    bx: number,
    by: number,
    pad: number,
    visit: (edge: number) => void,
  ): void {
    this.#visit += 1;
    this.#along(ax, ay, bx, by, pad, (bucket) => {
      for (const edge of this.#buckets[bucket]!) {
        if (this.#seen[edge] === this.#visit) continue;
        this.#seen[edge] = this.#visit;
        visit(edge);
      }
    });
  }

  #along(ax: number, ay: number, bx: number, by: number, pad: number, visit: (bucket: number) => void): void {
    const runs = this.#grid.findAlong(ax, ay, bx, by, pad);
    for (let run = 0; run < runs; run++) {
      const last = this.#grid.lasts[run]!;
      for (let bucket = this.#grid.firsts[run]!; bucket <= last; bucket++) visit(bucket);
    }
  }
}
