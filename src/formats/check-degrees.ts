import { InputError } from "../errors/index.ts";
import type { Point } from "../geo/index.ts";
import { type Feature, visitPoints } from "./feature.ts";

/**
 * Refuses coordinates that cannot be longitude and latitude in degrees: `swap-lon-lat` when exchanging the two
 * would mend all of them, else `coordinate-system`. `one` is the file's word for a feature.
 */
export function checkDegrees(
  features: readonly Feature[],
  name: string,
  one: "feature" | "record" | "line",
): void {
  let wrong: { readonly record: number; readonly point: Point } | undefined;
  let mendable = true;
  for (const { geometry, record } of features) {
    if (geometry === null) continue;
    visitPoints(geometry, (point) => {
      const [x, y] = point;
      if (wrong === undefined && !(Math.abs(x) <= 180 && Math.abs(y) <= 90)) wrong = { record, point };
      if (!(Math.abs(x) <= 90 && Math.abs(y) <= 180)) mendable = false;
    });
  }
  if (wrong === undefined) return;
  const [x, y] = wrong.point;
  if (mendable) {
    throw new InputError(
      "swap-lon-lat",
      `${name}, ${one} ${wrong.record}: latitude ${y} is impossible; longitude and latitude look swapped`,
      "Write longitude first, then latitude, and read the file again.",
    );
  }
  throw new InputError(
    "coordinate-system",
    `${name}, ${one} ${wrong.record}: the coordinates are not degrees (${x}, ${y})`,
    "Export the file in WGS84 longitude and latitude.",
  );
}
