import { firstClockwise } from "./first-clockwise.ts";
import { nestLoops } from "./nest-loops.ts";
import { type Loop, splitAtRepeats } from "./retrace.ts";
import { VertexTable } from "./vertex-table.ts";

/** Rings with a band of land on their left and spokes across it: the faces between them. */
export class SpokeGraph {
  readonly vertices: VertexTable = new VertexTable();
  readonly #froms: number[] = [];
  readonly #tos: number[] = [];

  /** Takes a ring of the band's border, land on its left. */
  addRing(ring: Loop): void {
    ring.forEach((from, i) => {
      this.#addEdge(from, ring[(i + 1) % ring.length]!);
    });
  }

  /** Takes a spoke, which has the band on both sides. */
  addSpoke(from: number, to: number): void {
    this.#addEdge(from, to);
    this.#addEdge(to, from);
  }

  /**
   * The faces, each an outer loop and its holes, by place. Edges must meet only at vertices.
   * Undefined when the loops do not make faces: a hole in no face, or an edge in two.
   */
  faces(): Loop[][] | undefined {
    const outs = this.#outs();
    const walked = new Uint8Array(this.#froms.length);
    const loops: Loop[] = [];
    for (let first = 0; first < walked.length; first++) {
      if (walked[first] === 1) continue;
      const walk: number[] = [];
      let edge = first;
      do {
        if (walked[edge] === 1) return undefined;
        walked[edge] = 1;
        walk.push(this.#froms[edge]!);
        edge = this.#nextOf(edge, outs);
      } while (edge !== first);
      splitAtRepeats(walk, loops);
    }
    try {
      return nestLoops(
        loops.filter((loop) => loop.length > 2),
        this.vertices.xs,
        this.vertices.ys,
      );
    } catch {
      return undefined;
    }
  }

  #addEdge(from: number, to: number): void {
    if (from === to) return;
    this.#froms.push(from);
    this.#tos.push(to);
  }

  /** Numbers of the edges that leave each vertex. */
  #outs(): number[][] {
    const outs: number[][] = Array.from({ length: this.vertices.size }, () => []);
    this.#froms.forEach((from, edge) => {
      outs[from]!.push(edge);
    });
    return outs;
  }

  #nextOf(edge: number, outs: readonly (readonly number[])[]): number {
    const { xs, ys } = this.vertices;
    const at = this.#tos[edge]!;
    const ways = outs[at]!;
    if (ways.length === 1) return ways[0]!;
    const targets = ways.map((way) => this.#tos[way]!);
    return ways[targets.indexOf(firstClockwise(targets, this.#froms[edge]!, at, xs, ys))]!;
  }
}
