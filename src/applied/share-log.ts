import { Summer } from "../numeric/index.ts";
import { acres } from "../units/index.ts";
import type { LogPiece } from "./log-types.ts";

export interface SegmentPlaced {
  readonly placedLb: number;
  readonly placedLbPerAc: number;
  /** Shares of the segment that no swath covered, and that more than one did. */
  readonly skippedShare: number;
  readonly overlappedShare: number;
}

export interface MappedLog {
  /** In the order of the segments. */
  readonly segments: readonly SegmentPlaced[];
  /** lb of the whole log = inside + outside the segments. */
  readonly loggedLb: number;
  readonly insideLb: number;
  readonly outsideLb: number;
  readonly skippedM2: number;
  readonly overlappedM2: number;
}

/** Test points of a segment: how many, how many that no swath covered, and how many that more than one did. */
export interface CoverCounts {
  readonly points: number;
  readonly skips: number;
  readonly overlaps: number;
}

/**
 * A log's pounds shared by the test points that each of its pieces covers. `cover` gives the length of a piece and, for
 * every test point in it, the segment the point belongs to, -1 for none; `countsOf` is asked when all is covered. No pound is
 * lost.
 */
export function shareLog(
  pieces: readonly LogPiece[],
  segments: readonly { readonly areaM2: number }[],
  cover: (piece: LogPiece) => { readonly lengthM: number; readonly owners: readonly number[] },
  countsOf: (segment: number) => CoverCounts,
): MappedLog {
  const placed = segments.map(() => new Summer());
  const logged = new Summer();
  const outside = new Summer();
  for (const piece of pieces) {
    const { lengthM, owners } = cover(piece);
    const lb = piece.lbPerAc * acres(lengthM * piece.widthM);
    logged.add(lb);
    for (const s of owners) (s < 0 ? outside : placed[s]!).add(lb / owners.length);
  }
  const skipped = new Summer();
  const overlapped = new Summer();
  const results = segments.map(({ areaM2 }, s): SegmentPlaced => {
    const { points, skips, overlaps } = countsOf(s);
    const skippedShare = points === 0 ? 0 : skips / points;
    const overlappedShare = points === 0 ? 0 : overlaps / points;
    skipped.add(skippedShare * areaM2);
    overlapped.add(overlappedShare * areaM2);
    const placedLb = placed[s]!.total;
    return {
      placedLb,
      placedLbPerAc: areaM2 > 0 ? placedLb / acres(areaM2) : 0,
      skippedShare,
      overlappedShare,
    };
  });
  return {
    segments: results,
    loggedLb: logged.total,
    insideLb: logged.total - outside.total,
    outsideLb: outside.total,
    skippedM2: skipped.total,
    overlappedM2: overlapped.total,
  };
}

/** Counts of the test points at these places, by how often each was covered. */
export function coverCounts(places: readonly number[], times: Uint8Array): CoverCounts {
  const skips = places.filter((place) => times[place] === 0).length;
  const overlaps = places.filter((place) => times[place]! > 1).length;
  return { points: places.length, skips, overlaps };
}
