import type { Point } from "../geo/index.ts";
import type { Plan } from "../plan/index.ts";
import { classOf } from "./classes.ts";
import { type DrawnField, spreaderCellM } from "./drawn-field.ts";
import type { Layer } from "./layer.ts";
import { lineFrame } from "./line-frame.ts";
import { pieceFinder } from "./piece-finder.ts";
import { RAMP_STEPS } from "./tokens.ts";

/** A dot of a broadcast layer: its middle in the field's plane, metres. */
export interface BroadcastDot {
  readonly at: Point;
  readonly classIndex: number;
  readonly step: number;
  /** Metres; larger is more. */
  readonly radiusM: number;
}

/** Radius of a dot as a share of the dots' spacing, by ramp step. */
export const dotShare = (step: number): number => 0.11 + (0.36 * step) / (RAMP_STEPS - 1);

/**
 * Dots at even spacing along the line A-B, every other row moved by half, each with the rate of the spreader's
 * cell it stands on. Where nothing comes there is none.
 */
export function broadcastDots(plan: Plan, field: DrawnField, layer: Layer, spacingM: number): BroadcastDot[] {
  if (layer.draws !== "dots") throw new Error(`${layer.id} has no dots`);
  const frame = lineFrame(field.checked.line);
  const [widthM, lengthM] = spreaderCellM(plan);
  const find = pieceFinder(field.swaths, frame, widthM, lengthM);
  const corners = field.checked.boundary.flatMap((polygon) => polygon[0]!.map(frame.toLine));
  const [across, along] = [corners.map(([a]) => a), corners.map(([, b]) => b)];
  const rowM = (spacingM * Math.sqrt(3)) / 2;
  const dots: BroadcastDot[] = [];
  for (let row = Math.ceil(least(along) / rowM); row * rowM < most(along); row++) {
    const shift = row % 2 === 0 ? 0 : 0.5;
    for (let n = Math.ceil(least(across) / spacingM - shift); (n + shift) * spacingM < most(across); n++) {
      const at = frame.toPlane([(n + shift) * spacingM, row * rowM]);
      const piece = find(at);
      if (piece < 0) continue;
      const classIndex = classOf(layer.classes.limits, layer.values[piece]!);
      const step = layer.classes.steps[classIndex]!;
      if (step >= 0) dots.push({ at, classIndex, step, radiusM: dotShare(step) * spacingM });
    }
  }
  return dots;
}

const least = (values: readonly number[]): number => values.reduce((a, b) => Math.min(a, b));
const most = (values: readonly number[]): number => values.reduce((a, b) => Math.max(a, b));
