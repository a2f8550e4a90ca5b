import type { Feature, Layer, Value } from "../../formats/index.ts";
import { ellipsoidArea, fieldFrame, type Point } from "../../geo/index.ts";
import { acres, M_PER_FT } from "../../units/index.ts";
import { appliedFacts } from "./applied-facts.ts";
import type { InputReading, TakenInput } from "./read-input.ts";
import type { InputItem } from "./read-items.ts";
import { sampleFacts } from "./sample-facts.ts";
import { taskFacts } from "./task-facts.ts";

/** Figures of a reading, ready for JSON: what `read` prints and the page shows. Keys are absent where nothing is known. */
export type InputFacts = Readonly<Record<string, unknown>>;

/** The figures of a reading without open questions: of the item read, or of each item when several are listed. */
export function inputFacts(reading: InputReading): InputFacts {
  const { items, item, taken } = reading;
  if (item === null || taken === null) return listedFacts(items);
  return factsOf(item, taken);
}

function listedFacts(items: readonly InputItem[]): InputFacts {
  const names = new Set(items.map(({ name }) => name));
  const first = items[0]?.layer;
  const system = first ? { crs: first.coordinateSystem, crsFrom: first.coordinateSystemFrom } : {};
  if (names.size === 1) {
    return {
      role: "several",
      ...system,
      kinds: Object.fromEntries(items.map((item) => [item.kind, itemFacts(item)])),
    };
  }
  const keyOf = (item: InputItem) => {
    return items.some((other) => other !== item && other.name === item.name)
      ? `${item.name} (${item.kind})`
      : item.name;
  };
  return { role: "several", layers: Object.fromEntries(items.map((item) => [keyOf(item), itemFacts(item)])) };
}

function itemFacts(item: InputItem): InputFacts {
  const role = item.roles.length === 1 ? { role: item.roles[0] } : unclear(item);
  const rows = item.samples === null ? {} : { rows: item.samples.rows.length };
  return { ...role, ...(item.layer === null ? rows : layerFacts(item.layer)) };
}

const unclear = (item: InputItem): InputFacts => ({ role: "unclear", rolesFit: [...item.roles].sort() });

function factsOf(item: InputItem, taken: TakenInput): InputFacts {
  if (taken.role === "unclear") return { ...unclear(item), ...itemOnly(item) };
  if (taken.role === "samples") return { role: taken.role, ...sampleFacts(taken.lab, taken.headings) };
  if (taken.role === "applied") {
    const layer = taken.layer === null ? {} : systemFacts(taken.layer);
    return {
      role: taken.role,
      ...layer,
      ...(taken.log === null ? {} : appliedFacts(taken.log, taken.layer)),
    };
  }
  if ("task" in taken) return { role: taken.role, ...taskFacts(taken) };
  const facts = { role: taken.role, ...layerFacts(taken.layer) };
  if (!("rates" in taken) || taken.rates === null) return facts;
  const { column, readUnit, lbPerAc } = taken.rates;
  const read = readUnit === "lb/ac" ? {} : { readUnit };
  const areas = taken.layer.features.map(acresOf);
  const totalLb = lbPerAc.reduce((sum, rate, index) => sum + rate * (areas[index] ?? 0), 0);
  return { ...facts, rates: { column, unit: "lb/ac", ...read, values: lbPerAc }, totalLb };
}

const itemOnly = (item: InputItem): InputFacts => (item.layer === null ? {} : layerFacts(item.layer));

/** Acres of a feature on the ellipsoid, net of holes; null when it is no polygon. */
function acresOf({ geometry }: Feature): number | null {
  return geometry?.kind === "polygon" ? acres(ellipsoidArea(geometry.polygons)) : null;
}

function systemFacts(layer: Layer): InputFacts {
  const { coordinateSystem: crs, coordinateSystemFrom: crsFrom, encoding, skipped } = layer;
  const points = layer.features.flatMap(({ geometry }) =>
    geometry === null ? [] : [firstVertexOf(geometry)],
  );
  return {
    features: layer.features.length,
    skipped: skipped.length,
    left: skipped,
    crs,
    crsFrom,
    encoding,
    ...(points.length === 0 ? {} : { firstVertex: points[0] }),
  };
}

function firstVertexOf(geometry: NonNullable<Feature["geometry"]>): Point {
  if (geometry.kind === "point") return geometry.at;
  return geometry.kind === "line" ? geometry.parts[0]![0]! : geometry.polygons[0]![0]![0]!;
}

/** Counts, sizes and attributes of a layer's features. */
function layerFacts(layer: Layer): InputFacts {
  const shapes = layer.features.map(({ geometry }) => geometry).filter((geometry) => geometry !== null);
  const kind = shapes[0]?.kind;
  return {
    ...systemFacts(layer),
    ...(kind === "polygon" ? polygonFacts(layer) : kind === "line" ? lineFacts(layer) : pointFacts(layer)),
    ...attributeFacts(layer),
  };
}

const isPlaced = ({ coordinateSystem }: Layer): boolean => coordinateSystem !== "unknown";

function polygonFacts(layer: Layer): InputFacts {
  const parts = layer.features.map(({ geometry }) => (geometry?.kind === "polygon" ? geometry.polygons : []));
  const partsPerFeature = parts.map((polygons) => polygons.length);
  const holesPerFeature = parts.map((polygons) => polygons.reduce((sum, rings) => sum + rings.length - 1, 0));
  const total = (counts: readonly number[]) => counts.reduce((sum, count) => sum + count, 0);
  // Figures of an unknown coordinate system have no size on the ground.
  const acresEach = layer.features.map((feature) => (isPlaced(layer) ? acresOf(feature) : null));
  return {
    parts: total(partsPerFeature),
    holes: total(holesPerFeature),
    partsPerFeature,
    holesPerFeature,
    acres: acresEach,
  };
}

function lineFacts(layer: Layer): InputFacts {
  const parts = layer.features.map(({ geometry }) => (geometry?.kind === "line" ? geometry.parts : []));
  const lengthsM = parts.map((lines) => lines.map(lengthM));
  const width = layer.columns.find(({ name }) =>
    /^(swath)?width(m|ft)$/.test(name.toLowerCase().replaceAll(/[^a-z]/g, "")),
  );
  const widths = new Set(
    layer.features.map(({ properties }) => Number(width === undefined ? Number.NaN : properties[width.name])),
  );
  const [only] = widths;
  const scale = width !== undefined && /ft$/i.test(width.name) ? M_PER_FT : 1;
  const hasWidth = widths.size === 1 && only !== undefined && only > 0;
  return {
    partsPerFeature: parts.map((lines) => lines.length),
    ...(isPlaced(layer) ? { lengthsM } : {}),
    ...(hasWidth ? { widthM: only * scale } : {}),
  };
}

/** Length of a line in longitude and latitude, metres, in a plane laid on its beginning. */
function lengthM(line: readonly Point[]): number {
  const frame = fieldFrame(...line[0]!);
  const plane = line.map((point) => frame.toPlane(point));
  return plane
    .slice(1)
    .reduce((sum, [x, y], index) => sum + Math.hypot(x - plane[index]![0], y - plane[index]![1]), 0);
}

function pointFacts(layer: Layer): InputFacts {
  const last = layer.features.findLast(({ geometry }) => geometry?.kind === "point")?.geometry;
  return last?.kind === "point" ? { lastVertex: last.at } : {};
}

/** Values by column: `values` where all are numbers or read as plain numbers, `texts` for texts, `names` of placemarks. */
function attributeFacts(layer: Layer): InputFacts {
  const texts: Record<string, Value[]> = {};
  const values: Record<string, (number | null)[]> = {};
  for (const { name } of layer.columns) {
    const cells = layer.features.map(({ properties }) => properties[name] ?? null);
    const numbers = cells.map((cell) => (cell === null ? null : numberIn(cell)));
    if (numbers.every((number) => number !== undefined)) values[name] = numbers;
    else texts[name] = cells;
  }
  const names = layer.columns.some(({ name }) => name === "name")
    ? { names: layer.features.map(({ properties }) => properties.name ?? null) }
    : {};
  return { texts, values, ...names };
}

function numberIn(value: Value): number | undefined {
  if (typeof value === "number") return value;
  return typeof value === "string" && /^-?(0|[1-9]\d*)(\.\d+)?$/.test(value) ? Number(value) : undefined;
}
