import {
  bandFaces,
  type FlatRing,
  latticeTilesOfRings,
  type MultiPolygon,
  type Point,
} from "../geo/index.ts";
import type { LaidTile } from "./laid-tile.ts";

/** A face this many times a plain piece is cut further: there the ring inside left the land far out. */
const FAR_TOO_BIG = 2;

/** Up the second axis: along the guidance line in its own frame. */
const NORTH: Point = [0, 1];

/**
 * The headland between the land (first) and the interior (last), pass by pass from the outside: each `rings` is the one
 * before less one width all round. Pieces lie between spokes across a pass; where no ring runs inside (a neck, a part too
 * narrow for an interior) they are cells of the lattice of widths and segment lengths instead.
 */
export const headlandTiles = (rings: readonly MultiPolygon[], widthM: number, segmentM: number): LaidTile[] =>
  rings.slice(1).flatMap((inner, index) => {
    const outer = rings[index]!;
    const pass = index + 1;
    const latticed = (loops: readonly FlatRing[]): LaidTile[] => latticeOf(loops, pass, widthM, segmentM);
    const faces = bandFaces(outer, inner, { depthM: widthM, stationM: segmentM });
    if (faces === undefined) return latticed([...flat(outer), ...flat(inner).map(reversed)]);
    return faces.flatMap(({ rings: loops, areaM2, along }) => {
      if (along === undefined || areaM2 > FAR_TOO_BIG * widthM * segmentM) return latticed(loops);
      const { ring, column, startM, endM, way } = along;
      return [
        { kind: "headland", pass, column, track: ring, alongM: [startM, endM], way, rings: loops } as const,
      ];
    });
  });

const latticeOf = (loops: readonly FlatRing[], pass: number, widthM: number, segmentM: number): LaidTile[] =>
  latticeTilesOfRings(loops, { widthM, lengthM: segmentM }).map(({ column, rings }) => ({
    kind: "headland",
    pass,
    column,
    track: -1,
    alongM: undefined,
    way: NORTH,
    rings,
  }));

const flat = (land: MultiPolygon): FlatRing[] =>
  land.flatMap((polygon) => polygon.map((ring) => ring.flat()));

const reversed = (ring: FlatRing): FlatRing => {
  const result: number[] = [];
  for (let i = ring.length - 2; i >= 0; i -= 2) result.push(ring[i]!, ring[i + 1]!);
  return result;
};
