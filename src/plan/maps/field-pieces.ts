import { InputError, type Notice } from "../../errors/index.ts";
import {
  ellipsoidArea,
  type MultiPolygon,
  type Point,
  type Polygon,
  writtenPositions,
} from "../../geo/index.ts";
import { layOver } from "../../prescription/index.ts";
import {
  layoutNotices,
  planterMatch,
  type Segment,
  shiftedLine,
  spreaderCells,
  stripLayout,
  type WorkedRun,
} from "../../strips/index.ts";
import { acres, metresFromFeet, metresFromInches } from "../../units/index.ts";
import type { PlanField, PlanRig, PlanSpreader } from "../document/document-types.ts";
import type { LaidPasses, Pieces } from "../results/drive-result-types.ts";
import type { CheckedField, FieldGrid } from "../results/result-types.ts";
import { headlandPassesOf, rigDrive } from "../rig/rig-drive.ts";

/** What of a plan says how passes lie; the name only goes into notices. */
export const passSlice = (rig: PlanRig, field: PlanField, seasonYear: number): unknown => [
  [rig.rows, rig.rowSpacingIn, rig.segmentM, rig.headlands, rig.pattern, rig.turnRadiusFt, rig.planter],
  [rig.responseS, rig.work?.mph],
  [headlandPassesOf(rig, field), field.id],
  rig.oddYears === undefined || seasonYear % 2 === 0 ? null : rig.oddYears,
];

/**
 * The field cut into passes of the rig (rows times row spacing, the full swath) and those into segments: headland
 * passes all round where the plan wants them, the interior along the guidance line. Where `keptOff` lies, metres in
 * the field's plane, pieces are cut across.
 */
export function cutPasses(
  rig: PlanRig,
  field: PlanField,
  seasonYear: number,
  checked: CheckedField,
  cells: FieldGrid,
  keptOff: MultiPolygon,
): LaidPasses {
  const { widthM, turnRadiusM } = rigDrive(rig);
  const { along, shiftM } = movedLine(rig, seasonYear, checked.guidance);
  const layout = {
    boundary: checked.boundary,
    guidance: along,
    widthM,
    segmentM: rig.segmentM,
    headlandPasses: headlandPassesOf(rig, field),
    ...(rig.headlands ? { headlands: rig.headlands } : {}),
    ...(rig.pattern ? { pattern: rig.pattern } : {}),
    ...(rig.turnRadiusFt === undefined ? {} : { turnRadiusM }),
    keptOff,
  };
  const laid = stripLayout(layout);
  const { kept, ...written } = asWritten(laid.segments, checked, cells);
  const { runs, orderOf } = writtenRuns(laid.runs, kept);
  const notices = [
    ...layoutNotices(laid, layout),
    ...(rig.planter ? planterMatch(rig, rig.planter) : []),
    ...(laid.segments.some((segment) => segment.keptOff) ? [runsOn(rig)] : []),
  ].map((notice): Notice => ({ ...notice, where: `${field.id}: ${notice.where}` }));
  return {
    ...written,
    pieces: kept.map((k, i) => ({ ...laid.segments[k]!, ...orderOf[i]! })),
    runs,
    along,
    shiftM,
    widthM,
    headlandPasses: layout.headlandPasses,
    interior: laid.interior,
    interiorAc: acres(laid.interiorM2),
    headlandAc: acres(laid.headlandM2),
    notices,
  };
}

/** A meter stops no sooner than it follows any other rate. */
function runsOn(rig: PlanRig): Notice {
  const { speedMPerS, responseS } = rigDrive(rig);
  const assumed = rig.responseS === undefined ? " (assumed)" : "";
  const feet = (speedMPerS * responseS) / metresFromFeet(1);
  return {
    code: "exclusion-run-on",
    message: `A meter that needs ${responseS} s${assumed} lays product up to ${feet.toFixed(0)} ft into ground that is kept off: make its setback that much wider, or stop.`,
    where: "exclusions",
  };
}

/** The field cut into the cells that the spreader can give a rate of their own. */
export function cutSpreaderCells(
  spreader: PlanSpreader,
  checked: CheckedField,
  cells: FieldGrid,
  keptOff: MultiPolygon,
): Pieces {
  const { boundary, line } = checked;
  const [widthM, lengthM] = [metresFromFeet(spreader.widthFt), metresFromFeet(spreader.lengthFt)];
  const laid = spreaderCells({ boundary, line, widthM, lengthM, keptOff });
  const { kept, ...written } = asWritten(laid, checked, cells);
  return { ...written, pieces: kept.map((k) => laid[k]!) };
}

/** In odd years the line lies half a row to the side that the plan names. */
function movedLine(
  rig: PlanRig,
  seasonYear: number,
  guidance: readonly Point[],
): { along: readonly Point[]; shiftM: number } {
  const { oddYears } = rig;
  if (oddYears === undefined || seasonYear % 2 === 0) return { along: guidance, shiftM: 0 };
  if (guidance.length > 2) {
    throw new InputError(
      "shift-along-curve",
      `Strips along a curve of ${guidance.length} points are not shifted by half a row.`,
      "Shift the curve where it was made, or take oddYears out of the plan.",
    );
  }
  const rowM = metresFromInches(rig.rowSpacingIn);
  return {
    along: shiftedLine(guidance, rowM, seasonYear, oddYears),
    shiftM: (oddYears === "right" ? 0.5 : -0.5) * rowM,
  };
}

/**
 * The pieces as they will be written, with the acres of what is written; `kept` has the number each had. A piece too
 * narrow for the decimals of a file vanishes; one that they pinch apart becomes two.
 */
function asWritten(
  pieces: readonly Segment[],
  checked: CheckedField,
  cells: FieldGrid,
): Omit<Pieces, "pieces"> & { readonly kept: readonly number[] } {
  const tiles = writtenPositions(
    pieces.map((piece) => [piece.polygon]),
    checked.frame,
  );
  const kept: number[] = [];
  const written: Polygon[] = [];
  tiles.forEach((polygons, k) => {
    for (const polygon of polygons) {
      kept.push(k);
      written.push(polygon);
    }
  });
  return {
    kept,
    written,
    areaAc: Float64Array.from(written, (polygon) => acres(ellipsoidArea([polygon]))),
    overlaps: layOver(
      kept.map((k) => pieces[k]!),
      cells.grid,
      cells.areaM2,
    ),
  };
}

/** Runs with the numbers of the pieces as written, and each piece's place among them. */
function writtenRuns(
  laid: readonly WorkedRun[],
  kept: readonly number[],
): { runs: WorkedRun[]; orderOf: { run: number; order: number }[] } {
  const numbers = new Map<number, number[]>();
  kept.forEach((k, number) => {
    numbers.set(k, [...(numbers.get(k) ?? []), number]);
  });
  const orderOf: { run: number; order: number }[] = [];
  let order = 0;
  const runs = laid
    .map((run) => ({ ...run, segments: run.segments.flatMap((segment) => numbers.get(segment) ?? []) }))
    .filter(({ segments }) => segments.length > 0);
  runs.forEach(({ segments }, run) => {
    for (const segment of segments) orderOf[segment] = { run, order: order++ };
  });
  return { runs, orderOf };
}
