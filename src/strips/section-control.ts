import { InputError } from "../errors/index.ts";
import {
  type Bands,
  cutIntoBands,
  type FlatRing,
  type MultiPolygon,
  multiPolygonArea,
  orient,
  type Point,
  snapFlatTiles,
} from "../geo/index.ts";
import { sum } from "../numeric/index.ts";
import { guidanceFrame, movePolygons } from "./guidance-frame.ts";

interface SectionControl {
  /** The interior, in the field's plane, metres. */
  readonly interior: MultiPolygon;
  /** Straight guidance, A then B. */
  readonly guidance: readonly Point[];
  readonly rows: number;
  readonly rowSpacingM: number;
  /** Parts of the rig that start and stop by themselves, 1 to the number of rows, all equally wide. */
  readonly sections: number;
  /** How far the rig drives before product comes after "on", and before it ends after "off", m (speed times delay). */
  readonly onDelayM: number;
  readonly offDelayM: number;
}

interface SectionFigures {
  /** Land put down on, counted as often as it is. */
  readonly appliedM2: number;
  /** Put down outside the interior: on the headland, which gets its own, or off the field. */
  readonly overlapM2: number;
  /** Land of the interior left without. */
  readonly skipM2: number;
}

/** Micrometres, as elsewhere. */
const STEPS = 1_000_000;

/**
 * Overlap and skip of straight passes by geometry: a section is on from where its first row comes to land until its last
 * one has left, each later by its delay; even passes are driven along the line, odd ones back.
 * Throws `sections` unless the rows can be shared out evenly.
 */
export const sectionFigures = (control: SectionControl): SectionFigures => {
  const { interior, guidance, rows, rowSpacingM, sections, onDelayM, offDelayM } = control;
  if (!(Number.isInteger(sections) && sections >= 1 && sections <= rows && rows % sections === 0)) {
    throw new InputError(
      "sections",
      `${sections} sections of ${rows} rows.`,
      "Give a number of sections that the rows can be shared out over evenly, from 1 to the number of rows.",
    );
  }
  const sectionM = (rows / sections) * rowSpacingM;
  const bands: Bands = { axis: 0, line: (band) => (band - sections / 2) * sectionM };
  const { toGuidance } = guidanceFrame(guidance);
  const rings = orient(movePolygons(interior, toGuidance)).flatMap((polygon) =>
    polygon.map((ring) => ring.flat()),
  );
  let appliedM2 = 0;
  let skipM2 = 0;
  for (const [band, slab] of cutIntoBands(rings, bands)) {
    const forward = Math.floor(band / sections) % 2 === 0;
    const on = onStretches(slab, forward, onDelayM, offDelayM);
    appliedM2 += sectionM * sum(on.map(([from, to]) => to - from));
    const covered = on.map(([from, to]) => areaBelow(slab, to) - areaBelow(slab, from));
    skipM2 += areaBelow(slab, Number.POSITIVE_INFINITY) - sum(covered);
  }
  const interiorM2 = multiPolygonArea(interior);
  return {
    appliedM2,
    overlapM2: Math.max(0, appliedM2 - (interiorM2 - skipM2)),
    skipM2: Math.max(0, skipM2),
  };
};

/** A share of the interior, typed by the user or worked out; typed it stands alone and is never added to. */
export const overlapShare = (
  typed: number | undefined,
  figures: SectionFigures,
  interiorM2: number,
): number => typed ?? figures.overlapM2 / interiorM2;

/** Where a section is on: from end to end of each connected piece of its slab, moved on by the delays. */
const onStretches = (
  slab: readonly FlatRing[],
  forward: boolean,
  onDelayM: number,
  offDelayM: number,
): [from: number, to: number][] => {
  const pieces = snapFlatTiles([slab], STEPS)[0]!;
  const driven = pieces
    .map(([shell]): [number, number] => {
      const along = shell!.map(([, y]) => (forward ? y : -y));
      return [
        along.reduce((a, b) => Math.min(a, b), Number.POSITIVE_INFINITY),
        along.reduce((a, b) => Math.max(a, b), Number.NEGATIVE_INFINITY),
      ];
    })
    .sort((a, b) => a[0] - b[0]);
  // One order to go on or off for stretches that meet; then the delays.
  const orders: [number, number][] = [];
  for (const [from, to] of driven) {
    const last = orders[orders.length - 1];
    if (last !== undefined && from <= last[1]) last[1] = Math.max(last[1], to);
    else orders.push([from, to]);
  }
  const on: [number, number][] = [];
  for (const [ordered, off] of orders) {
    const from = ordered + onDelayM;
    const to = off + offDelayM;
    if (to <= from) continue;
    const last = on[on.length - 1];
    if (last !== undefined && from <= last[1]) last[1] = Math.max(last[1], to);
    else on.push([from, to]);
  }
  return forward ? on : on.map(([from, to]): [number, number] => [0 - to, 0 - from]);
};

/** Area of the rings' land south of a line, by the stretches of edges below it. */
const areaBelow = (rings: readonly FlatRing[], limit: number): number => {
  let area = 0;
  for (const ring of rings) {
    for (let i = 0; i < ring.length; i += 2) {
      const j = (i + 2) % ring.length;
      // Land lies left of an edge: going west it is below. Height under the edge is cut off at the limit.
      area += heightUnder(ring[i]!, ring[i + 1]!, ring[j]!, ring[j + 1]!, limit);
    }
  }
  return area;
};

/** Integral of min(y, limit) dx along an edge, positive going west. */
const heightUnder = (ax: number, ay: number, bx: number, by: number, limit: number): number => {
  if (ay <= limit && by <= limit) return ((ax - bx) * (ay + by)) / 2;
  if (ay >= limit && by >= limit) return (ax - bx) * limit;
  const x = ax + ((bx - ax) * (limit - ay)) / (by - ay);
  return ay < limit
    ? ((ax - x) * (ay + limit)) / 2 + (x - bx) * limit
    : (ax - x) * limit + ((x - bx) * (limit + by)) / 2;
};
