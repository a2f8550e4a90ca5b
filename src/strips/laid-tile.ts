import type { FlatRing, Point, Polygon } from "../geo/index.ts";

/** A piece of a pass before rounding, in the frame it is laid in: rings with land on the left. */
export interface LaidTile {
  readonly kind: "interior" | "headland";
  /** Interior: pass 0 holds the guidance line, numbers rise to its right. Headland: 1 lies outermost. */
  readonly pass: number;
  /** Counted along the pass. */
  readonly column: number;
  /** The line of the pass it lies on: on headlands the ring, counted over all parts; -1 where none could be laid. */
  readonly track: number;
  /** Metres along the pass; undefined where they follow from the piece's own corners. */
  readonly alongM: readonly [start: number, end: number] | undefined;
  /** Unit vector along the pass, the way metres along it rise. */
  readonly way: Point;
  readonly rings: readonly FlatRing[];
  /** Nothing is to come down on it. */
  readonly keptOff?: true;
}

/** The same as it is written: one polygon, rounded to 0.1 mm, in the frame it is laid in; m2. */
export interface LaidPiece extends LaidTile {
  readonly polygon: Polygon;
  readonly areaM2: number;
}
