import { edgeNeighbours, type Polygon, polygonArea, unionOfTiles } from "../geo/index.ts";
import { connectedPieces } from "./connected-pieces.ts";
import type { LaidPiece } from "./laid-tile.ts";

/** Narrower than this nobody drives: about what seven decimals of a degree and a fixed receiver leave open (ours). */
const HAIR_M = 0.02;

/**
 * The pieces without the runs that are hairs: under 2 cm wide in every piece, as where a field is a whole number of widths
 * wide but for the rounding of its corners. Their land goes to the pieces beside them, so that no land is lost and all still
 * tile. A hair stays where it has no neighbour of its kind, interior or headland, or would take product onto what is kept off.
 */
export const withoutHairs = (pieces: readonly LaidPiece[]): readonly LaidPiece[] => {
  if (!pieces.some(isThin)) return pieces;
  const hairs = connectedPieces(pieces).filter((members) => members.every((i) => isThin(pieces[i]!)));
  if (hairs.length === 0) return pieces;
  const besides = neighboursOf(pieces, new Set(hairs.flat()));
  const joins = new Map<number, number[]>();
  const gone = new Set<number>();
  for (const members of hairs) {
    if (!members.every((i) => besides.has(i))) continue;
    for (const i of members) {
      const into = besides.get(i)!;
      joins.set(into, [...(joins.get(into) ?? []), i]);
      gone.add(i);
    }
  }
  return pieces.flatMap((piece, i) => {
    const joined = joins.get(i);
    if (joined === undefined) return gone.has(i) ? [] : [piece];
    return unionOfTiles([piece.polygon, ...joined.map((k) => pieces[k]!.polygon)]).map((polygon) => ({
      ...piece,
      polygon,
      areaM2: polygonArea(polygon),
    }));
  });
};

/** Of a long thin piece twice its area over the length of its rings is its mean width. */
const isThin = ({ areaM2, polygon }: LaidPiece): boolean => 2 * areaM2 < HAIR_M * lengthOfRings(polygon);

const lengthOfRings = (polygon: Polygon): number => {
  let length = 0;
  for (const ring of polygon) {
    let [fromX, fromY] = ring[ring.length - 1]!;
    for (const [x, y] of ring) {
      length += Math.hypot(x - fromX, y - fromY);
      [fromX, fromY] = [x, y];
    }
  }
  return length;
};

/** The piece beside each hair that it shares the most edge with. */
const neighboursOf = (pieces: readonly LaidPiece[], hairs: ReadonlySet<number>): Map<number, number> => {
  const edges = new Map<number, Map<number, number>>();
  edgeNeighbours(
    pieces.map(({ polygon }) => polygon),
    (one, other, lengthM) => {
      for (const [hair, beside] of [
        [one, other],
        [other, one],
      ] as const) {
        if (!hairs.has(hair) || hairs.has(beside) || !mayJoin(pieces[hair]!, pieces[beside]!)) continue;
        const own = edges.get(hair) ?? new Map<number, number>();
        own.set(beside, (own.get(beside) ?? 0) + lengthM);
        edges.set(hair, own);
      }
    },
  );
  return new Map(
    [...edges].map(([hair, beside]) => [hair, [...beside].reduce((a, b) => (b[1] > a[1] ? b : a))[0]]),
  );
};

/** A hair may be kept off with the piece beside it, but what is kept off goes to no piece that product comes down on. */
const mayJoin = (hair: LaidPiece, beside: LaidPiece): boolean =>
  hair.kind === beside.kind && (hair.keptOff !== true || beside.keptOff === true);
