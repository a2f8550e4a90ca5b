import { InputError, type Notice } from "../../errors/index.ts";
import {
  fieldFrame,
  frameCentre,
  globeDistance,
  type MultiPolygon,
  mapPoints,
  multiPolygonArea,
  orient,
  type Point,
  type Polygon,
  ringFaults,
} from "../../geo/index.ts";
import { acres, counted, numberText } from "../../units/index.ts";
import type { Plan, PlanField } from "../document/document-types.ts";
import type { CheckedLand } from "../results/result-types.ts";
import { shapeAt } from "../sources/field-shapes.ts";
import type { Inputs } from "../sources/read-sources.ts";
import { fieldSamplings } from "./field-samplings.ts";

/**
 * Put a field's land and samples together and see that they can be worked with: a boundary that does not
 * cross itself, no more acres than a field has, samples in it. Everything in degrees is also given in metres of the
 * field's own plane.
 */
export function checkField(plan: Plan, field: PlanField, inputs: Inputs): CheckedLand {
  const boundaryLonLat = orient(boundaryOf(field, inputs));
  const frame = fieldFrame(...centreOf(field, boundaryLonLat));
  const boundary = mapPoints(boundaryLonLat, frame.toPlane);
  refuseFaults(field, boundary, (place) => frame.toLonLat(place));
  const areaAc = acres(multiPolygonArea(boundary));
  refuseTooBig(field, areaAc);
  const sampled = fieldSamplings(plan, field, inputs);
  const { samples } = sampled;
  return {
    boundaryLonLat,
    frame,
    boundary,
    samples,
    places: samples.map((sample) => frame.toPlane(sample.at)),
    records: sampled.records,
    samplings: sampled.samplings,
    methods: sampled.methods,
    depth: sampled.depth,
    areaAc,
    notices: [
      ...tooSmall(field, areaAc),
      ...sampled.notices.map((notice) => ({ ...notice, where: `${field.id}: ${notice.where}` })),
    ],
  };
}

/** Metres from the middle of the boundary up to which lengths and areas in the plane are those on the ground; ours. */
const MOST_OFF_M = 5_000;

/** The middle of the field's plane, in degrees, as the plan has it or that of the boundary. */
function centreOf({ name, frameCentre: typed }: PlanField, boundaryLonLat: MultiPolygon): Point {
  const middle = frameCentre(boundaryLonLat);
  if (typed === undefined) return middle;
  const centre: Point = [typed.lonDeg, typed.latDeg];
  const offM = globeDistance(centre, middle);
  if (offM <= MOST_OFF_M) return centre;
  throw new InputError(
    "frame-centre-far-away",
    `${name}: frameCentre, longitude ${typed.lonDeg} and latitude ${typed.latDeg}, is ${numberText(offM / 1_000, 1)} km from the middle of the boundary.`,
    `Give a place within ${MOST_OFF_M / 1_000} km of it, or leave frameCentre out: the middle of the boundary is taken then.`,
  );
}

/** The field's polygons in degrees, as its files have them. Throws `not-a-boundary`, `no-such-record`. */
export function boundaryOf(field: PlanField, inputs: Inputs): MultiPolygon {
  const polygons: Polygon[] = [];
  for (const shape of field.boundary) {
    const feature = shapeAt(inputs.file(shape.source), shape.record, "polygon");
    if (feature.geometry?.kind !== "polygon") {
      throw new InputError(
        "not-a-boundary",
        `${shape.source}, record ${shape.record}: a ${feature.geometry?.kind ?? "record without a shape"}, not a polygon.`,
        "Name the record that holds the field's boundary.",
      );
    }
    polygons.push(...feature.geometry.polygons);
  }
  return polygons;
}

/** Acres of one field beyond which a corner is taken to be mistyped; ours: 40 sections, about 10 km each way. */
const MOST_AC = 25_600;

function refuseTooBig({ name, boundary }: PlanField, areaAc: number): void {
  if (areaAc <= MOST_AC) return;
  const { source, record } = boundary[0]!;
  throw new InputError(
    "field-too-big",
    `${name} (${source}, record ${record}): ${numberText(areaAc, 0)} ac in one field.`,
    `Look for a mistyped corner; a field may have ${numberText(MOST_AC, 0)} ac.`,
  );
}

/** Acres below which a boundary is doubted; ours: a square of 20 m, half as wide as many rigs turn in. */
const LEAST_AC = 0.1;

function tooSmall({ id, name, boundary }: PlanField, areaAc: number): Notice[] {
  if (areaAc >= LEAST_AC) return [];
  const { source, record } = boundary[0]!;
  const message = `${name} (${source}, record ${record}): ${Number(areaAc.toPrecision(2))} ac in all; look whether the boundary is drawn to scale`;
  return [{ code: "field-very-small", message, where: id }];
}

function refuseFaults(field: PlanField, boundary: MultiPolygon, toLonLat: (place: Point) => Point): void {
  const faults = ringFaults(boundary);
  if (faults.length === 0) return;
  const shown = faults.slice(0, 3).map((fault) => {
    const [lon, lat] = toLonLat(fault.place);
    return `${fault.kind} at ${lat.toFixed(6)}, ${lon.toFixed(6)}`;
  });
  const shape = field.boundary[0]!;
  throw new InputError(
    "boundary-not-valid",
    `${field.name} (${shape.source}, record ${shape.record}): the boundary has ${counted(faults.length, "fault")}: ${shown.join("; ")} (latitude, longitude).`,
    "Redraw the boundary there; a ring must not cross itself or another.",
  );
}
