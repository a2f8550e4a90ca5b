import { InputError, type Notice, type Question } from "../../errors/index.ts";
import { type Feature, type FileAnswers, type Layer, namedOnes } from "../../formats/index.ts";
import {
  boundaryReadings,
  boundsOf,
  ellipsoidArea,
  type MultiPolygon,
  orient,
  overlapAreas,
  type Point,
  ringFaults,
} from "../../geo/index.ts";
import { acres, M2_PER_AC } from "../../units/index.ts";

interface SettledBoundary {
  readonly layer: Layer;
  readonly questions: readonly Question[];
}

const MOST_SHOWN = 3;

/**
 * Boundaries that cross themselves: where even-odd, non-zero and signed sum of the rings agree within 1 m2 or a millionth
 * they are repaired by the non-zero rule, with a notice; else the question `repair-boundary` (`non-zero`, `even-odd`).
 * Unanswered ones stay as they are. Throws `no-area` for a boundary that holds no land, `boundary-too-wide`.
 */
export function settleBoundary(layer: Layer, answers: FileAnswers): SettledBoundary {
  const notices: Notice[] = [];
  const asked: { record: number; seen: string }[] = [];
  const features = layer.features.map((feature): Feature => {
    if (feature.geometry?.kind !== "polygon") return feature;
    const where = `${layer.path}, ${layer.one} ${feature.record}`;
    if (isWide(feature.geometry.polygons)) {
      refuseWideFaults(feature.geometry.polygons, where);
      return feature;
    }
    const readings = boundaryReadings(feature.geometry.polygons);
    const faults = readings.faults.filter(({ kind }) => kind !== "repeated");
    if (faults.length === 0) return feature;
    const places = placesShown(faults.map(({ kind, place }) => ({ kind, place })));
    const [nonZero, evenOdd, ringSum] = [readings.nonZeroM2, readings.evenOddM2, readings.ringSumM2].map(
      (area) => acres(area).toFixed(2),
    );
    const answer = answers["repair-boundary"];
    const rule =
      readings.agree || answer === "non-zero" ? "non-zero" : answer === "even-odd" ? "even-odd" : null;
    if (rule === null) {
      const seen = `${where}: ${places}; non-zero ${nonZero} ac, even-odd ${evenOdd} ac, signed ring sum ${ringSum} ac`;
      asked.push({ record: feature.record, seen });
      return feature;
    }
    const polygons = rule === "non-zero" ? readings.nonZero : readings.evenOdd;
    if (polygons.length === 0)
      throw new InputError("no-area", `${where}: the boundary holds no land`, "Draw it again.");
    const message = `${layer.one} ${feature.record}: repaired (${places}), ${rule === "non-zero" ? nonZero : evenOdd} ac by the ${rule} rule`;
    notices.push({ code: "boundary-repaired", message, where });
    return { ...feature, geometry: { kind: "polygon", polygons } };
  });
  const settled = { ...layer, features, notices: [...layer.notices, ...notices] };
  if (asked.length === 0) return { layer: settled, questions: [] };
  const named = namedOnes(
    layer.one,
    asked.map(({ record }) => record),
  );
  const text =
    `The boundary of ${named} crosses itself; its corners may stand in the wrong order. Redraw it, or say what is land: ` +
    "every place its line goes round (non-zero), or only those it goes round an odd number of times (even-odd).";
  const seen = asked
    .slice(0, MOST_SHOWN)
    .map((one) => one.seen)
    .join("; ");
  return {
    layer: settled,
    questions: [{ key: "repair-boundary", text, choices: ["non-zero", "even-odd"], seen }],
  };
}

/** Wider or taller than this no boundary is repaired: it is no field's, and its plane would not hold it. */
const WIDEST_DEG = 2;

function isWide(area: MultiPolygon): boolean {
  const { minX, minY, maxX, maxY } = boundsOf(area);
  return maxX - minX > WIDEST_DEG || maxY - minY > WIDEST_DEG;
}

function refuseWideFaults(area: MultiPolygon, where: string): void {
  const faults = ringFaults(orient(area)).filter(({ kind }) => kind !== "repeated");
  if (faults.length === 0) return;
  throw new InputError(
    "boundary-too-wide",
    `${where}: it crosses itself (${placesShown(faults)}) and is more than ${WIDEST_DEG} degrees wide or tall`,
    "Give the boundary of one field, drawn anew where it crosses itself.",
  );
}

/**
 * Refuses polygons with rates that cross themselves, or two that share more than 1 m2 or a millionth of all land (edges
 * rounded to 7 decimals share less): which rate would hold there nobody can say. Throws `rate-shape-crossing`, `rate-shapes-overlap`.
 */
export function refuseBadRateShapes(layer: Layer): void {
  const shapes: { record: number; area: MultiPolygon }[] = [];
  for (const { geometry, record } of layer.features) {
    if (geometry?.kind !== "polygon") continue;
    const area = orient(geometry.polygons);
    const faults = ringFaults(area).filter(({ kind }) => kind !== "repeated");
    if (faults.length > 0) {
      throw new InputError(
        "rate-shape-crossing",
        `${layer.path}, ${layer.one} ${record}: its outline is not sound (${placesShown(faults)}); shapes with rates are not repaired`,
        "Draw it again, so that its outline does not cross itself.",
      );
    }
    shapes.push({ record, area });
  }
  const land = shapes.reduce((sum, { area }) => sum + ellipsoidArea(area), 0);
  const least = Math.max(1, 1e-6 * land);
  const overlaps = overlapAreas(shapes.map(({ area }) => area)).filter(({ areaM2 }) => areaM2 > least);
  if (overlaps.length === 0) return;
  const named = overlaps.slice(0, MOST_SHOWN).map(({ one, other, areaM2 }) => {
    const size = areaM2 < 0.005 * M2_PER_AC ? `${Math.round(areaM2)} m2` : `${acres(areaM2).toFixed(2)} ac`;
    return `${layer.one} ${shapes[one]!.record} and ${layer.one} ${shapes[other]!.record} by ${size}`;
  });
  const more = overlaps.length > MOST_SHOWN ? ` and ${overlaps.length - MOST_SHOWN} more` : "";
  throw new InputError(
    "rate-shapes-overlap",
    `${layer.path}: shapes with rates lie over one another: ${named.join("; ")}${more}`,
    "Cut the overlap away in the file; which rate holds there nobody can say.",
  );
}

function placesShown(faults: readonly { readonly kind: string; readonly place: Point }[]): string {
  const shown = faults
    .slice(0, MOST_SHOWN)
    .map(({ kind, place: [lon, lat] }) => `${kind} at ${lon.toFixed(6)}, ${lat.toFixed(6)}`);
  return `${shown.join(", ")}${faults.length > MOST_SHOWN ? ` and ${faults.length - MOST_SHOWN} more` : ""}`;
}
