import type { Feature, FeatureCollection, Position } from "geojson";
import type { Ground, LonLat, LonLatRings, PassLines } from "../engine/protocol.ts";

const collection = (features: Feature[]): FeatureCollection => ({
  type: "FeatureCollection",
  features,
});
const rings = (polygon: LonLatRings): Position[][] => polygon as unknown as Position[][];
const places = (line: readonly LonLat[]): Position[] => line as unknown as Position[];

const polygons = (parts: readonly LonLatRings[], properties: Feature["properties"]): Feature => ({
  type: "Feature",
  properties,
  geometry: { type: "MultiPolygon", coordinates: parts.map(rings) },
});

const lines = (parts: readonly (readonly LonLat[])[], properties: Feature["properties"] = {}): Feature => ({
  type: "Feature",
  properties,
  geometry: { type: "MultiLineString", coordinates: parts.map(places) },
});

const point = (at: LonLat, properties: Feature["properties"]): Feature => ({
  type: "Feature",
  properties,
  geometry: { type: "Point", coordinates: [at[0], at[1]] },
});

/** What is drawn of a field before it is worked out. */
export type Edge = Pick<Ground, "boundary" | "box">;

/** The field, and paper over everything outside it and in its holes. */
export function groundShapes({ boundary, box: [west, south, east, north] }: Edge): FeatureCollection {
  const wide = 0.5;
  const around: LonLat[] = [
    [west - wide, south - wide],
    [east + wide, south - wide],
    [east + wide, north + wide],
    [west - wide, north + wide],
    [west - wide, south - wide],
  ];
  const outers = boundary.map((polygon) => polygon[0]!);
  const holes = boundary.flatMap((polygon) => polygon.slice(1).map((hole) => [hole]));
  return collection([
    polygons(boundary, { is: "field" }),
    polygons([[around, ...outers], ...holes], { is: "around" }),
  ]);
}

/**
 * Pass numbers at the ends towards A; every tenth and fifth come first where room is short. What lies beyond the first and
 * the last pass that count is a strip of the edge too narrow to drive, and is not named.
 */
export function passNames({ ends, pass, headland, numbers }: PassLines): FeatureCollection {
  const first = new Map<number, LonLat>();
  pass.forEach((number, k) => {
    const counts = numbers !== null && number >= numbers[0] && number <= numbers[1];
    if (headland[k] === 0 && counts && !first.has(number))
      first.set(number, [ends[4 * k]!, ends[4 * k + 1]!]);
  });
  return collection(
    [...first].map(([number, at]) =>
      point(at, {
        text: String(number).replace("-", "−"),
        order: number === 0 ? 0 : number % 10 === 0 ? 1 : number % 5 === 0 ? 2 : 3,
      }),
    ),
  );
}

export const lineShapes = ({ guidance }: Ground): FeatureCollection => collection([lines([guidance])]);

/** Ground that is kept off: its outline. */
export const keptOffShapes = (parts: readonly LonLatRings[]): FeatureCollection =>
  collection([lines(parts.flat())]);

/** Corners while they are drawn: the line through them, back to the first, and a dot each. */
export const draftShapes = (corners: readonly LonLat[]): FeatureCollection =>
  collection([lines([[...corners, corners[0]!]]), ...corners.map((corner) => point(corner, {}))]);

/** A test's samples; the value of one left out of its map stands in brackets. */
export function sampleShapes(ground: Ground, test: "P" | "K" | "CEC"): FeatureCollection {
  return collection(
    ground.samples.flatMap((sample) => {
      const value = sample.values[test];
      if (value === null) return [];
      const isOff = sample.off.includes(test);
      return [point(sample.at, { text: isOff ? `(${value})` : String(value), off: isOff })];
    }),
  );
}

export interface FarmField {
  readonly boundary: readonly LonLatRings[];
  readonly box: Ground["box"];
  readonly label: LonLat;
  readonly id: string;
  readonly text: string;
  readonly colour: string;
  readonly chosen: boolean;
  readonly areaAc: number;
  /** Rules along the passes for pounds an acre; empty on the farm's sheet. */
  readonly rules: readonly (readonly LonLat[])[];
  /** Metres of ground a line of a rule covers. */
  readonly ruleM: number;
  readonly ruleColour: string;
}

export const farmRules = (fields: readonly FarmField[]): FeatureCollection =>
  collection(
    fields
      .filter(({ rules }) => rules.length > 0)
      .map(({ rules, ruleM, ruleColour }) => lines(rules, { w: ruleM, colour: ruleColour })),
  );

export const farmShapes = (fields: readonly FarmField[]): FeatureCollection =>
  collection(fields.map(({ boundary, id, colour, chosen }) => polygons(boundary, { id, colour, chosen })));

export const farmNames = (fields: readonly FarmField[]): FeatureCollection =>
  collection(
    fields.map(({ label, text, areaAc, chosen }) =>
      point(label, { text, order: chosen ? -1 : 10_000 - areaAc }),
    ),
  );
