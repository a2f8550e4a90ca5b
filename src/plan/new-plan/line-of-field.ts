import { InputError } from "../../errors/index.ts";
import { plainName } from "../../formats/index.ts";
import {
  containsPoint,
  distanceToBoundary,
  fieldFrame,
  frameCentre,
  mapPoints,
  type Point,
} from "../../geo/index.ts";
import type { NamedField, NamedLine } from "../sources/field-shapes.ts";

/**
 * The guidance line of a field: the one whose file names the field, else the only line there is, else the line
 * whose middle is nearest to the field. Throws `field-without-line`.
 */
export function lineOf(field: NamedField, lines: readonly NamedLine[]): NamedLine {
  const named = lines.find(
    (line) =>
      line.field !== null && [plainName(field.name), plainName(field.id)].includes(plainName(line.field)),
  );
  if (named) return named;
  const free = lines.filter((line) => line.field === null);
  if (free.length === 0) {
    throw new InputError(
      "field-without-line",
      `${field.name}: no guidance line is named for it.`,
      "Add its line A-B, with the field's name in the property “field”.",
    );
  }
  if (free.length === 1) return free[0]!;
  const frame = fieldFrame(...frameCentre(field.boundary));
  const plane = mapPoints(field.boundary, frame.toPlane);
  const distanceM = (line: NamedLine) => {
    const middle = frame.toPlane(middleOf(line.points));
    return containsPoint(plane, middle) ? 0 : distanceToBoundary(plane, middle);
  };
  return free.reduce((best, line) => (distanceM(line) < distanceM(best) ? line : best));
}

/** Pieces a stretch of a line is looked at in. */
const LOOKED_AT = 100;

/** Metres from a line, nowhere extended, to a field; 0 where it touches it. */
export function lineDistanceM({ boundary }: Pick<NamedField, "boundary">, points: readonly Point[]): number {
  const frame = fieldFrame(...frameCentre(boundary));
  const plane = mapPoints(boundary, frame.toPlane);
  let least = Number.POSITIVE_INFINITY;
  points.forEach((end, i) => {
    const begin = points[i - 1] ?? end;
    for (let k = i === 0 ? LOOKED_AT : 1; k <= LOOKED_AT; k++) {
      const at = frame.toPlane([
        begin[0] + ((end[0] - begin[0]) * k) / LOOKED_AT,
        begin[1] + ((end[1] - begin[1]) * k) / LOOKED_AT,
      ]);
      least = Math.min(least, containsPoint(plane, at) ? 0 : distanceToBoundary(plane, at));
    }
  });
  return least;
}

function middleOf(points: readonly Point[]): Point {
  const [first, last] = [points[0]!, points.at(-1)!];
  return [(first[0] + last[0]) / 2, (first[1] + last[1]) / 2];
}
