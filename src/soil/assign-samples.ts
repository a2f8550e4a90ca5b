import type { Notice } from "../errors/index.ts";
import { namedOnes, plainName } from "../formats/index.ts";
import {
  containsPoint,
  distanceToBoundary,
  fieldFrame,
  frameCentre,
  globeDistance,
  type MultiPolygon,
  mapPoints,
  type Point,
} from "../geo/index.ts";
import { counted, FT_PER_MILE, M_PER_FT, numberText } from "../units/index.ts";
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
/** Farther than this from the field it names a sample is no stray but of another place (ours): a position is wrong, or the
 * name. Also where a field's plane ends and the way over the globe is told. */
const FAR_M = 20_000;

/**
 * Give each sample to a field: by the name or id in its row where the file has such a column, else by
 * location. A stray is left out with a notice that says how far it lies from the nearest field; those that lie far from the
 * field they name are told together, and those whose rows name fields that these are not.
 */
export function assignSamples(
  file: string,
  samples: readonly SoilSample[],
  fields: readonly FieldPlace[],
): FieldSamples {
  const byField = new Map<string, SoilSample[]>(fields.map((field) => [field.id, []]));
  const finders = fields.map(placeFinder);
  const notices: Notice[] = [];
  const farOff = new Map<PlaceFinder, { readonly line: number; readonly distanceM: number }[]>();
  const ofOthers: OtherSample[] = [];
  for (const sample of samples) {
    const where = `${file}, line ${sample.line}`;
    const named =
      sample.field === null ? undefined : finders.find((finder) => isFieldNamed(finder.field, sample.field!));
    const candidates = named === undefined ? finders : [named];
    const home = candidates.find((finder) => finder.isIn(sample.at)) ?? nearest(candidates, sample.at);
    const distanceM = home?.distanceM(sample.at) ?? Number.POSITIVE_INFINITY;
    if (home && distanceM <= EDGE_M) {
      byField.get(home.field.id)!.push(sample);
      if (distanceM > 0) {
        const message = `${where}: sample ${sample.id} lies ${feet(distanceM)} outside ${home.field.name}; kept.`;
        notices.push({ code: "sample-at-edge", message, where });
      }
    } else if (named && distanceM > FAR_M) {
      farOff.set(named, [...(farOff.get(named) ?? []), { line: sample.line, distanceM }]);
    } else if (home && named === undefined && sample.field !== null && sample.field.trim() !== "") {
      ofOthers.push({ line: sample.line, name: sample.field.trim(), distanceM, nearest: home.field.name });
    } else {
      const lies = named
        ? `names ${named.field.name} and lies ${feet(distanceM)} outside it`
        : `lies ${home ? `${feet(distanceM)} outside ${home.field.name}` : "in no field"}`;
      const message = `${where}: sample ${sample.id} ${lies}. Left out; mend its position or add its field.`;
      notices.push({ code: "sample-outside-fields", message, where });
    }
  }
  return {
    byField,
    notices: [
      ...[...farOff].map(([{ field }, rows]) => farNotice(file, field, rows)),
      ...(ofOthers.length === 0 ? [] : [othersNotice(file, ofOthers)]),
      ...notices,
    ],
  };
}

/** A sample outside every field whose row names none of them. */
interface OtherSample {
  readonly line: number;
  readonly name: string;
  readonly distanceM: number;
  readonly nearest: string;
}

/** Names told before the rest is a number. */
const MOST_NAMES = 6;

function othersNotice(file: string, rows: readonly OtherSample[]): Notice {
  const lines = namedOnes(
    "line",
    rows.map(({ line }) => line),
  );
  const names = [...new Map(rows.map(({ name }) => [plainName(name), name])).values()];
  const more = names.length > MOST_NAMES ? ` and ${names.length - MOST_NAMES} more` : "";
  const which = names.length === 1 ? "which is no field of this plan" : "which are no fields of this plan";
  const [first] = rows.toSorted((a, b) => a.distanceM - b.distanceM);
  const lies = `${rows.length === 1 ? "and lies" : "and the nearest of them lies"} ${feet(first!.distanceM)} outside ${first!.nearest}`;
  const message =
    `${file}, ${lines}: ${rows.length === 1 ? "1 sample names" : `${counted(rows.length, "sample")} name`} ` +
    `${names.slice(0, MOST_NAMES).join(", ")}${more}, ${which}, ${lies}. Left out; add the field where it is wanted, or mend name or position.`;
  return { code: "samples-of-no-field", message, where: `${file}, line ${rows[0]!.line}` };
}

function farNotice(
  file: string,
  { name }: FieldPlace,
  rows: readonly { readonly line: number; readonly distanceM: number }[],
): Notice {
  const lines = namedOnes(
    "line",
    rows.map(({ line }) => line),
  );
  const named = rows.length === 1 ? "1 sample names" : `${counted(rows.length, "sample")} name`;
  const least = feet(Math.min(...rows.map(({ distanceM }) => distanceM)));
  const message =
    `${file}, ${lines}: ${named} ${name} and ${rows.length === 1 ? "lies" : "lie"} ${least} from it. Left out; look for ` +
    "longitude and latitude exchanged, a lost minus sign or another coordinate system.";
  return { code: "samples-far-from-their-field", message, where: `${file}, line ${rows[0]!.line}` };
}

interface PlaceFinder {
  readonly field: FieldPlace;
  isIn(at: Point): boolean;
  /** Metres to the field, 0 inside it. */
  distanceM(at: Point): number;
}

function placeFinder(field: FieldPlace): PlaceFinder {
  const centre = frameCentre(field.boundary);
  const frame = fieldFrame(...centre);
  const plane = mapPoints(field.boundary, frame.toPlane);
  const isIn = (at: Point) => containsPoint(plane, frame.toPlane(at));
  return {
    field,
    isIn,
    distanceM: (at) => {
      if (isIn(at)) return 0;
      const overGlobeM = globeDistance(centre, at);
      return overGlobeM > FAR_M ? overGlobeM : distanceToBoundary(plane, frame.toPlane(at));
    },
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

/** Whether a row's text is the name or the id of the field, however it is spelled. */
export const isFieldNamed = ({ name, id }: Pick<FieldPlace, "id" | "name">, text: string): boolean =>
  plainName(text) === plainName(name) || plainName(text) === plainName(id);

function feet(distanceM: number): string {
  const distanceFt = distanceM / M_PER_FT;
  if (distanceFt < 1) return "less than 1 ft";
  const miles = distanceFt / FT_PER_MILE;
  if (distanceM > FAR_M) return `about ${numberText(Number(miles.toPrecision(2)), 0)} miles`;
  return miles < 1 ? `${Math.round(distanceFt)} ft` : `${miles.toFixed(1)} miles`;
}
