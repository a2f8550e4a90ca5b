import { InputError } from "../errors/index.ts";
import {
  latticeTiles,
  type MultiPolygon,
  type Point,
  type Polygon,
  polygonArea,
  STEPS_PER_METRE,
  snapFlatTiles,
} from "../geo/index.ts";
import { cutKeptOff } from "./cut-kept-off.ts";
import { guidanceFrame, movePolygons } from "./guidance-frame.ts";
import type { LaidTile } from "./laid-tile.ts";

/** A piece of a pass: one connected piece of land in one cell of the pass lattice. */
export interface Segment {
  /** Pass 0 holds the guidance line; numbers rise to its right. */
  readonly pass: number;
  /** Counted along the line from A. */
  readonly column: number;
  /** In the field's plane, metres; oriented. */
  readonly polygon: Polygon;
  readonly areaM2: number;
  /** Where the piece begins and ends, metres along the line from A. */
  readonly alongStartM: number;
  readonly alongEndM: number;
  /** Nothing is to come down on it: it lies, or some of its width does, in ground that is kept off. */
  readonly keptOff?: true;
}

interface StripLayout {
  /** Land to be worked, in the field's plane, metres. Its rings must not cross (`ringFaults`). */
  readonly boundary: MultiPolygon;
  /** Guidance line from A to B, in the field's plane, metres. */
  readonly line: readonly Point[];
  /** Width of the implement, metres. */
  readonly widthM: number;
  /** Length of a segment along the line, metres. */
  readonly segmentM: number;
  /** Ground to be kept off, in the field's plane, metres: pieces are cut across where it begins and ends. */
  readonly keptOff?: MultiPolygon;
}

/**
 * The land cut into passes and segments that tile it exactly. Pass k is the slab from (k - 1/2) to (k + 1/2) widths to the
 * right of the line; column j spans j to j + 1 segment lengths from A. Sorted by pass, then column, then place; where the
 * boundary splits a cell there are several segments. Corners lie on 0.1 mm in the frame of the line, and
 * points that segments share are one and the same.
 * Throws the errors of `guidanceFrame`, and `length-not-positive` for a width or a segment length that is not above 0.
 */
export const stripSegments = ({ boundary, line, widthM, segmentM, keptOff }: StripLayout): Segment[] => {
  const { toGuidance, toPlane } = guidanceFrame(line);
  requirePositive("width of the implement", widthM);
  requirePositive("segment length", segmentM);
  const tiles = cutKeptOff(
    straightTiles(movePolygons(boundary, toGuidance), widthM, segmentM),
    movePolygons(keptOff ?? [], toGuidance),
  );
  const snapped = snapFlatTiles(
    tiles.map((tile) => tile.rings),
    STEPS_PER_METRE,
  );
  const pieces = tiles.flatMap((tile, i) => snapped[i]!.map((polygon) => ({ tile, polygon })));
  const polygons = movePolygons(
    pieces.map(({ polygon }) => polygon),
    toPlane,
  );
  return pieces.map(({ tile, polygon }, index) => ({
    pass: tile.pass,
    column: tile.column,
    polygon: polygons[index]!,
    areaM2: polygonArea(polygon),
    alongStartM: polygon[0]!.reduce((least, [, along]) => Math.min(least, along), Number.POSITIVE_INFINITY),
    alongEndM: polygon[0]!.reduce((most, [, along]) => Math.max(most, along), Number.NEGATIVE_INFINITY),
    ...(tile.keptOff ? { keptOff: true } : {}),
  }));
};

/** Land in the frame of the guidance line cut into the lattice of passes and columns, not yet rounded. */
export const straightTiles = (land: MultiPolygon, widthM: number, segmentM: number): LaidTile[] =>
  latticeTiles(land, { widthM, lengthM: segmentM }).map(({ pass, column, rings }) => ({
    kind: "interior",
    pass,
    column,
    track: 0,
    alongM: undefined,
    way: [0, 1],
    rings,
  }));

export const requirePositive = (name: string, metres: number): void => {
  if (metres > 0 && Number.isFinite(metres)) return;
  throw new InputError("length-not-positive", `The ${name} is ${metres} m.`, `Give a ${name} above 0.`);
};
