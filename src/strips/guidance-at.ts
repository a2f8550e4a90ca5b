import { InputError } from "../errors/index.ts";
import { boundsOf, type MultiPolygon, type Point } from "../geo/index.ts";

/**
 * A straight guidance line through the middle of the land's box, at a heading in degrees clockwise from north of the
 * field's plane (true north at its middle). Its ends lie beyond the land. Throws `heading-not-a-number`.
 */
export const guidanceAt = (land: MultiPolygon, headingDeg: number): [a: Point, b: Point] => {
  if (!Number.isFinite(headingDeg)) {
    throw new InputError(
      "heading-not-a-number",
      `The heading is ${headingDeg}.`,
      "Give degrees clockwise from north, 0 to 360.",
    );
  }
  const { minX, minY, maxX, maxY } = boundsOf(land);
  const [x, y] = [(minX + maxX) / 2, (minY + maxY) / 2];
  const reach = Math.sqrt((maxX - minX) ** 2 + (maxY - minY) ** 2) / 2 + 1;
  const [east, north] = directionOf(headingDeg);
  return [
    [x - reach * east, y - reach * north],
    [x + reach * east, y + reach * north],
  ];
};

/** Unit vector of a heading; exact along the axes. */
const directionOf = (headingDeg: number): Point => {
  const quarter = ((headingDeg % 360) + 360) % 360;
  if (quarter % 90 === 0) {
    const axes: readonly Point[] = [
      [0, 1],
      [1, 0],
      [0, -1],
      [-1, 0],
    ];
    return axes[quarter / 90]!;
  }
  const turn = (headingDeg * Math.PI) / 180;
  return [Math.sin(turn), Math.cos(turn)];
};
