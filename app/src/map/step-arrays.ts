import { ramps } from "#core";
import type { DrawnLayer, Ground, StepShapes } from "../engine/protocol.ts";
import { CORNERS, inSquare } from "./own-layer.ts";
import { CASING, CORNER_RECORD, CRITICAL, EDGE, LINE_RECORD, NONE_EDGE } from "./step-programs.ts";

/** Corners of the box under the regions, and its two triangles. */
const BOX = 4;
const BOX_TRIANGLES: readonly number[] = [0, 1, 2, 0, 2, 3];

/** Flat steps as the card takes them, counted from an origin in the map's square. */
export interface StepArrays {
  /** A record for each corner of the box and of the regions. */
  readonly corners: Float32Array<ArrayBuffer>;
  /** Three corners each, the box first. */
  readonly triangles: Uint32Array<ArrayBuffer>;
  /** Four records for each stretch of a line, in the order drawn. */
  readonly stretches: Float32Array<ArrayBuffer>;
  readonly origin: readonly [number, number];
  readonly ramp: readonly string[];
}

/** Corners from the first up to before the end, around ground above a limit. */
interface Ring {
  readonly first: number;
  readonly end: number;
  readonly limit: number;
}

/** The box of the ground in the colour of the least class lies under the regions. */
export function stepArrays(
  { steps, ramp, hasNone }: DrawnLayer["layer"]["classes"],
  { places, rings, limits, triangles }: StepShapes,
  [west, south, east, north]: Ground["box"],
): StepArrays {
  const origin = inSquare(west, south);
  const square = new Float64Array(places.length);
  for (let at = 0; at < places.length; at += 2) {
    const [x, y] = inSquare(places[at]!, places[at + 1]!);
    square[at] = x - origin[0];
    square[at + 1] = y - origin[1];
  }
  const shadeOf = (limit: number) => steps[limit + 1]! + 1;
  const corners = new Float32Array(CORNER_RECORD * (BOX + places.length / 2));
  const under = shadeOf(-1);
  const [x, y] = inSquare(east, north);
  const [wide, high] = [x - origin[0], y - origin[1]];
  corners.set([0, 0, under, wide, 0, under, wide, high, under, 0, high, under]);
  const edges: Ring[] = [];
  const critical: Ring[] = [];
  for (const [k, limit] of limits.entries()) {
    const ring = { first: rings[k]!, end: rings[k + 1]!, limit };
    (limit < 0 ? critical : edges).push(ring);
    if (limit < 0) continue;
    for (let corner = ring.first; corner < ring.end; corner++) {
      const [atX, atY] = [square[2 * corner]!, square[2 * corner + 1]!];
      corners.set([atX, atY, shadeOf(limit)], CORNER_RECORD * (BOX + corner));
    }
  }
  const filled = new Uint32Array(BOX_TRIANGLES.length + triangles.length);
  filled.set(BOX_TRIANGLES);
  for (const [k, corner] of triangles.entries()) filled[BOX_TRIANGLES.length + k] = BOX + corner;
  const lines = [
    ...edges.map((ring) => ({
      ...ring,
      kind: hasNone && ring.limit === 0 ? NONE_EDGE : EDGE,
      shade: shadeOf(ring.limit),
    })),
    ...critical.map((ring) => ({ ...ring, kind: CASING, shade: 0 })),
    ...critical.map((ring) => ({ ...ring, kind: CRITICAL, shade: 0 })),
  ];
  return { corners, triangles: filled, stretches: stretchesOf(square, lines), origin, ramp: ramps[ramp] };
}

/** Every line from corner to corner and back to its first. */
function stretchesOf(
  square: Float64Array,
  lines: readonly (Ring & { readonly kind: number; readonly shade: number })[],
): Float32Array<ArrayBuffer> {
  const count = lines.reduce((sum, { first, end }) => sum + end - first, 0);
  const stretches = new Float32Array(LINE_RECORD * CORNERS * count);
  let at = 0;
  for (const { first, end, kind, shade } of lines) {
    let along = 0;
    for (let k = first; k < end; k++) {
      const next = k + 1 < end ? k + 1 : first;
      const [ax, ay, bx, by] = [square[2 * k]!, square[2 * k + 1]!, square[2 * next]!, square[2 * next + 1]!];
      const record = [ax, ay, bx, by, along, kind, shade];
      for (let corner = 0; corner < CORNERS; corner++, at += LINE_RECORD) stretches.set(record, at);
      along += Math.hypot(bx - ax, by - ay);
    }
  }
  return stretches;
}
