import { ellipsoidArea } from "./ellipsoid-area.ts";
import type { Point } from "./types.ts";

/** Square metres on the ellipsoid of what lies between two corners in degrees. */
export const boxArea = ([west, south]: Point, [east, north]: Point): number =>
  ellipsoidArea([
    [
      [
        [west, south],
        [east, south],
        [east, north],
        [west, north],
      ],
    ],
  ]);
