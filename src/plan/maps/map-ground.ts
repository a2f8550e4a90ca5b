import { type Ground, meltedGround, numberedZones, type Prescription } from "../../prescription/index.ts";
import type { WorkedSegment } from "../../strips/index.ts";
import type { Plan } from "../document/document-types.ts";
import type { Pieces } from "../results/drive-result-types.ts";

/** The polygons of a map: its pieces, or where it has stretches one polygon a stretch. */
export function groundOf(plan: Plan, map: Pick<Prescription, "stretchOf">, ground: Pieces): Ground {
  const { stretchOf } = map;
  if (stretchOf === undefined) return { polygons: ground.written, zones: zoneNames(ground) };
  return meltedGround({
    polygons: ground.written,
    pieces: ground.pieces,
    passNames: ground.pieces.map(passName),
    stretchOf,
    orderOf: ground.pieces.map((piece, k) => (piece as Partial<WorkedSegment>).order ?? k),
    mostVertices: plan.controller?.mostVertices ?? Number.POSITIVE_INFINITY,
  });
}

/** `12`; headland passes are `H1` and so on, from the boundary inward. */
const passName = (piece: Pieces["pieces"][number]): string =>
  isHeadland(piece) ? `H${piece.pass}` : String(piece.pass);

export const isHeadland = (piece: Pieces["pieces"][number]): boolean =>
  (piece as Partial<WorkedSegment>).kind === "headland";

/** `12-3` is pass 12, segment 3, `H1-3` the same of headland pass 1; further pieces of it are `12-3-2`, `12-3-3`. */
export const zoneNames = (ground: Pieces): string[] =>
  numberedZones(ground.pieces.map((piece) => `${passName(piece)}-${piece.column}`));
