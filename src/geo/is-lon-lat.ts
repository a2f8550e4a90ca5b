import type { Point } from "./types.ts";

/** Whether two numbers can be longitude and latitude in degrees; false for NaN. */
export const isLonLat = ([lon, lat]: Point): boolean => Math.abs(lon) <= 180 && Math.abs(lat) <= 90;
