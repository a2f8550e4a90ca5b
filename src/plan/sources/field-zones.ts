import { InputError } from "../../errors/index.ts";
import type { Layer, Value } from "../../formats/index.ts";
import { commonArea, type MultiPolygon, mapPoints, type Point } from "../../geo/index.ts";

/** A polygon of a file of zones or rates, as far as it lies in the field; metres in the field's plane. */
interface FieldZone {
  readonly record: number;
  /** Of the column asked for. */
  readonly value: Value;
  readonly ground: MultiPolygon;
}

/**
 * The polygons of a file that reach into a field, in file order, with their value in a column. Lines and points are
 * passed over. Throws `no-such-column` with the columns there are, and `no-polygons`.
 */
export function fieldZones(
  path: string,
  layers: readonly Layer[],
  column: string,
  boundary: MultiPolygon,
  toPlane: (lonLat: Point) => Point,
): FieldZone[] {
  const names = [...new Set(layers.flatMap((layer) => layer.columns.map((one) => one.name)))];
  if (!names.includes(column)) {
    throw new InputError(
      "no-such-column",
      `${path}: no column “${column}” among “${names.join("”, “")}”.`,
      "Name a column that the file has.",
    );
  }
  const polygons = layers.flatMap((layer) =>
    layer.features.flatMap((feature) =>
      feature.geometry?.kind === "polygon"
        ? [
            {
              record: feature.record,
              value: feature.properties[column] ?? null,
              land: feature.geometry.polygons,
            },
          ]
        : [],
    ),
  );
  if (polygons.length === 0) {
    throw new InputError("no-polygons", `${path}: no polygons in this file.`, "Give a file of polygons.");
  }
  return polygons.flatMap(({ record, value, land }) => {
    const plane = mapPoints(land, toPlane);
    const ground = commonArea(plane, boundary);
    return ground.length === 0 ? [] : [{ record, value, ground }];
  });
}

/** The number in a zone's column. Throws `not-a-number`, `negative-rate`. */
export function zoneNumber(path: string, column: string, zone: FieldZone): number {
  const number = typeof zone.value === "string" ? Number(zone.value.trim() || Number.NaN) : zone.value;
  if (typeof number !== "number" || !Number.isFinite(number)) {
    throw new InputError(
      "not-a-number",
      `${path}, record ${zone.record}, column ${column}: “${zone.value ?? ""}” is not a number.`,
      "Give each polygon a number there, 0 where nothing is wanted.",
    );
  }
  if (number >= 0) return number;
  throw new InputError(
    "negative-rate",
    `${path}, record ${zone.record}, column ${column}: ${number} is below zero.`,
    "Give 0 where nothing is wanted.",
  );
}

/** The id in a zone's column. Throws `zone-without-id`. */
function zoneId(path: string, column: string, zone: FieldZone): string {
  const id = zone.value === null ? "" : String(zone.value).trim();
  if (id !== "") return id;
  throw new InputError(
    "zone-without-id",
    `${path}, record ${zone.record}: column ${column} is empty.`,
    "Give every zone its id.",
  );
}

/** Zones of one id taken together, in file order. */
export function zonesById(
  path: string,
  column: string,
  zones: readonly FieldZone[],
): ReadonlyMap<string, MultiPolygon> {
  const byId = new Map<string, MultiPolygon>();
  for (const zone of zones) {
    const id = zoneId(path, column, zone);
    byId.set(id, [...(byId.get(id) ?? []), ...zone.ground]);
  }
  return byId;
}
