import type { Notice } from "../errors/index.ts";
import { plainName } from "../formats/index.ts";
import {
  containsPoint,
  distanceToBoundary,
  fieldFrame,
  frameCentre,
  type MultiPolygon,
  mapPoints,
  type Point,
} from "../geo/index.ts";
import { FT_PER_MILE, M_PER_FT } from "../units/index.ts";
import type { SoilSample } from "./soil-sample.ts";

/** A field as far as finding its samples needs it; boundary in longitude and latitude. */
export interface FieldPlace {
  readonly id: string;
  readonly name: string;
  readonly boundary: MultiPolygon;
}

interface FieldSamples {
  /** By field id, in file order; a field without samples has an empty list. */
  readonly byField: ReadonlyMap<string, readonly SoilSample[]>;
  /** Strays: samples that lie in no field, or not in the one their row names. */
  readonly notices: readonly Notice[];
}

/** A position may miss its field by this much and still count as in it: an uncorrected receiver's error
 * (common practice). */
const EDGE_M = 15;

/**
 * Give each sample to a field: by the name or id in its row where the file has such a column, else by
 * location. A stray is left out with a notice that says how far it lies from the nearest field.
 */
export function assignSamples(
  file: string,
  samples: readonly SoilSample[],
  fields: readonly FieldPlace[],
): FieldSamples {
  const byField = new Map<string, SoilSample[]>(fields.map((field) => [field.id, []]));
  const finders = fields.map(placeFinder);
  const notices: Notice[] = [];
  for (const sample of samples) {
    const where = `${file}, line ${sample.line}`;
    const named =
      sample.field === null ? undefined : finders.find((finder) => isNamed(finder.field, sample.field!));
    const candidates = named === undefined ? finders : [named];
    const home = candidates.find((finder) => finder.isIn(sample.at)) ?? nearest(candidates, sample.at);
    const distanceM = home?.distanceM(sample.at) ?? Number.POSITIVE_INFINITY;
    if (home && distanceM <= EDGE_M) {
      byField.get(home.field.id)!.push(sample);
      if (distanceM > 0) {
        const message = `${where}: sample ${sample.id} lies ${feet(distanceM)} outside ${home.field.name}; kept.`;
        notices.push({ code: "sample-at-edge", message, where });
      }
    } else {
      const from = home ? `${feet(distanceM)} outside ${home.field.name}` : "in no field";
      const message = `${where}: sample ${sample.id} lies ${from}. Left out; mend its position or add its field.`;
      notices.push({ code: "sample-outside-fields", message, where });
    }
  }
  return { byField, notices };
}

interface PlaceFinder {
  readonly field: FieldPlace;
  isIn(at: Point): boolean;
  /** Metres to the field, 0 inside it. */
  distanceM(at: Point): number;
}

function placeFinder(field: FieldPlace): PlaceFinder {
  const frame = fieldFrame(...frameCentre(field.boundary));
  const plane = mapPoints(field.boundary, frame.toPlane);
  const isIn = (at: Point) => containsPoint(plane, frame.toPlane(at));
  return {
    field,
    isIn,
    distanceM: (at) => (isIn(at) ? 0 : distanceToBoundary(plane, frame.toPlane(at))),
  };
}

function nearest(finders: readonly PlaceFinder[], at: Point): PlaceFinder | undefined {
  let best: PlaceFinder | undefined;
  let bestM = Number.POSITIVE_INFINITY;
  for (const finder of finders) {
    const distanceM = finder.distanceM(at);
    if (distanceM < bestM) [best, bestM] = [finder, distanceM];
  }
  return best;
}

function isNamed(field: FieldPlace, name: string): boolean {
  return plainName(name) === plainName(field.name) || plainName(name) === plainName(field.id);
}

function feet(distanceM: number): string {
  const distanceFt = distanceM / M_PER_FT;
  return distanceFt < FT_PER_MILE
    ? `${Math.round(distanceFt)} ft`
    : `${(distanceFt / FT_PER_MILE).toFixed(1)} miles`;
}
