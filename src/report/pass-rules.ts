import { distance, type Point } from "../geo/index.ts";
import { classOf } from "./classes.ts";
import type { DrawnField } from "./drawn-field.ts";
import type { Layer } from "./layer.ts";
import { passPaths } from "./pass-paths.ts";

/** A stretch of a pass in one class, as a rule to draw along it: in the field's plane, metres. */
export interface PassRule {
  readonly kind: "interior" | "headland";
  readonly pass: number;
  readonly classIndex: number;
  /** Ramp step, -1 for none. */
  readonly step: number;
  readonly from: Point;
  readonly to: Point;
  /** The way from one to the other: bent on headlands and along curves. */
  readonly path: readonly Point[];
  /** Width of the ground that the rule stands for, metres: the pass, or what the boundary leaves of it. */
  readonly widthM: number;
  /** Segments that the stretch joins, by their place among the field's pieces. */
  readonly pieces: readonly number[];
}

/** Ends that are nearer than this are one, and widths nearer than a share of them. */
const SAME_M = 0.01;
const SAME_WIDTH = 0.05;

/**
 * Every pass of a strip layer as rules: neighbouring segments of one class are joined. The rule runs in the middle
 * of the pass, or in the middle of a piece that does not reach it. Clip with the boundary when drawing.
 */
export function passRules(field: DrawnField, layer: Layer): PassRule[] {
  if (layer.draws !== "passes") throw new Error(`${layer.id} has no passes`);
  const { passes } = field;
  const paths = passPaths(passes);
  const isStraight = passes.along.length === 2;
  const rules: PassRule[] = [];
  for (const { kind, segments, forward } of passes.runs) {
    const tolerance = kind === "interior" && isStraight ? 0 : SAME_WIDTH;
    let isNew = true;
    for (const k of forward ? segments : segments.toReversed()) {
      const { path, widthM } = paths[k]!;
      const classIndex = classOf(layer.classes.limits, layer.values[k]!);
      const before = rules.at(-1);
      const isSame =
        !isNew &&
        before?.classIndex === classIndex &&
        Math.abs(before.widthM - widthM) < SAME_M + tolerance * widthM &&
        distance(before.to, path[0]!) < SAME_M;
      isNew = false;
      if (isSame) {
        const joined = [...before.path, ...path.slice(1)];
        rules[rules.length - 1] = {
          ...before,
          to: path.at(-1)!,
          path: tolerance === 0 ? [before.from, path.at(-1)!] : joined,
          pieces: [...before.pieces, k],
        };
        continue;
      }
      rules.push({
        kind,
        pass: passes.pieces[k]!.pass,
        classIndex,
        step: layer.classes.steps[classIndex]!,
        from: path[0]!,
        to: path.at(-1)!,
        path,
        widthM,
        pieces: [k],
      });
    }
  }
  return rules;
}
