import { InputError } from "../errors/index.ts";
import {
  insetLand,
  type MultiPolygon,
  multiPolygonArea,
  type Point,
  polygonArea,
  STEPS_PER_METRE,
  snapFlatTiles,
  weldTiles,
} from "../geo/index.ts";
import { curveTiles } from "./curve-tiles.ts";
import { cutKeptOff } from "./cut-kept-off.ts";
import { guidanceFrame, movePolygons } from "./guidance-frame.ts";
import { headlandTiles } from "./headland-tiles.ts";
import type { LaidPiece, LaidTile } from "./laid-tile.ts";
import { requirePositive, straightTiles } from "./strip-segments.ts";
import { withoutHairs } from "./without-hairs.ts";
import { type WorkedRun, type WorkedSegment, workTiles } from "./work-tiles.ts";
import type { Pattern } from "./working-order.ts";

export interface RigLayout {
  /** Land to be worked, in the field's plane, metres. Its rings must not cross (`ringFaults`, `repairBoundary`). */
  readonly boundary: MultiPolygon;
  /** Two points, A then B: straight passes. More: passes parallel to that line. In the field's plane, metres. */
  readonly guidance: readonly Point[];
  /** Rows times row spacing, metres. */
  readonly widthM: number;
  /** Length of a segment along its pass, metres. */
  readonly segmentM: number;
  /** Passes round the inside of the boundary and round its holes, 0 to 4. */
  readonly headlandPasses: number;
  /** Whether the headland is worked after the interior or before it; last when left out. */
  readonly headlands?: "last" | "first";
  /** Back-and-forth when left out. */
  readonly pattern?: Pattern;
  /** Smallest radius the rig turns by, metres; `ASSUMED_TURN_RADIUS_M` when left out. */
  readonly turnRadiusM?: number;
  /** Ground to be kept off, in the field's plane, metres: pieces are cut across where it begins and ends. */
  readonly keptOff?: MultiPolygon;
}

export interface LaidStrips {
  /** Interior by pass, column and place, then headland by pass, ring and column; `order` says when each is worked. */
  readonly segments: readonly WorkedSegment[];
  /** In working order. */
  readonly runs: readonly WorkedRun[];
  /** The land inside the headland, as it was before the rounding to 0.1 mm, in the field's plane. */
  readonly interior: MultiPolygon;
  readonly boundaryM2: number;
  readonly interiorM2: number;
  readonly headlandM2: number;
}

/** Turning radius where none is given: a common tractor with a mounted or short-coupled implement (assumed). */
export const ASSUMED_TURN_RADIUS_M = 9;

/** The clipper rounds to a micrometre, so what it cut for two neighbours may differ by a few; a lattice step is five times this. */
const WELD_M = 2e-5;

/**
 * The land laid out as a rig drives it: headland passes all round, the interior in passes along the guidance line, each cut
 * into segments, runs in working order. Every inner edge of the segments occurs once each way, so they tile the land;
 * corners lie on 0.1 mm. Pass 0 of the interior holds the guidance line and numbers rise to its right; headland pass 1 lies
 * outermost. A run under 2 cm wide all along is none: its land goes to the pass beside it (`withoutHairs`). Throws the errors of `guidanceFrame`, `length-not-positive`, `headland-passes` and `guidance-crosses-itself`.
 */
export const stripLayout = (layout: RigLayout): LaidStrips => {
  const { boundary, guidance, widthM, segmentM, headlandPasses } = layout;
  requirePositive("width of the implement", widthM);
  requirePositive("segment length", segmentM);
  const turnRadiusM = layout.turnRadiusM ?? ASSUMED_TURN_RADIUS_M;
  requirePositive("turning radius", turnRadiusM);
  requireHeadlands(headlandPasses);
  const isCurve = guidance.length > 2;
  const frame = guidanceFrame(
    isCurve
      ? [
          [0, 0],
          [0, 1],
        ]
      : guidance,
  );
  const rings = headlandRings(movePolygons(boundary, frame.toGuidance), widthM, headlandPasses);
  const interior = rings[rings.length - 1]!;
  const laid = [
    ...(isCurve
      ? curveTiles(interior, guidance, widthM, segmentM).tiles
      : straightTiles(interior, widthM, segmentM)),
    ...headlandTiles(rings, widthM, segmentM),
  ];
  const pieces = withoutHairs(
    roundedPieces(cutKeptOff(laid, movePolygons(layout.keptOff ?? [], frame.toGuidance)), isCurve),
  );
  const boundaryM2 = multiPolygonArea(rings[0]!);
  const interiorM2 = multiPolygonArea(interior);
  return {
    ...workTiles(pieces, frame, {
      widthM,
      turnRadiusM,
      pattern: layout.pattern ?? "back-and-forth",
      headlands: layout.headlands ?? "last",
    }),
    interior: movePolygons(interior, frame.toPlane),
    boundaryM2,
    interiorM2,
    headlandM2: boundaryM2 - interiorM2,
  };
};

const requireHeadlands = (passes: number): void => {
  if (Number.isInteger(passes) && passes >= 0 && passes <= 4) return;
  throw new InputError(
    "headland-passes",
    `${passes} headland passes were asked for.`,
    "Give a whole number from 0 to 4.",
  );
};

/** The land, then what is left inside each headland pass. */
const headlandRings = (land: MultiPolygon, widthM: number, passes: number): MultiPolygon[] => {
  const rings = [land];
  for (let pass = 0; pass < passes; pass++) rings.push(insetLand(rings[pass]!, widthM));
  return rings;
};

const roundedPieces = (laid: readonly LaidTile[], weld: boolean): LaidPiece[] => {
  const rings = laid.map((tile) => tile.rings);
  const snapped = snapFlatTiles(weld ? weldTiles(rings, WELD_M) : rings, STEPS_PER_METRE);
  return laid.flatMap((tile, i) =>
    snapped[i]!.map((polygon) => ({ ...tile, polygon, areaM2: polygonArea(polygon) })),
  );
};
