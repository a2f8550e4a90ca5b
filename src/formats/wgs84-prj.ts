/** The one-line text of WGS84 degrees that is read most widely (no AUTHORITY, no AXIS, no line break); measured
 * against what an independent open writer writes. */
export const WGS84_PRJ: string =
  'GEOGCS["GCS_WGS_1984",DATUM["D_WGS_1984",SPHEROID["WGS_1984",6378137.0,298.257223563]],' +
  'PRIMEM["Greenwich",0.0],UNIT["Degree",0.0174532925199433]]';
