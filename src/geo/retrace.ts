import { firstClockwise } from "./first-clockwise.ts";

/** Numbers of vertices in order, the first not repeated. */
export type Loop = readonly number[];

/**
 * Rings given as numbers of vertices on an integer lattice, land on the left of every edge, made into simple loops that
 * bound the same land: stretches walked both ways (needles, necks and slivers of no width) fall away, and a loop that
 * meets itself at a vertex is split there, so that shells come out counter-clockwise and holes clockwise.
 * A vertex that lies on an edge must be a vertex of that edge. Throws when land is laid twice.
 */
export const retrace = (rings: readonly Loop[], xs: ArrayLike<number>, ys: ArrayLike<number>): Loop[] => {
  const outs = netEdges(rings);
  const walked = new Set<number>();
  const loops: Loop[] = [];
  for (const [start, targets] of outs) {
    for (const first of targets) {
      if (walked.has(edgeKey(start, first))) continue;
      const walk: number[] = [];
      let from = start;
      let to = first;
      do {
        const key = edgeKey(from, to);
        if (walked.has(key)) throw new Error("retrace: loops run into one another; the tile crosses itself");
        walked.add(key);
        walk.push(from);
        const next = firstClockwise(outs.get(to)!, from, to, xs, ys);
        from = to;
        to = next;
      } while (from !== start || to !== first);
      splitAtRepeats(walk, loops);
    }
  }
  return loops;
};

const edgeKey = (from: number, to: number): number => from * 0x4000000 + to;

/** Edges left when opposite ones have cancelled, as the vertices led to from each vertex. */
const netEdges = (rings: readonly Loop[]): Map<number, number[]> => {
  const outs = new Map<number, number[]>();
  for (const ring of rings) {
    ring.forEach((to, index) => {
      const from = ring[(index + ring.length - 1) % ring.length]!;
      if (from === to) return;
      const back = outs.get(to);
      const opposite = back === undefined ? -1 : back.indexOf(from);
      if (opposite >= 0) {
        back!.splice(opposite, 1);
        return;
      }
      const targets = outs.get(from);
      if (targets === undefined) outs.set(from, [to]);
      else targets.push(to);
    });
  }
  for (const targets of outs.values()) {
    if (new Set(targets).size < targets.length) throw new Error("retrace: land lies twice in one tile");
  }
  return outs;
};

/** Cuts a walk into loops that visit no vertex twice. */
export const splitAtRepeats = (walk: readonly number[], loops: Loop[]): void => {
  const path: number[] = [];
  const place = new Map<number, number>();
  for (const vertex of walk) {
    const earlier = place.get(vertex);
    if (earlier !== undefined) {
      const loop = path.splice(earlier);
      for (const dropped of loop) place.delete(dropped);
      loops.push(loop);
    }
    place.set(vertex, path.length);
    path.push(vertex);
  }
  loops.push(path);
};
