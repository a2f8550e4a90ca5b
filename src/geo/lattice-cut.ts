import { type Bands, cutIntoBands } from "./band-cut.ts";
import type { FlatRing } from "./flat-ring.ts";
import { orient } from "./orient.ts";
import type { MultiPolygon } from "./types.ts";

/** Steps a metre to which cut tiles are rounded: 0.1 mm. */
export const STEPS_PER_METRE = 10_000;

interface Lattice {
  /** Across the line: pass k spans (k - 1/2) to (k + 1/2) of these. */
  readonly widthM: number;
  /** Along the line: column j spans j to j + 1 of these. */
  readonly lengthM: number;
}

/** The land in one cell of the lattice, before rounding: rings with land on their left. */
export interface LatticeTile {
  readonly pass: number;
  readonly column: number;
  readonly rings: readonly FlatRing[];
}

/**
 * Land cut into the cells of a lattice, by pass, then column, not yet rounded: some rings may have no width, and
 * T-junctions have no vertex on the long side (`snapFlatTiles` rounds them and gives it them). The signed areas of the rings
 * add up to the land's. The points are [across, along]: metres to the right of the guidance line, then metres along it from
 * its start. (In this order, and not [along, right], the plane is turned and not mirrored, so rings keep their direction.)
 * Rings must not cross (`ringFaults`); they may touch at vertices. A vertex on a line counts as beyond it.
 */
export const latticeTiles = (land: MultiPolygon, lattice: Lattice): LatticeTile[] =>
  latticeTilesOfRings(
    orient(land).flatMap((polygon) => polygon.map((ring) => ring.flat())),
    lattice,
  );

/** The same for loose rings with land on the left. */
export const latticeTilesOfRings = (
  rings: readonly FlatRing[],
  { widthM, lengthM }: Lattice,
): LatticeTile[] => {
  if (!rings.every((ring) => ring.every(Number.isFinite)))
    throw new Error("latticeTiles: a vertex is not finite");
  const passes: Bands = { axis: 0, line: (band) => (band - 0.5) * widthM };
  const columns: Bands = { axis: 1, line: (band) => band * lengthM };
  return sortedByBand(cutIntoBands(rings, passes)).flatMap(([pass, slab]) =>
    sortedByBand(cutIntoBands(slab, columns)).map(([column, tile]) => ({ pass, column, rings: tile })),
  );
};

const sortedByBand = (bands: Map<number, FlatRing[]>): [number, FlatRing[]][] =>
  [...bands].sort(([a], [b]) => a - b);
