import type { CompileContext } from "./compile-context.ts";
import type { CompiledForm } from "./compiled.ts";
import { plainNumber } from "./plain-number.ts";
import type { PiecesForm } from "./types.ts";

/** Straight lines between points; level outside them. Rates hang on the test alone. */
export function compilePieces(context: CompileContext, form: PiecesForm): CompiledForm {
  const points = form.points.map((point) => ({
    test: context.resolve(point.test).value(Number.NaN),
    lbPerAc: context.resolve(point.lbPerAc).value(Number.NaN),
  }));
  const first = points[0];
  const last = points.at(-1);
  if (first === undefined || last === undefined) throw new Error(`guide ${context.guide.id}: no points`);

  function rate(test: number): number {
    if (test <= first!.test) return first!.lbPerAc;
    for (let i = 1; i < points.length; i++) {
      const left = points[i - 1]!;
      const right = points[i]!;
      if (test <= right.test) {
        const share = (test - left.test) / (right.test - left.test);
        return left.lbPerAc + share * (right.lbPerAc - left.lbPerAc);
      }
    }
    return last!.lbPerAc;
  }

  return {
    rate,
    band: (test) =>
      test < first.test ? "before the first point" : test > last.test ? "after the last point" : "line",
    steps: (test) => [
      `On the straight lines of the table the test, ${plainNumber(test)} ${context.testWords}, gives ${plainNumber(rate(test))} lb ${context.nutrient}/ac.`,
    ],
    criticalLevel: () => undefined,
    isBelowCritical: () => false,
    jumps: () => [],
    needsCec: false,
    constants: form.points.flatMap((point) => [point.test, point.lbPerAc]),
  };
}
