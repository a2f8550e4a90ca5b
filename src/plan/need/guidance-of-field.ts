import { InputError } from "../../errors/index.ts";
import { fieldFrame, frameCentre, type MultiPolygon, mapPoints, type Point } from "../../geo/index.ts";
import { guidanceAt } from "../../strips/index.ts";
import type { PlanField } from "../document/document-types.ts";
import type { CheckedField, CheckedLand } from "../results/result-types.ts";
import { onlyPart, shapeAt } from "../sources/field-shapes.ts";
import type { Inputs } from "../sources/read-sources.ts";
import { FAR_M, farInWords, metresOff } from "./off-field.ts";

/**
 * What the rig steers by in a field: the line of its guidance file, or in its place the heading or the places typed.
 * Two points make straight passes, more a curve; `line` runs from the first to the last of them.
 */
export function guidanceOf(
  field: PlanField,
  land: CheckedLand,
  inputs: Inputs,
): Pick<CheckedField, "line" | "guidance"> {
  const guidance = pointsOf(field, land, inputs);
  refuseFarLine(field, land.boundary, guidance);
  return { guidance, line: [guidance[0]!, guidance.at(-1)!] };
}

function pointsOf(field: PlanField, { frame, boundary }: CheckedLand, inputs: Inputs): readonly Point[] {
  const { driveAlong } = field;
  if (driveAlong === undefined) return lineOfFile(field, inputs).map((place) => frame.toPlane(place));
  if ("headingDeg" in driveAlong) return guidanceAt(boundary, driveAlong.headingDeg);
  return driveAlong.places.map(({ lonDeg, latDeg }) => frame.toPlane([lonDeg, latDeg]));
}

/** The guidance line in degrees, before the field is looked at any closer. */
export function guidanceLonLat(
  field: PlanField,
  boundaryLonLat: MultiPolygon,
  inputs: Inputs,
): readonly Point[] {
  const { driveAlong } = field;
  if (driveAlong === undefined) return lineOfFile(field, inputs);
  if ("places" in driveAlong) return driveAlong.places.map(({ lonDeg, latDeg }) => [lonDeg, latDeg]);
  const frame = fieldFrame(...frameCentre(boundaryLonLat));
  const boundary = mapPoints(boundaryLonLat, frame.toPlane);
  return guidanceAt(boundary, driveAlong.headingDeg).map((at) => frame.toLonLat(at));
}

function lineOfFile(field: PlanField, inputs: Inputs): readonly Point[] {
  const { source, record } = field.guidance;
  const feature = shapeAt(inputs.file(source), record, "line");
  const where = `${source}, record ${record}`;
  if (feature.geometry?.kind !== "line") {
    throw new InputError(
      "not-a-line",
      `${where}: not a line.`,
      "Name the record that holds the field's guidance line.",
    );
  }
  const points = onlyPart(feature.geometry.parts, where);
  if (points.length >= 2) return points;
  throw new InputError(
    "guidance-missing",
    `${where}: the line has ${points.length} points.`,
    "Give a line of two points, A and B, or of more along a curve.",
  );
}

function refuseFarLine(field: PlanField, boundary: MultiPolygon, points: readonly Point[]): void {
  const nearM = Math.min(...points.map((end) => metresOff(boundary, end)));
  if (nearM <= FAR_M) return;
  throw new InputError(
    "guidance-far-away",
    `${field.name}: its guidance line begins ${farInWords(nearM)} from the field.`,
    "Give the line that was driven in this field.",
  );
}
