import { InputError, type Notice } from "../../errors/index.ts";
import type { Feature } from "../../formats/index.ts";
import {
  boundsOf,
  cellAreas,
  commonArea,
  type Geometry,
  joinedArea,
  type MultiPolygon,
  mapPoints,
  multiPolygonArea,
  repairLonLat,
  setbackArea,
} from "../../geo/index.ts";
import { acres, metresFromFeet } from "../../units/index.ts";
import type { PlanPlace } from "../document/document-drive-types.ts";
import type { PlanExclusion } from "../document/document-need-types.ts";
import type { Excluded } from "../results/need-result-types.ts";
import type { CheckedField, FieldGrid } from "../results/result-types.ts";
import type { Inputs } from "../sources/read-sources.ts";

/**
 * Draw the plan's exclusions over a field: each shape widened by its setback, cut to the field, joined by method, and
 * the share of each cell's ground it takes. Throws `setback-missing` for a point or line with no distance, and
 * `no-such-record`.
 */
export function layExclusions(
  exclusions: readonly PlanExclusion[],
  checked: CheckedField,
  cells: FieldGrid,
  inputs: Inputs,
): Excluded {
  const drawn = exclusions.map((exclusion) => ({
    exclusion,
    ground: groundOf(exclusion, checked, inputs),
  }));
  const of = (method: "strip" | "surface") =>
    joinedArea(
      drawn
        .filter(({ exclusion }) => exclusion.method === method || exclusion.method === "both")
        .map(({ ground }) => ground),
    );
  const ground = { strip: of("strip"), surface: of("surface") };
  const share = (area: MultiPolygon) =>
    cellAreas(area, cells.grid).map((areaM2, cell) => {
      const whole = cells.areaM2[cell]!;
      return whole > 0 ? Math.min(1, areaM2 / whole) : 0;
    });
  const both = commonArea(ground.strip, ground.surface);
  const inAcres = (area: MultiPolygon) => acres(multiPolygonArea(area));
  const areaAc = { strip: inAcres(ground.strip), surface: inAcres(ground.surface), both: inAcres(both) };
  const places = drawn.flatMap(({ exclusion, ground: own }) =>
    own.length === 0
      ? []
      : [
          {
            what: exclusion.what,
            method: exclusion.method,
            setbackFt: exclusion.setbackFt,
            areaAc: inAcres(own),
          },
        ],
  );
  return {
    ground,
    strip: share(ground.strip),
    surface: share(ground.surface),
    both: share(both),
    areaAc,
    places,
  };
}

/** What a plan without exclusions must say of itself. */
export const noSetbacks: Notice = {
  code: "no-setbacks",
  message: "no setbacks entered, none respected",
  where: "exclusions",
};

function groundOf(exclusion: PlanExclusion, checked: CheckedField, inputs: Inputs): MultiPolygon {
  const distanceM = metresFromFeet(exclusion.setbackFt);
  const shapes = featuresOf(exclusion, inputs).map((geometry) =>
    setbackArea(nearPart(inPlane(geometry, checked), distanceM, checked), distanceM),
  );
  return commonArea(joinedArea(shapes), checked.boundary);
}

function featuresOf(exclusion: PlanExclusion, inputs: Inputs): Geometry[] {
  const { source, record, corners, what, setbackFt } = exclusion;
  if (source === undefined) return [drawnShape(corners ?? [])];
  const all: readonly Feature[] = inputs.file(source).layers.flatMap((layer) => layer.features);
  const wanted = record === undefined ? all : all.filter((feature) => feature.record === record);
  if (wanted.length === 0) {
    throw new InputError(
      "no-such-record",
      `${source}: no record ${record ?? 1} for the exclusion “${what}”.`,
      "Name a record that the file has.",
    );
  }
  const shapes = wanted.flatMap((feature) => feature.geometry ?? []);
  const thin = shapes.find((geometry) => geometry.kind !== "polygon");
  if (thin !== undefined && setbackFt === 0) {
    throw new InputError(
      "setback-missing",
      `${source}: the exclusion “${what}” is a ${thin.kind} with a setback of 0 ft, which keeps nothing off.`,
      "Type the distance to keep from it, ft, as your rules say.",
    );
  }
  return shapes;
}

/** Corners as drawn, crossing or not: what their line goes round. */
const drawnShape = (corners: readonly PlanPlace[]): Geometry => ({
  kind: "polygon",
  polygons: repairLonLat([[corners.map(({ lonDeg, latDeg }) => [lonDeg, latDeg] as const)]]).repaired,
});

function inPlane(geometry: Geometry, { frame }: CheckedField): Geometry {
  if (geometry.kind === "point") return { kind: "point", at: frame.toPlane(geometry.at) };
  if (geometry.kind === "line") {
    return { kind: "line", parts: geometry.parts.map((part) => part.map((place) => frame.toPlane(place))) };
  }
  return { kind: "polygon", polygons: mapPoints(geometry.polygons, frame.toPlane) };
}

/** The parts of a shape whose box lies within the distance of the field's box; the rest cannot reach it. */
function nearPart(shape: Geometry, distanceM: number, { boundary }: CheckedField): Geometry {
  const field = boundsOf(boundary);
  const isNear = (points: readonly (readonly [number, number])[]): boolean => {
    if (points.length === 0) return false;
    const box = boundsOf([[points]]);
    return (
      box.minX <= field.maxX + distanceM &&
      box.maxX >= field.minX - distanceM &&
      box.minY <= field.maxY + distanceM &&
      box.maxY >= field.minY - distanceM
    );
  };
  if (shape.kind === "point") return isNear([shape.at]) ? shape : { kind: "line", parts: [] };
  if (shape.kind === "line") return { kind: "line", parts: shape.parts.filter(isNear) };
  return { kind: "polygon", polygons: shape.polygons.filter((polygon) => isNear(polygon[0] ?? [])) };
}
