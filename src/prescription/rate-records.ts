import type { Feature, ShapefileContent } from "../formats/index.ts";
import type { Polygon } from "../geo/index.ts";

/** The one numeric column of every prescription file, so that nothing else can be picked as the rate. */
export const RATE_COLUMN = "RATE_LBAC";

/** Records of polygons with a rate each, the zone it is called by, and the product. */
export const rateRecords = (
  polygons: readonly Polygon[],
  rates: ArrayLike<number>,
  zones: readonly string[],
  product: string,
  column: string = RATE_COLUMN,
): Feature[] =>
  polygons.map((polygon, k) => ({
    record: k + 1,
    geometry: { kind: "polygon", polygons: [polygon] },
    properties: { [column]: rates[k]!, ZONE: zones[k]!, PRODUCT: product },
  }));

/** Their columns in a dbf. */
export const rateColumns = (
  column: string = RATE_COLUMN,
  width = 10,
  decimals = 2,
): ShapefileContent["columns"] => [
  { name: column, type: "N", width, decimals },
  { name: "ZONE", type: "C", width: 16 },
  { name: "PRODUCT", type: "C", width: 20 },
];
