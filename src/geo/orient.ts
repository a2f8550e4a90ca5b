import { ringArea } from "./plane-area.ts";
import type { MultiPolygon, Ring } from "./types.ts";

const turned = (ring: Ring, counterClockwise: boolean): Ring =>
  ringArea(ring) > 0 === counterClockwise ? ring : ring.toReversed();

/** The same polygons with outer rings counter-clockwise and holes clockwise: land lies left of every edge. */
export const orient = (area: MultiPolygon): MultiPolygon =>
  area.map((polygon) => polygon.map((ring, index) => turned(ring, index === 0)));
