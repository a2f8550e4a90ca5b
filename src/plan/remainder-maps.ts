import { type Remainder, remainder } from "../applied/index.ts";
import { InputError } from "../errors/index.ts";
import type { Point } from "../geo/index.ts";
import { sum } from "../numeric/index.ts";
import { type Prescription, ratePrescription } from "../prescription/index.ts";
import { appliedField } from "./applied-field.ts";
import type { ProductLog } from "./applied-types.ts";
import type { Plan } from "./document-types.ts";
import type { FieldResult } from "./result-types.ts";

/** What is known of the work done in a field. */
export type FieldWorkDone =
  /** Stretches of passes done, in working order. */
  | { readonly by: "pass"; readonly doneAfter: number }
  | { readonly by: "log"; readonly logs: readonly ProductLog[] }
  /** Longitude and latitude; what lies to the right of the line, seen from its first point, is worked. */
  | { readonly by: "line"; readonly line: readonly [Point, Point] };

/** What is left of a field, with the maps for it. */
export interface RemainderOfField {
  readonly fieldId: string;
  readonly remainder: Remainder;
  /** Strip maps of the field with 0 where it is worked, one a bin, files not yet written. */
  readonly prescriptions: readonly Prescription[];
}

/**
 * The strip maps of what is not worked yet: the whole field's pieces, 0 where work was done, so that nothing is laid
 * twice. `rates`: one rate for all that is left, by product, in place of the map's; `share`: of the map's rates.
 * Throws `pass-out-of-range`, and what `appliedField` throws.
 */
export function remainderMaps(
  plan: Plan,
  field: FieldResult,
  done: FieldWorkDone,
  change: { readonly rates?: Readonly<Record<string, number>>; readonly share?: number } = {},
): RemainderOfField {
  const { passes } = field;
  const maps = field.prescriptions.filter((map) => map.pass === "strip");
  const segments = passes.pieces.map((piece, k) => ({
    pass: piece.pass,
    areaM2: piece.areaM2,
    polygon: piece.polygon,
    ratesLbPerAc: maps.map((map) =>
      // Ground kept off, and a map's own zeros, stay at 0.
      map.rateLbPerAc[k]! === 0
        ? 0
        : (change.rates?.[map.product] ?? map.rateLbPerAc[k]! * (change.share ?? 1)),
    ),
  }));
  const left = remainder(segments, workDone(plan, field, done));
  const isLeft = new Set(left.segments.map((one) => one.index));
  const prescriptions = maps.map((map, m) => {
    const { field: id, pass, bin, product, analysis, stem } = map;
    const rateLbPerAc = Float64Array.from(segments, (segment, k) =>
      isLeft.has(k) ? segment.ratesLbPerAc[m]! : 0,
    );
    const needLb = sum(rateLbPerAc.map((rate, k) => rate * passes.areaAc[k]!));
    return ratePrescription({
      field: id,
      pass,
      bin,
      product,
      analysis,
      stem,
      areaAc: passes.areaAc,
      rateLbPerAc,
      needLb,
    });
  });
  return { fieldId: field.field.id, remainder: left, prescriptions };
}

function workDone(plan: Plan, field: FieldResult, done: FieldWorkDone): Parameters<typeof remainder>[1] {
  const { passes, checked } = field;
  if (done.by === "line") {
    const [a, b] = done.line;
    return { by: "line", line: [checked.frame.toPlane(a), checked.frame.toPlane(b)] };
  }
  if (done.by === "log") {
    const { products } = appliedField(plan, field, done.logs);
    // Worked where any product's log went: bins run out one by one, and product laid twice harms more than a gap.
    const skippedShare = passes.pieces.map((_, k) =>
      Math.min(...products.map((one) => one.skippedShare[k]!)),
    );
    return { by: "log", skippedShare };
  }
  if (!(Number.isInteger(done.doneAfter) && done.doneAfter >= 0 && done.doneAfter <= passes.runs.length)) {
    throw new InputError(
      "pass-out-of-range",
      `${done.doneAfter} passes done in ${field.field.name}, which has ${passes.runs.length} in working order`,
      `Give a whole number from 0 to ${passes.runs.length}; bermplan fills lists them.`,
    );
  }
  return { by: "log", skippedShare: passes.pieces.map(({ run }) => (run < done.doneAfter ? 0 : 1)) };
}
