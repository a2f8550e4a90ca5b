import { InputError, type Notice, type Question } from "../errors/index.ts";
import {
  type Geometry,
  isLonLat,
  type MultiPolygon,
  nestRings,
  orient,
  type Point,
  type Ring,
} from "../geo/index.ts";
import { type Feature, type Layer, namedOnes, type Skipped } from "./feature.ts";
import { requireOneSide } from "./one-side-of-meridian.ts";
import {
  checkRawShape,
  isClosed,
  noShapes,
  openRing,
  type RawGeometry,
  type RawLayer,
  visitRawPoints,
} from "./raw-layer.ts";
import {
  type Extent,
  ExtentSurvey,
  type FileAnswers,
  type SettledSystem,
  settleSystem,
} from "./settle-system.ts";

/** A layer with what stands open about it. While a question about coordinates is open, `located` is false and the shapes
 * are in the file's own numbers: nothing may be drawn or measured from them. */
export interface LayerReading {
  readonly layer: Layer;
  readonly located: boolean;
  readonly questions: readonly Question[];
}

/**
 * Settles coordinate system and rings of a layer as a file gives it. Questions: `coordinate-system`, `swap-lon-lat`,
 * `close-ring`. Shapes without a place stay as features with geometry null.
 * Throws `no-shapes` for an empty layer, `ring-too-short`, `line-too-short`, `bad-coordinate`, `across-180-degrees`.
 */
export function settleLayer(raw: RawLayer, answers: FileAnswers): LayerReading {
  if (raw.features.length === 0) throw noShapes(raw.path);
  const { extent, unclosed } = surveyed(raw);
  const found = settleSystem(raw.stated, extent, raw.path, answers);
  const rings = settleRings(raw, unclosed, answers);
  const place = found.settled === null ? null : placeBy(found.settled);
  const features = raw.features.map((feature): Feature => {
    const { record, properties } = feature;
    const settled = (): Geometry | null => {
      const { geometry } = feature;
      return geometry === null ? null : settledGeometry(geometry, place);
    };
    if (!raw.isLarge || place !== null) return { record, geometry: settled(), properties };
    return {
      record,
      get geometry() {
        return settled();
      },
      properties,
    };
  });
  if (found.settled !== null) refuseNowhere(features, raw, found.settled);
  const layer: Layer = {
    name: raw.name,
    path: raw.path,
    one: raw.one,
    features,
    skipped: raw.skipped,
    columns: raw.columns,
    coordinateSystem: found.settled?.system.code ?? "unknown",
    coordinateSystemFrom: found.settled?.from ?? "answer",
    encoding: raw.encoding,
    notices: [...raw.notices, ...found.notices, ...rings.notices],
  };
  const located = found.settled !== null && rings.questions.length === 0;
  return { layer, located, questions: [...found.questions, ...rings.questions] };
}

/** Turns a position of the file into longitude and latitude; null where it is that already. */
type Place = ((point: Point) => Point) | null;

function placeBy({ system, swap }: SettledSystem): Place {
  if (system.isDegrees && system.datum !== "NAD27" && !swap) return null;
  return ([x, y]) => system.toLonLat(swap ? [y, x] : [x, y]);
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

interface Unclosed {
  readonly record: number;
  readonly seen: string;
}

/** Looks at every shape once: what no answer can mend, the box of the numbers, rings that are not closed. */
function surveyed(raw: RawLayer): { extent: Extent; unclosed: readonly Unclosed[] } {
  const survey = new ExtentSurvey();
  const unclosed: Unclosed[] = [];
  for (const feature of raw.features) {
    const { geometry, record } = feature;
    if (geometry === null) continue;
    const where = `${raw.path}, ${raw.one} ${record}`;
    checkRawShape(geometry, where);
    visitRawPoints(geometry, (point) => survey.add(point, where));
    if (geometry.kind !== "polygon") continue;
    for (const ring of geometry.polygons.flat()) {
      if (isClosed(ring)) continue;
      const ends = `it begins at ${ring[0]!.join(", ")} and ends at ${ring.at(-1)!.join(", ")}`;
      unclosed.push({ record, seen: `${where}: a ring is not closed; ${ends}` });
    }
  }
  return { extent: survey.extent, unclosed };
}

function settleRings(
  raw: RawLayer,
  open: readonly Unclosed[],
  answers: FileAnswers,
): { questions: Question[]; notices: Notice[] } {
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

function settledGeometry(geometry: RawGeometry, place: Place): Geometry {
  if (geometry.kind === "point")
    return { kind: "point", at: place === null ? geometry.at : place(geometry.at) };
  const placed = (points: readonly Point[]): readonly Point[] =>
    place === null ? points : points.map(place);
  if (geometry.kind === "line") return { kind: "line", parts: geometry.parts.map(placed) };
  const polygons = geometry.polygons.map((polygon) => polygon.map((ring) => placed(openRing(ring))));
  // A ring alone has nothing to be nested in.
  const isPlain = geometry.nested || polygons.every((polygon) => polygon.length === 1);
  const nested = isPlain ? orient(polygons) : nestRings(polygons.flat());
  return { kind: "polygon", polygons: begunAsGiven(nested, polygons) };
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

/** What lies nowhere in its coordinate system, or on both sides of the 180° meridian. */
function refuseNowhere(features: readonly Feature[], raw: RawLayer, { system, swap }: SettledSystem): void {
  // Degrees as the file has them: a large layer's shapes are not made twice over.
  for (const { geometry, record } of system.isDegrees ? raw.features : features) {
    if (geometry === null) continue;
    const where = `${raw.path}, ${raw.one} ${record}`;
    const placed = asRaw(geometry);
    if (!system.isDegrees) refuseBeyond(placed, where);
    requireOneSide(placed, system.isDegrees && swap, where);
  }
}

function refuseBeyond(geometry: RawGeometry, where: string): void {
  visitRawPoints(geometry, (point) => {
    if (isLonLat(point)) return;
    throw new InputError(
      "bad-coordinate",
      `${where}: a vertex lies nowhere in its coordinate system`,
      "Export the file again.",
    );
  });
}

const asRaw = (geometry: Geometry | RawGeometry): RawGeometry =>
  geometry.kind === "polygon" ? { ...geometry, nested: true } : geometry;
