import { lineFrame } from "../applied/index.ts";
import type { Point } from "../geo/index.ts";
import { Summer } from "../numeric/index.ts";
import { metresFromInches } from "../units/index.ts";
import type { Plan } from "./document-types.ts";
import type { CheckedField, FieldResult } from "./result-types.ts";

/** What of a field's result tells how it is driven; a field without its plane's functions is enough. */
export type DrivenField = Pick<FieldResult, "field" | "passes" | "prescriptions"> & {
  readonly checked: Pick<CheckedField, "line" | "areaAc">;
};

/** A pass as it is driven, headland to headland. */
export interface WorkedPass {
  /** Its number: 0 holds the line A-B, they rise to its right. */
  readonly pass: number;
  readonly areaAc: number;
  readonly lengthM: number;
  /** lb the files place along it, a bin each in the order of the rig's bins. */
  readonly lb: readonly number[];
  /** Its ends in the field's plane, metres: the one towards A, the one towards B. */
  readonly aEnd: Point;
  readonly bEnd: Point;
}

/**
 * The passes of a field in working order, each after its neighbour from the lowest number up. Pieces of one pass that
 * the boundary parts are one pass: the rig drives across what lies between them.
 */
export function workedPasses(plan: Plan, field: DrivenField): WorkedPass[] {
  const { toPlane } = lineFrame(field.checked.line);
  const widthM = plan.rig.rows * metresFromInches(plan.rig.rowSpacingIn);
  const maps = plan.rig.bins.map(({ id }) =>
    field.prescriptions.find((map) => map.pass === "strip" && map.bin === id),
  );
  interface Gathered {
    readonly area: Summer;
    readonly lb: Summer[];
    least: number;
    most: number;
  }
  const byPass = new Map<number, Gathered>();
  field.passes.pieces.forEach((piece, k) => {
    let own = byPass.get(piece.pass);
    if (own === undefined) {
      own = {
        area: new Summer(),
        lb: maps.map(() => new Summer()),
        least: Number.POSITIVE_INFINITY,
        most: Number.NEGATIVE_INFINITY,
      };
      byPass.set(piece.pass, own);
    }
    const areaAc = field.passes.areaAc[k]!;
    own.area.add(areaAc);
    maps.forEach((map, b) => {
      own.lb[b]!.add(areaAc * (map?.rateLbPerAc[k] ?? 0));
    });
    own.least = Math.min(own.least, piece.alongStartM);
    own.most = Math.max(own.most, piece.alongEndM);
  });
  return [...byPass]
    .sort(([a], [b]) => a - b)
    .map(([pass, { area, lb, least, most }]) => ({
      pass,
      areaAc: area.total,
      lengthM: most - least,
      lb: lb.map((one) => one.total),
      aEnd: toPlane([pass * widthM, least]),
      bEnd: toPlane([pass * widthM, most]),
    }));
}
