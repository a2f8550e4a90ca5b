import { InputError, type Notice, type Question } from "../errors/index.ts";
import { type MultiPolygon, nestRings, orient, type Point, type Ring } from "../geo/index.ts";
import { type Feature, type Geometry, type Layer, namedOnes, type Skipped } from "./feature.ts";
import { type RawGeometry, type RawLayer, visitRawPoints } from "./raw-layer.ts";
import { type Extent, type FileAnswers, settleSystem } from "./settle-system.ts";

/** A layer with what stands open about it. While a question about coordinates is open, `located` is false and the shapes
 * are in the file's own numbers: nothing may be drawn or measured from them. */
export interface LayerReading {
  readonly layer: Layer;
  readonly located: boolean;
  readonly questions: readonly Question[];
}

/**
 * Settles coordinate system and rings of a layer as a file gives it. Questions: `coordinate-system`, `swap-lon-lat`,
 * `close-ring`. Shapes without a place stay as features with geometry null. Throws `no-shapes` for an empty layer.
 */
export function settleLayer(raw: RawLayer, answers: FileAnswers): LayerReading {
  if (raw.features.length === 0) throw noShapes(raw.path);
  const extent = extentOf(raw);
  const found = settleSystem(raw.stated, extent, raw.path, answers);
  const rings = unclosedRings(raw, answers);
  const notices: Notice[] = [...raw.notices, ...found.notices, ...rings.notices];
  const settled = found.settled;
  const toLonLat = settled === null ? null : settled.system.toLonLat;
  const place = (point: Point): Point => {
    if (settled === null || toLonLat === null) return point;
    return toLonLat(settled.swap ? [point[1], point[0]] : point);
  };
  const features = raw.features.map(
    ({ record, geometry, properties }): Feature => ({
      record,
      geometry: geometry === null ? null : settledGeometry(geometry, place),
      properties,
    }),
  );
  const located = settled !== null && rings.questions.length === 0;
  if (settled !== null && !settled.system.isDegrees) refuseNowhere(features, raw);
  const layer: Layer = {
    name: raw.name,
    path: raw.path,
    one: raw.one,
    features,
    skipped: raw.skipped,
    columns: raw.columns,
    coordinateSystem: settled?.system.code ?? "unknown",
    coordinateSystemFrom: settled?.from ?? "answer",
    encoding: raw.encoding,
    notices,
  };
  return { layer, located, questions: [...found.questions, ...rings.questions] };
}

/** Features with attributes and no shape: question `null-geometry`, answered `leave-out`. */
export function settleNulls(
  layer: Layer,
  answers: FileAnswers,
): { layer: Layer; questions: readonly Question[] } {
  const bare = layer.features.filter((feature) => feature.geometry === null);
  if (bare.length === 0) return { layer, questions: [] };
  if (bare.length === layer.features.length) throw noShapes(layer.path);
  const named = namedOnes(
    layer.one,
    bare.map(({ record }) => record),
  );
  const features = layer.features.filter((feature) => feature.geometry !== null);
  const skipped: Skipped[] = bare.map(({ record }) => ({ record, reason: "no shape" }));
  const left: Layer = { ...layer, features, skipped: [...layer.skipped, ...skipped] };
  if (answers["null-geometry"] === "leave-out") {
    const message = `${named} left out: attributes without a shape`;
    return {
      layer: { ...left, notices: [...layer.notices, { code: "null-geometry", message, where: layer.path }] },
      questions: [],
    };
  }
  const seen = bare
    .slice(0, 3)
    .map(({ record, properties }) => `${layer.one} ${record}: ${attributesShown(properties)}`)
    .join("; ");
  const text = `${named} of ${layer.path} ${bare.length === 1 ? "has" : "have"} attributes and no shape. Leave them out?`;
  return { layer: left, questions: [{ key: "null-geometry", text, choices: ["leave-out"], seen }] };
}

function attributesShown(properties: Feature["properties"]): string {
  const shown = Object.entries(properties)
    .slice(0, 6)
    .map(([name, value]) => `${name} ${value ?? "blank"}`);
  return shown.join(", ").slice(0, 200) || "no attributes";
}

function noShapes(path: string): InputError {
  return new InputError("no-shapes", `${path}: no shapes in this file`, "Choose the file with the shapes.");
}

function extentOf(raw: RawLayer): Extent {
  let maxAbsX = 0;
  let maxAbsY = 0;
  let first: Point | null = null;
  let beyond: Extent["beyond"] = null;
  for (const { geometry, record } of raw.features) {
    if (geometry === null) continue;
    visitRawPoints(geometry, (point) => {
      const [x, y] = [Math.abs(point[0]), Math.abs(point[1])];
      first ??= point;
      if (x > maxAbsX) maxAbsX = x;
      if (y > maxAbsY) maxAbsY = y;
      if (beyond === null && !(x <= 180 && y <= 90))
        beyond = { point, where: `${raw.path}, ${raw.one} ${record}` };
    });
  }
  return { maxAbsX, maxAbsY, first: first ?? [0, 0], beyond };
}

function unclosedRings(raw: RawLayer, answers: FileAnswers): { questions: Question[]; notices: Notice[] } {
  const open: { record: number; seen: string }[] = [];
  for (const { record, geometry } of raw.features) {
    if (geometry?.kind !== "polygon") continue;
    for (const ring of geometry.polygons.flat()) {
      const [first, last] = [ring[0]!, ring.at(-1)!];
      if (first[0] === last[0] && first[1] === last[1]) continue;
      const ends = `it begins at ${first.join(", ")} and ends at ${last.join(", ")}`;
      open.push({ record, seen: `${raw.path}, ${raw.one} ${record}: a ring is not closed; ${ends}` });
    }
  }
  if (open.length === 0) return { questions: [], notices: [] };
  const named = namedOnes(
    raw.one,
    open.map(({ record }) => record),
  );
  if (answers["close-ring"] === "yes") {
    const message = `${named}: ${open.length === 1 ? "a ring was" : `${open.length} rings were`} closed with a straight edge`;
    return { questions: [], notices: [{ code: "ring-closed", message, where: raw.path }] };
  }
  const text = `Close ${open.length === 1 ? "the ring" : "the rings"} of ${named} with a straight edge?`;
  const seen = open
    .slice(0, 3)
    .map((one) => one.seen)
    .join("; ");
  return { questions: [{ key: "close-ring", text, choices: ["yes"], seen }], notices: [] };
}

function settledGeometry(geometry: RawGeometry, place: (point: Point) => Point): Geometry {
  if (geometry.kind === "point") return { kind: "point", at: place(geometry.at) };
  if (geometry.kind === "line") return { kind: "line", parts: geometry.parts.map((part) => part.map(place)) };
  const polygons = geometry.polygons.map((polygon) => polygon.map((ring) => openRing(ring).map(place)));
  const nested = geometry.nested ? orient(polygons) : nestRings(polygons.flat());
  return { kind: "polygon", polygons: begunAsGiven(nested, polygons) };
}

function openRing(ring: readonly Point[]): readonly Point[] {
  const [first, last] = [ring[0]!, ring.at(-1)!];
  return first[0] === last[0] && first[1] === last[1] ? ring.slice(0, -1) : ring;
}

/** Rings that were turned end at the vertex the file begins them with; begins them there again. */
function begunAsGiven(polygons: MultiPolygon, given: readonly (readonly Ring[])[]): MultiPolygon {
  const starts = new Set(given.flat().map((ring) => ring[0]!));
  return polygons.map((polygon) =>
    polygon.map((ring) => {
      const last = ring.at(-1)!;
      return starts.has(last) && !starts.has(ring[0]!) ? [last, ...ring.slice(0, -1)] : ring;
    }),
  );
}

function refuseNowhere(features: readonly Feature[], raw: RawLayer): void {
  for (const { geometry, record } of features) {
    if (geometry === null) continue;
    visitRawPoints(asRaw(geometry), ([lon, lat]) => {
      if (Math.abs(lon) <= 180 && Math.abs(lat) <= 90) return;
      throw new InputError(
        "bad-coordinate",
        `${raw.path}, ${raw.one} ${record}: a vertex lies nowhere in its coordinate system`,
        "Export the file again.",
      );
    });
  }
}

const asRaw = (geometry: Geometry): RawGeometry =>
  geometry.kind === "polygon" ? { ...geometry, nested: true } : geometry;
