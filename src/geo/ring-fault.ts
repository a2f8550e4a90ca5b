import type { Point } from "./types.ts";

type RingFaultKind = "crossing" | "overlap" | "spike" | "repeated" | "too-few" | "hole-outside" | "zero-area";

/** Which vertex, counted from 0 as given: part of the multipolygon, ring of the part, vertex of the ring. */
export interface VertexPlace {
  readonly part: number;
  readonly ring: number;
  readonly vertex: number;
}

export interface RingFault extends VertexPlace {
  readonly kind: RingFaultKind;
  /** In the coordinates of the rings. */
  readonly place: Point;
  /** For a crossing or an overlap of two edges: where the other edge starts. */
  readonly other?: VertexPlace;
}

/** A ring without repeated vertices, and the number each of the rest had. */
export interface CleanRing {
  readonly part: number;
  readonly ring: number;
  readonly points: Point[];
  readonly numbers: number[];
}
