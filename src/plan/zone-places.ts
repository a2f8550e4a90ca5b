import { InputError } from "../errors/index.ts";
import { plainName } from "../formats/index.ts";
import {
  fieldFrame,
  frameCentre,
  innerPoint,
  type MultiPolygon,
  mapPoints,
  orient,
  type Point,
} from "../geo/index.ts";
import { isZoneHeading, readHeading, type SampleFile } from "../soil/index.ts";
import type { Plan, PlanField } from "./document-types.ts";
import { fieldZones, zonesById } from "./field-zones.ts";
import type { InputFile } from "./input-file.ts";
import { samplesPaths } from "./samples-paths.ts";

interface ZonePlace {
  readonly field: PlanField;
  readonly zone: string;
  readonly lonLat: Point;
}

/**
 * A lab table of composites has no positions: each row gets a place in the zone its sample number names, so that it is
 * read like any other table; zones that cannot be read are the table's error. Tables with positions, and those no field takes composites from, come back as they are.
 * `boundaryOf` gives a field's boundary in longitude and latitude, or nothing where it cannot be read.
 */
export function withZonePlaces(
  plan: Pick<Plan, "fields">,
  path: string,
  read: ReadonlyMap<string, InputFile | InputError>,
  boundaryOf: (field: PlanField) => MultiPolygon,
): InputFile | InputError {
  const file = read.get(path)!;
  if (file instanceof InputError || file.table === null) return file;
  const fields = plan.fields.filter(
    (field) => field.needFrom?.kind === "zones" && samplesPaths(field).includes(path),
  );
  if (fields.length === 0 || hasPlaces(file.table)) return file;
  try {
    const places = fields.flatMap((field) => zonePlaces(field, read, boundaryOf(field)));
    return { ...file, table: placed(file.table, places) };
  } catch (error) {
    if (error instanceof InputError) return error;
    throw error;
  }
}

const meaningOf = (table: SampleFile, means: string): number =>
  table.headings.findIndex((heading, column) => readHeading(heading, column).means === means);

const hasPlaces = (table: SampleFile): boolean =>
  table.placed !== undefined || (meaningOf(table, "latitude") >= 0 && meaningOf(table, "longitude") >= 0);

function zonePlaces(
  field: PlanField,
  read: ReadonlyMap<string, InputFile | InputError>,
  boundaryLonLat: MultiPolygon,
): ZonePlace[] {
  if (field.needFrom?.kind !== "zones" || boundaryLonLat.length === 0) return [];
  const { source, idColumn } = field.needFrom;
  const file = read.get(source);
  if (file === undefined || file instanceof InputError) return [];
  const oriented = orient(boundaryLonLat);
  const frame = fieldFrame(...frameCentre(oriented));
  const boundary = mapPoints(oriented, frame.toPlane);
  const zones = fieldZones(source, file.layers, idColumn, boundary, frame.toPlane);
  return [...zonesById(source, idColumn, zones)].flatMap(([zone, ground]) => {
    const inside = innerPoint(ground);
    return inside ? [{ field, zone, lonLat: frame.toLonLat(inside) }] : [];
  });
}

function placed(table: SampleFile, places: readonly ZonePlace[]): SampleFile {
  const zoneColumn = table.headings.findIndex(isZoneHeading);
  const idColumn = zoneColumn >= 0 ? zoneColumn : meaningOf(table, "sample");
  const fieldColumn = meaningOf(table, "field");
  const rows = table.rows.map((row) => {
    const id = row.cells[idColumn]?.trim() ?? "";
    const field = row.cells[fieldColumn]?.trim() ?? "";
    const home = places.find(
      (place) =>
        place.zone === id &&
        (field === "" ||
          [place.field.name, place.field.id].some((name) => plainName(name) === plainName(field))),
    );
    const cells = table.headings.map((_, column) => row.cells[column] ?? "");
    const at = home ? [home.lonLat[1].toFixed(9), home.lonLat[0].toFixed(9)] : ["", ""];
    return { ...row, cells: [...cells, ...at] };
  });
  return { ...table, headings: [...table.headings, "latitude", "longitude"], rows };
}
