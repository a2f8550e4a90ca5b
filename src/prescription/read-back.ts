import { InputError } from "../errors/index.ts";
import { type Feature, rereadGeoJson, rereadShapefile } from "../formats/index.ts";
import { ellipsoidArea, type MultiPolygon, type Polygon, tilingFaults } from "../geo/index.ts";
import { sum } from "../numeric/index.ts";
import { acres } from "../units/index.ts";
import type { Prescription } from "./prescription.ts";
import { RATE_COLUMN } from "./rate-records.ts";

/** What a written file says that it should not. */
export interface ReadBackFault {
  readonly file: string;
  readonly what: string;
}

/** The field that the polygons must tile. */
export interface Outline {
  readonly boundaryLonLat: MultiPolygon;
  /** Its acres in the plane, edges straight there. */
  readonly areaAc: number;
}

/** Pounds of a file against the pounds meant, relative. */
export const POUNDS = 1e-5;
/** Acres of all polygons against the field's: what 9 decimals of a degree may cost, relative. */
const ACRES = 2e-6;
/** Degrees an edge may lie off the boundary's: a mile-long edge straight in the plane bows by 46 mm when drawn
 * straight in degrees. */
export const EDGE_DEG = 1e-6;

/**
 * Re-read one map's files with code that did not write them and hold them against what was meant: one polygon a
 * record, one numeric column, no empty or negative rate, the same pounds, no gap and no overlap, the acres of
 * the boundary, both formats alike. Nothing found means the files may be published. `pause` lets the host's own
 * queue run between the two.
 */
export async function readBackFaults(
  map: Prescription,
  outline: Outline,
  pause: () => Promise<void> = async () => {},
): Promise<ReadBackFault[]> {
  const faults: ReadBackFault[] = [];
  const shapefile = new Map([...map.files].filter(([name]) => !name.endsWith(".geojson")));
  const [geoJsonName, geoJson] = [...map.files].find(([name]) => name.endsWith(".geojson"))!;
  const shapefileName = geoJsonName.replace(/geojson$/, "shp");
  const readers = [
    [shapefileName, () => rereadShapefile(shapefile)],
    [geoJsonName, () => rereadGeoJson(geoJson, geoJsonName)],
  ] as const;
  const read: Feature[][] = [];
  for (const [file, reader] of readers) {
    await pause();
    try {
      const features = await reader();
      read.push(features);
      faults.push(...contentFaults(features, map, outline).map((what) => ({ file, what })));
    } catch (error) {
      if (!(error instanceof InputError)) throw error;
      faults.push({ file, what: error.message });
    }
  }
  if (read.length === 2 && JSON.stringify(read[0]!.map(keyOf)) !== JSON.stringify(read[1]!.map(keyOf))) {
    faults.push({ file: geoJsonName, what: "not the same records as in the shapefile" });
  }
  return faults;
}

/** A record's rate, texts and rings, rings begun at their least vertex: writers may begin elsewhere. */
function keyOf(feature: Feature): unknown {
  const polygon = polygonOf(feature);
  const rings = polygon.map((ring) => {
    const text = ring.map((place) => place.join(","));
    const first = text.indexOf(text.toSorted()[0]!);
    return [...text.slice(first), ...text.slice(0, first)].join(" ");
  });
  return [feature.properties[RATE_COLUMN], feature.properties.ZONE, feature.properties.PRODUCT, rings];
}

function contentFaults(features: readonly Feature[], map: Prescription, outline: Outline): string[] {
  const faults: string[] = [];
  if (features.length !== map.polygons) faults.push(`${features.length} records, ${map.polygons} were meant`);
  for (const feature of features) {
    const numeric = Object.entries(feature.properties).filter(([, value]) => typeof value === "number");
    const rate = feature.properties[RATE_COLUMN];
    if (numeric.length !== 1 || typeof rate !== "number") {
      faults.push(`record ${feature.record}: ${RATE_COLUMN} is not its one number`);
      break;
    }
    if (rate < 0) faults.push(`record ${feature.record}: the rate ${rate} is below zero`);
    if (feature.properties.PRODUCT !== map.product) faults.push(`record ${feature.record}: another product`);
  }
  if (faults.length > 0) return faults;
  const polygons = features.map(polygonOf);
  const areaAc = polygons.map((polygon) => acres(ellipsoidArea([polygon])));
  const lb = sum(areaAc.map((area, k) => area * (features[k]!.properties[RATE_COLUMN] as number)));
  if (Math.abs(lb - map.totalLb) > POUNDS * Math.max(map.totalLb, 1)) {
    faults.push(`${lb.toFixed(2)} lb by its polygons and rates, ${map.totalLb.toFixed(2)} lb were meant`);
  }
  const fieldAc = outline.areaAc;
  if (Math.abs(sum(areaAc) - fieldAc) > ACRES * fieldAc) {
    faults.push(`${sum(areaAc).toFixed(4)} ac of polygons in a field of ${fieldAc.toFixed(4)} ac`);
  }
  const tiles = polygons.map((polygon) => [polygon]);
  for (const fault of tilingFaults(tiles, outline.boundaryLonLat, EDGE_DEG).slice(0, 3)) {
    faults.push(`gap or overlap (${fault.kind}) at record ${fault.tile + 1}, ${fault.place.join(", ")}`);
  }
  return faults;
}

function polygonOf(feature: Feature): Polygon {
  const polygons = feature.geometry?.kind === "polygon" ? feature.geometry.polygons : [];
  if (polygons.length !== 1) throw new Error(`record ${feature.record} has ${polygons.length} polygons`);
  return polygons[0]!;
}
