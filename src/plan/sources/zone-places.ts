import { InputError, nearest } from "../../errors/index.ts";
import { type FileAnswers, plainName } from "../../formats/index.ts";
import {
  fieldFrame,
  frameCentre,
  innerPoint,
  type MultiPolygon,
  mapPoints,
  orient,
  type Point,
} from "../../geo/index.ts";
import { isZoneHeading, mendKey, readHeadings, type SampleFile } from "../../soil/index.ts";
import type { Plan, PlanField } from "../document/document-types.ts";
import { samplesPaths } from "../document/samples-paths.ts";
import { fieldZones, zonesById } from "./field-zones.ts";
import type { InputFile } from "./input-file.ts";

interface ZonePlace {
  readonly field: PlanField;
  readonly zone: string;
  readonly lonLat: Point;
}

/**
 * A lab table of composites has no positions: each row gets a place in the zone its sample number names, so that it is
 * read like any other table; zones that cannot be read are the table's error. Tables with positions, and those no field takes composites from, come back as they are.
 * `boundaryOf` gives a field's boundary in longitude and latitude, or nothing where it cannot be read. Ids that were
 * typed again in `answers` count as typed.
 */
export function withZonePlaces(
  plan: Pick<Plan, "fields">,
  path: string,
  read: ReadonlyMap<string, InputFile | InputError>,
  boundaryOf: (field: PlanField) => MultiPolygon,
  answers: FileAnswers = {},
): InputFile | InputError {
  const file = read.get(path)!;
  if (file instanceof InputError || file.table === null) return file;
  const fields = plan.fields.filter(
    (field) => field.needFrom?.kind === "zones" && samplesPaths(field).includes(path),
  );
  if (fields.length === 0 || hasPositions(file.table)) return file;
  try {
    const places = fields.flatMap((field) => zonePlaces(field, read, boundaryOf(field)));
    return { ...file, table: placed(file.table, places, answers) };
  } catch (error) {
    if (error instanceof InputError) return error;
    throw error;
  }
}

/** Whether a table says where its samples were taken. */
export const hasPositions = (table: SampleFile): boolean =>
  table.placed !== undefined || (columnOf(table, "latitude") >= 0 && columnOf(table, "longitude") >= 0);

const columnOf = (table: SampleFile, means: string): number =>
  readHeadings(table).find((heading) => heading.means === means)?.column ?? -1;

/** The column that names the zone of a row: the one headed so unless it was chosen for something else, else the sample's number. */
function zoneColumn(table: SampleFile): number {
  const isIt = (heading: string): boolean =>
    isZoneHeading(heading) && (table.chosen?.[heading]?.means ?? "sample") === "sample";
  const headed = table.headings.findIndex(isIt);
  return headed >= 0 ? headed : columnOf(table, "sample");
}

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

/** Positions in the zones that the rows name; where no row names one, the table as it is, with what is wrong with its ids. */
function placed(table: SampleFile, places: readonly ZonePlace[], answers: FileAnswers): SampleFile {
  const [idColumn, fieldColumn] = [zoneColumn(table), columnOf(table, "field")];
  const withoutZone = new Map<number, string>();
  const rows = table.rows.map((row) => {
    const mended = answers[mendKey(table.name, row.line, table.headings[idColumn] ?? "")];
    const id = (mended ?? row.cells[idColumn] ?? "").trim();
    const field = plainName(row.cells[fieldColumn] ?? "");
    const own = places.filter(
      (place) => field === "" || [place.field.name, place.field.id].some((name) => plainName(name) === field),
    );
    const home = own.find(({ zone }) => zone === id);
    if (home === undefined && id !== "" && own.length > 0) {
      const known = nearest(
        id,
        own.map(({ zone }) => zone),
      );
      withoutZone.set(row.line, `“${id}” is the id of no zone, the nearest is “${known}”`);
    }
    const cells = table.headings.map((_, column) => row.cells[column] ?? "");
    const at = home ? [home.lonLat[1].toFixed(9), home.lonLat[0].toFixed(9)] : ["", ""];
    const placedRow = { ...row, at: home?.lonLat ?? null, cells: [...cells, ...at] };
    return { isPlaced: home !== undefined, row: placedRow };
  });
  if (!rows.some(({ isPlaced }) => isPlaced)) return { ...table, withoutZone };
  const headings = [...table.headings, "latitude", "longitude"];
  // The places are not the file's own writing: its decimal mark is not read off them.
  const ofZones = { coordinateSystem: "OGC:CRS84", coordinateSystemFrom: "headings" } as const;
  return { ...table, headings, rows: rows.map(({ row }) => row), placed: ofZones, withoutZone };
}
