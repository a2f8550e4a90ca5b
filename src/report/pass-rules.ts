import type { Point } from "../geo/index.ts";
import type { Plan } from "../plan/index.ts";
import type { Segment } from "../strips/index.ts";
import { classOf } from "./classes.ts";
import { type DrawnField, passWidthM } from "./drawn-field.ts";
import type { Layer } from "./layers.ts";
import { type LineFrame, lineFrame } from "./line-frame.ts";

/** A stretch of a pass in one class, as a rule to draw along it: ends in the field's plane, metres. */
export interface PassRule {
  readonly pass: number;
  readonly classIndex: number;
  /** Ramp step, -1 for none. */
  readonly step: number;
  readonly from: Point;
  readonly to: Point;
  /** Width of the ground that the rule stands for, metres: the pass, or what the boundary leaves of it. */
  readonly widthM: number;
  /** Segments that the stretch joins, by their place among the field's pieces. */
  readonly pieces: readonly number[];
}

/** Ends that are nearer than this are one. */
const SAME_M = 0.01;

/**
 * Every pass of a strip layer as rules: neighbouring segments of one class are joined. The rule runs in the middle
 * of the pass, or in the middle of a piece that does not reach it. Clip with the boundary when drawing.
 */
export function passRules(plan: Plan, field: DrawnField, layer: Layer): PassRule[] {
  if (layer.draws !== "passes") throw new Error(`${layer.id} has no passes`);
  const frame = lineFrame(field.checked.line);
  const widthM = passWidthM(plan);
  const rules: PassRule[] = [];
  let last: { across: number; end: number } | null = null;
  field.passes.pieces.forEach((piece, k) => {
    const classIndex = classOf(layer.classes.limits, layer.values[k]!);
    const lane = laneOf(piece, frame, widthM);
    const before = rules.at(-1);
    if (
      last &&
      before?.pass === piece.pass &&
      before.classIndex === classIndex &&
      Math.abs(before.widthM - lane.widthM) < SAME_M &&
      Math.abs(last.across - lane.across) < SAME_M &&
      Math.abs(last.end - piece.alongStartM) < SAME_M
    ) {
      rules[rules.length - 1] = {
        ...before,
        to: frame.toPlane([lane.across, piece.alongEndM]),
        pieces: [...before.pieces, k],
      };
    } else {
      rules.push({
        pass: piece.pass,
        classIndex,
        step: layer.classes.steps[classIndex]!,
        from: frame.toPlane([lane.across, piece.alongStartM]),
        to: frame.toPlane([lane.across, piece.alongEndM]),
        widthM: lane.widthM,
        pieces: [k],
      });
    }
    last = { across: lane.across, end: piece.alongEndM };
  });
  return rules;
}

/** Where across the line a piece's rule runs, and how wide its ground is. */
function laneOf(piece: Segment, frame: LineFrame, widthM: number): { across: number; widthM: number } {
  const middle = piece.pass * widthM;
  let [least, most] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (const point of piece.polygon[0]!) {
    const [across] = frame.toLine(point);
    [least, most] = [Math.min(least, across), Math.max(most, across)];
  }
  if (least < middle && middle < most) return { across: middle, widthM };
  return { across: (least + most) / 2, widthM: most - least };
}
