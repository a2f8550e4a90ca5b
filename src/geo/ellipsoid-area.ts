import { Summer } from "../numeric/index.ts";
import type { MultiPolygon, Ring } from "./types.ts";

// WGS 84: semi-major axis and flattening define it (NGA.STND.0036, table 3.1; from memory).
const SEMI_MAJOR_M = 6_378_137;
const FLATTENING = 1 / 298.257_223_563;
const E2 = FLATTENING * (2 - FLATTENING);
const E = Math.sqrt(E2);
const RAD = Math.PI / 180;

/** Area from the equator to a latitude for each radian of longitude, m2: the authalic function q. */
const areaPerRadian = (latDeg: number): number => {
  const sin = Math.sin(latDeg * RAD);
  return ((SEMI_MAJOR_M ** 2 * (1 - E2)) / 2) * (sin / (1 - E2 * sin * sin) + Math.atanh(E * sin) / E);
};

const GAUSS_OFFSET = Math.sqrt(0.6) / 2;

const ringAreaOnEllipsoid = (ring: Ring): number => {
  const first = ring[0];
  if (first === undefined) return 0;
  const base = areaPerRadian(first[1]);
  const summer = new Summer();
  ring.forEach(([lon1, lat1], index) => {
    const [lon2, lat2] = ring[(index + 1) % ring.length]!;
    const middle = (lat1 + lat2) / 2;
    const reach = (lat2 - lat1) * GAUSS_OFFSET;
    const mean =
      (5 * (areaPerRadian(middle - reach) - base) +
        8 * (areaPerRadian(middle) - base) +
        5 * (areaPerRadian(middle + reach) - base)) /
      18;
    const turn = lon2 - lon1;
    // The short way round, also across the antimeridian.
    summer.add(-(turn - 360 * Math.round(turn / 360)) * RAD * mean);
  });
  return summer.total;
};

/**
 * Area on the WGS 84 ellipsoid, m2, of polygons in longitude and latitude whose edges run straight in degrees
 * (RFC 7946 section 3.1.1). Outer rings less holes, whichever way they run; no ring may enclose a pole.
 * Closed form: the equal-area cylinder's q function (J. P. Snyder 1987, USGS Professional Paper 1395, from
 * memory), averaged along each edge by three-point Gauss; the trapezoid rule would lose up to 2e-7.
 */
export const ellipsoidArea = (lonLat: MultiPolygon): number => {
  const summer = new Summer();
  for (const polygon of lonLat) {
    polygon.forEach((ring, index) => {
      const area = Math.abs(ringAreaOnEllipsoid(ring));
      summer.add(index === 0 ? area : -area);
    });
  }
  return summer.total;
};
