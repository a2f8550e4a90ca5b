import {
  type Frame,
  type LatticeTile,
  latticeTiles,
  type MultiPolygon,
  multiPolygonArea,
  type Point,
  type Polygon,
  polygonArea,
  ringArea,
  ringFaults,
  STEPS_PER_METRE,
  snapFlatTiles,
  snapTiles,
  tilingFaults,
  writtenPositions,
} from "../../src/geo/index.ts";
import { sum } from "../../src/numeric/index.ts";

/** One connected piece of land in one cell of the lattice. */
export interface LatticePiece {
  readonly pass: number;
  readonly column: number;
  /** One outer ring and its holes. */
  readonly polygon: Polygon;
}

/** Land cut into passes and columns and rounded to 0.1 mm, as the layout does with each part of a field. */
export const latticeCut = (
  land: MultiPolygon,
  lattice: { readonly widthM: number; readonly lengthM: number },
): LatticePiece[] => {
  const tiles = latticeTiles(land, lattice);
  const snapped = snapFlatTiles(
    tiles.map((tile) => tile.rings),
    STEPS_PER_METRE,
  );
  return tiles.flatMap(({ pass, column }, index) =>
    snapped[index]!.map((polygon) => ({ pass, column, polygon })),
  );
};

export const tilesOf = (pieces: readonly LatticePiece[]): MultiPolygon[] =>
  pieces.map(({ polygon }) => [polygon]);

export const totalArea = (tiles: readonly MultiPolygon[]): number => sum(tiles.map(multiPolygonArea));

/** Signed area of cut tiles that have not been rounded. */
export const rawArea = (tiles: readonly LatticeTile[]): number =>
  sum(
    tiles.flatMap(({ rings }) =>
      rings.map((flat) =>
        ringArea(Array.from({ length: flat.length / 2 }, (_, i): Point => [flat[2 * i]!, flat[2 * i + 1]!])),
      ),
    ),
  );

export const perimeter = (land: MultiPolygon): number =>
  sum(
    land.flatMap((polygon) =>
      polygon.flatMap((ring) =>
        ring.map(([x, y], i) => {
          const [toX, toY] = ring[(i + 1) % ring.length]!;
          return Math.hypot(toX - x, toY - y);
        }),
      ),
    ),
  );

/** The land's outline with the vertices tiles have on it, and rounded as they are. */
export const outlineBeside = (tiles: readonly MultiPolygon[], land: MultiPolygon): MultiPolygon =>
  snapTiles([...tiles, land], STEPS_PER_METRE).at(-1)!;

export const invalidTiles = (tiles: readonly MultiPolygon[]): MultiPolygon[] =>
  tiles.filter(
    (tile) =>
      ringFaults(tile).length > 0 ||
      tile.some((polygon) => !(polygonArea(polygon) > 0 && ringArea(polygon[0]!) > 0)),
  );

/**
 * Written positions in whole steps of 1e-9 degree from the first: `ringFaults` forgives a share of the largest coordinate, and
 * about 90 degrees that is more than a hole of a square centimetre has.
 */
const inSteps = (tile: MultiPolygon): MultiPolygon => {
  const [lon0, lat0] = tile[0]?.[0]?.[0] ?? [0, 0];
  return tile.map((polygon) =>
    polygon.map((ring) =>
      ring.map(([lon, lat]): Point => [Math.round((lon - lon0) * 1e9), Math.round((lat - lat0) * 1e9)]),
    ),
  );
};

/** Tiles and their outline as written, checked to tile. */
export const written = (
  tiles: readonly MultiPolygon[],
  outline: MultiPolygon,
  frame: Frame,
): { tiles: MultiPolygon[]; outline: MultiPolygon; faults: readonly unknown[] } => {
  const all = writtenPositions([...tiles, outline], frame);
  const own = all.slice(0, -1);
  const border = all.at(-1)!;
  return {
    tiles: own,
    outline: border,
    faults: [...tilingFaults(own, border), ...invalidTiles(own.map(inSteps))],
  };
};
