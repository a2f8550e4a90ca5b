import { InputError } from "../../errors/index.ts";
import { type Feature, type Layer, plainName } from "../../formats/index.ts";
import type { MultiPolygon, Point, Polygon } from "../../geo/index.ts";
import { capital } from "../../units/index.ts";
import type { PlanShape } from "../document/document-types.ts";
import type { InputFile } from "./input-file.ts";

/** A field as its boundary file names it; all records of one name are its parts. */
export interface NamedField {
  readonly id: string;
  readonly name: string;
  readonly shapes: readonly PlanShape[];
  readonly boundary: MultiPolygon;
}

/** A guidance line with what its file says of the rig. */
export interface NamedLine {
  readonly shape: PlanShape;
  readonly points: readonly Point[];
  readonly field: string | null;
  readonly rows: number | null;
  readonly rowSpacingIn: number | null;
}

/** Columns that name a field, best first, as `plainName` reads them; a dBASE name has room for ten characters. */
const FIELD_KEYS = [
  "field",
  "fieldname",
  "fieldnm",
  "fldname",
  "fldnm",
  "fieldid",
  "fieldno",
  "fldid",
  "fldno",
];

/** Fields in file order; ids are made from the names and unique. */
export function fieldsIn(files: readonly InputFile[]): NamedField[] {
  const byName = new Map<string, { shapes: PlanShape[]; polygons: Polygon[] }>();
  for (const file of files) {
    for (const layer of file.layers) {
      const polygons = layer.features.filter((feature) => feature.geometry?.kind === "polygon");
      for (const feature of polygons) {
        if (feature.geometry?.kind !== "polygon") continue;
        const own = textOf(feature, [...FIELD_KEYS, "name"]);
        const name = own ?? (polygons.length === 1 ? titleOf(layer) : `${titleOf(layer)} ${feature.record}`);
        const field = byName.get(name) ?? { shapes: [], polygons: [] };
        field.shapes.push({ source: file.path, record: feature.record });
        field.polygons.push(...feature.geometry.polygons);
        byName.set(name, field);
      }
    }
  }
  const taken = new Set<string>();
  return [...byName].map(([name, { shapes, polygons }]) => {
    const plain = plainId(name);
    let id = plain;
    for (let n = 2; taken.has(id); n++) id = `${plain.slice(0, 37)}-${n}`;
    taken.add(id);
    return { id, name: name.slice(0, 60), shapes, boundary: polygons };
  });
}

/** Guidance lines in file order; a feature in several parts cannot be one straight line. */
export function linesIn(files: readonly InputFile[]): NamedLine[] {
  const lines: NamedLine[] = [];
  for (const file of files) {
    for (const feature of file.layers.flatMap((layer) => layer.features)) {
      if (feature.geometry?.kind !== "line") continue;
      lines.push({
        shape: { source: file.path, record: feature.record },
        points: onlyPart(feature.geometry.parts, `${file.path}, feature ${feature.record}`),
        field: textOf(feature, FIELD_KEYS),
        rows: numberOf(feature, ["rows"]),
        rowSpacingIn: numberOf(feature, ["rowspacingin"]),
      });
    }
  }
  return lines;
}

/** The polygons or the line at a place the plan names; of several layers the one with that kind of shape. Throws
 * `no-such-record` when it is not there. */
export function shapeAt(file: InputFile, record: number, kind: "polygon" | "line"): Feature {
  const there = file.layers.flatMap((layer) => layer.features).filter((one) => one.record === record);
  const feature = there.find((one) => one.geometry?.kind === kind) ?? there[0];
  if (!feature) {
    const last = Math.max(0, ...file.layers.flatMap((layer) => layer.features.map((one) => one.record)));
    throw new InputError(
      "no-such-record",
      `${file.path}: no record ${record}; the last is ${last}.`,
      "Name a record that the file has, or make the plan anew from the file.",
    );
  }
  return feature;
}

export function onlyPart(parts: readonly (readonly Point[])[], where: string): readonly Point[] {
  if (parts.length !== 1 || !parts[0]) {
    throw new InputError(
      "guidance-in-parts",
      `${where}: the guidance line has ${parts.length} parts.`,
      "Draw one line from A to B.",
    );
  }
  return parts[0];
}

function textOf(feature: Feature, keys: readonly string[]): string | null {
  for (const wanted of keys) {
    for (const [key, value] of Object.entries(feature.properties)) {
      if (plainName(key) === wanted && value !== null && String(value).trim() !== "")
        return String(value).trim();
    }
  }
  return null;
}

function numberOf(feature: Feature, keys: readonly string[]): number | null {
  const text = textOf(feature, keys);
  const value = text === null ? Number.NaN : Number(text);
  return Number.isFinite(value) && value > 0 ? value : null;
}

const titleOf = (layer: Layer) => {
  const words = layer.name.replaceAll(/[_-]+/g, " ").trim();
  return words === "" ? "Field" : capital(words);
};

function plainId(name: string): string {
  const id = name
    .toLowerCase()
    .normalize("NFKD")
    .replaceAll(/\p{M}/gu, "")
    .replaceAll("ß", "ss")
    .replaceAll(/[^a-z0-9]+/g, "-")
    .replaceAll(/^-+|-+$/g, "");
  return id === "" ? "field" : id.slice(0, 40).replace(/-+$/, "");
}
