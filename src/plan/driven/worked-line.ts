import { InputError } from "../../errors/index.ts";
import { isLonLat, type Point } from "../../geo/index.ts";
import { FAR_M, farInWords, metresOff } from "../need/off-field.ts";
import type { FieldResult } from "../results/result-types.ts";

/**
 * The line that parts what is worked from what is left, in metres of the field's plane. Throws `line-not-lon-lat` for an end
 * that lies nowhere and `line-far-away` for one more than 5 km from the field.
 */
export function workedLine(
  { field, checked }: Pick<FieldResult, "field" | "checked">,
  line: readonly [Point, Point],
): readonly [Point, Point] {
  const typed = typedLine(line);
  const [a, b] = line.map((end, e): Point => {
    const name = `the ${e === 0 ? "first" : "second"} end, longitude ${end[0]} and latitude ${end[1]},`;
    if (!isLonLat(end)) {
      throw new InputError(
        "line-not-lon-lat",
        `${typed}: ${name} is no place on the globe`,
        "Give LON,LAT,LON,LAT in degrees, longitude first; west is negative.",
      );
    }
    const at = checked.frame.toPlane(end);
    const farM = metresOff(checked.boundary, at);
    if (farM <= FAR_M) return at;
    throw new InputError(
      "line-far-away",
      `${typed}: ${name} lies ${farInWords(farM)} from ${field.name}`,
      "Give both ends in or near the field: LON,LAT,LON,LAT, longitude first; west is negative.",
    );
  });
  return [a!, b!];
}

/** Thrown where the whole field lies to the left of the line, so that it would tell of no work. */
export const nothingToRight = (name: string, line: readonly [Point, Point]): InputError =>
  new InputError(
    "line-beside-field",
    `${typedLine(line)}: nothing of ${name} lies to the right of the line, seen from its first end, so nothing would be worked`,
    "Look at its ends; where the worked side is the other one, give them the other way round.",
  );

const typedLine = ([a, b]: readonly [Point, Point]): string => `--line ${[...a, ...b].join(",")}`;
