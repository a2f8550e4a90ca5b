import { ellipsoidArea, type Polygon, writtenPositions } from "../geo/index.ts";
import { layOver } from "../prescription/index.ts";
import { type Segment, spreaderCells, stripSegments } from "../strips/index.ts";
import { acres, metresFromFeet, metresFromInches } from "../units/index.ts";
import type { PlanRig, PlanSpreader } from "./document-types.ts";
import type { CheckedField, FieldGrid, Pieces } from "./result-types.ts";

/** The field cut into passes of the rig (rows times row spacing, the full swath) and those into segments. */
export function cutPasses(rig: PlanRig, checked: CheckedField, cells: FieldGrid): Pieces {
  const { boundary, line } = checked;
  const widthM = rig.rows * metresFromInches(rig.rowSpacingIn);
  return asWritten(stripSegments({ boundary, line, widthM, segmentM: rig.segmentM }), checked, cells);
}

/** The field cut into the cells that the spreader can give a rate of their own. */
export function cutSpreaderCells(spreader: PlanSpreader, checked: CheckedField, cells: FieldGrid): Pieces {
  const { boundary, line } = checked;
  const [widthM, lengthM] = [metresFromFeet(spreader.widthFt), metresFromFeet(spreader.lengthFt)];
  return asWritten(spreaderCells({ boundary, line, widthM, lengthM }), checked, cells);
}

/**
 * The pieces as they will be written, with the acres of what is written. A piece too narrow for the decimals of
 * a file vanishes; one that they pinch apart becomes two.
 */
function asWritten(pieces: readonly Segment[], checked: CheckedField, cells: FieldGrid): Pieces {
  const tiles = writtenPositions(
    pieces.map((piece) => [piece.polygon]),
    checked.frame,
  );
  const kept: Segment[] = [];
  const written: Polygon[] = [];
  tiles.forEach((polygons, k) => {
    for (const polygon of polygons) {
      kept.push(pieces[k]!);
      written.push(polygon);
    }
  });
  return {
    pieces: kept,
    written,
    areaAc: Float64Array.from(written, (polygon) => acres(ellipsoidArea([polygon]))),
    overlaps: layOver(kept, cells.grid, cells.areaM2),
  };
}
