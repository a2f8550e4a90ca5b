import { edgeNeighbours, type Polygon } from "../geo/index.ts";
import { joinedSets } from "../numeric/index.ts";
import type { LaidPiece } from "./laid-tile.ts";

/** Sets of pieces of one pass and track that hang together by edges, by their first piece. */
export const connectedPieces = (pieces: readonly LaidPiece[]): number[][] => {
  const sets = joinedSets(pieces.length);
  const polygons: Polygon[] = pieces.map(({ polygon }) => polygon);
  edgeNeighbours(polygons, (one, other) => {
    const a = pieces[one]!;
    const b = pieces[other]!;
    if (a.kind !== b.kind || a.pass !== b.pass || a.track !== b.track) return;
    sets.join(one, other);
  });
  const members = new Map<number, number[]>();
  pieces.forEach((_, i) => {
    const first = sets.leastOf(i);
    const set = members.get(first);
    if (set === undefined) members.set(first, [i]);
    else set.push(i);
  });
  return [...members.values()];
};
