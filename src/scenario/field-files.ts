import { type Feature, writeGeoJson, writeShapefile, writeZip } from "../formats/index.ts";
import { type Frame, type MultiPolygon, mapPoints, type Point } from "../geo/index.ts";
import type { Land } from "./land.ts";

/** Boundaries are written in steps of 1e-7 degree, 1 cm. */
const STEPS_PER_DEGREE = 1e7;

/** The fields' boundaries as a zipped shapefile: one record a part, columns FIELD and FARM. */
export function boundaryZip(
  stem: string,
  farm: string,
  fields: readonly WrittenField[],
  date: string,
): Uint8Array {
  const features = fields.flatMap(({ name, polygons }) => polygons.map((polygon) => ({ name, polygon })));
  const parts = writeShapefile({
    stem,
    date,
    columns: [
      { name: "FIELD", type: "C", width: 40 },
      { name: "FARM", type: "C", width: 40 },
    ],
    features: features.map(
      ({ name, polygon }, i): Feature => ({
        record: i + 1,
        geometry: { kind: "polygon", polygons: [polygon] },
        properties: { FIELD: name, FARM: farm },
      }),
    ),
  });
  return writeZip(parts, date);
}

/** The A-B lines as GeoJSON, one feature a field, properties `name` (of the line) and `field`. */
export function guidanceGeoJson(land: Land, frame: Frame): Uint8Array {
  return writeGeoJson(
    land.fields.map(
      ({ name, line }, i): Feature => ({
        record: i + 1,
        geometry: { kind: "line", parts: [line.map((point) => frame.toLonLat(point))] },
        properties: { name: `${name} A-B`, field: name },
      }),
    ),
  );
}

/** A field as the boundary file holds it: degrees rounded to its step. */
export interface WrittenField {
  readonly name: string;
  readonly polygons: MultiPolygon;
  /** Records of its parts in the boundary file. */
  readonly records: readonly number[];
}

export function writtenFields(land: Land, frame: Frame): WrittenField[] {
  const rounded = (point: Point): Point => {
    const [lon, lat] = frame.toLonLat(point);
    const step = (degrees: number): number => Math.round(degrees * STEPS_PER_DEGREE) / STEPS_PER_DEGREE;
    return [step(lon), step(lat)];
  };
  let record = 0;
  return land.fields.map(({ name, polygons }) => ({
    name,
    polygons: mapPoints(polygons, rounded),
    records: polygons.map(() => ++record),
  }));
}
