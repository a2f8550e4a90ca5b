import proj4 from "proj4";
import { boundsOf } from "./bounds.ts";
import type { MultiPolygon, Point } from "./types.ts";

/**
 * A field's own plane: transverse Mercator on WGS 84 with scale 1 at its centre, metres east and north.
 * On a field 1.6 km across areas are right to 5e-9 and lengths to 8e-9; 16 km across, to 5e-7 and 8e-7.
 */
export interface Frame {
  readonly lon0Deg: number;
  readonly lat0Deg: number;
  toPlane(lonLat: Point): Point;
  toLonLat(plane: Point): Point;
}

/** The frame centred on a place in degrees. One frame a field, not a farm: far from the centre areas swell. */
export const fieldFrame = (lonDeg: number, latDeg: number): Frame => {
  // Without +x_0 and +y_0 some projections of this library return NaN.
  const convert = proj4(
    `+proj=tmerc +lat_0=${latDeg} +lon_0=${lonDeg} +k=1 +x_0=0 +y_0=0 +datum=WGS84 +units=m +no_defs`,
  );
  return {
    lon0Deg: lonDeg,
    lat0Deg: latDeg,
    toPlane: ([lon, lat]) => {
      const [x, y] = convert.forward([lon, lat]);
      return [x!, y!];
    },
    toLonLat: ([x, y]) => {
      const [lon, lat] = convert.inverse([x, y]);
      return [lon!, lat!];
    },
  };
};

/** The middle of the bounding box, in degrees: where a field's frame is centred. */
export const frameCentre = (lonLat: MultiPolygon): Point => {
  const { minX, minY, maxX, maxY } = boundsOf(lonLat);
  return [(minX + maxX) / 2, (minY + maxY) / 2];
};
