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

  /** The first edge clockwise from the way back; the way back itself comes last. */
  #nextOf(edge: number, outs: readonly (readonly number[])[]): number {
    const { xs, ys } = this.vertices;
    const from = this.#froms[edge]!;
    const at = this.#tos[edge]!;
    const choices = outs[at]!;
    if (choices.length === 1) return choices[0]!;
    const backX = xs[from]! - xs[at]!;
    const backY = ys[from]! - ys[at]!;
    let best = choices[0]!;
    let least = Number.POSITIVE_INFINITY;
    for (const choice of choices) {
      const to = this.#tos[choice]!;
      const x = xs[to]! - xs[at]!;
      const y = ys[to]! - ys[at]!;
      const turn = to === from ? 4 : quarters(backX * x + backY * y, backY * x - backX * y);
      if (turn >= least) continue;
      least = turn;
      best = choice;
    }
    return best;
  }
}

/** A measure of the angle of (x, y), 0 to 4 in a full turn, that rises as the angle does. */
const quarters = (x: number, y: number): number => {
  const share = y / (Math.abs(x) + Math.abs(y));
  if (x < 0) return 2 - share;
  return y < 0 ? 4 + share : share;
};
