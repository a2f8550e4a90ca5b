import { M_PER_DEG } from "#core";
import type { LonLat } from "../engine/protocol.ts";

/** Steps east and north of the arrow keys. */
export const arrows: Readonly<Record<string, readonly [east: number, north: number]>> = {
  ArrowUp: [0, 1],
  ArrowDown: [0, -1],
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
};

/** Degrees of longitude are so much shorter than those of latitude. */
const squeezeAt = (latDeg: number): number => Math.cos((latDeg * Math.PI) / 180);

/** The place so many metres east and north of another. */
export const moved = ([lon, lat]: LonLat, eastM: number, northM: number): LonLat => [
  lon + eastM / (M_PER_DEG * squeezeAt(lat)),
  lat + northM / M_PER_DEG,
];

/** Metres east and north from one place to another. */
export const metresBetween = (from: LonLat, to: LonLat): readonly [eastM: number, northM: number] => [
  (to[0] - from[0]) * M_PER_DEG * squeezeAt(from[1]),
  (to[1] - from[1]) * M_PER_DEG,
];

type Box = readonly [west: number, south: number, east: number, north: number];

interface Fitted {
  readonly toPx: (place: LonLat) => [x: number, y: number];
  readonly pxPerM: number;
}

/** Degrees to px of a drawing, north up, true to shape near the middle; the box lies `edge` px inside. */
export function fitted([west, south, east, north]: Box, wide: number, high: number, edge: number): Fitted {
  const squeeze = squeezeAt((south + north) / 2);
  const pxPerDeg = Math.min(
    (wide - 2 * edge) / Math.max(1e-6, (east - west) * squeeze),
    (high - 2 * edge) / Math.max(1e-6, north - south),
  );
  return {
    toPx: ([lon, lat]) => [
      wide / 2 + (lon - (west + east) / 2) * squeeze * pxPerDeg,
      high / 2 - (lat - (south + north) / 2) * pxPerDeg,
    ],
    pxPerM: pxPerDeg / M_PER_DEG,
  };
}
