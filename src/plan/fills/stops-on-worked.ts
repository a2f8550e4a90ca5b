import type { Notice } from "../../errors/index.ts";
import type { Point } from "../../geo/index.ts";
import { type Stop, stopsOnStrips } from "../../strips/index.ts";
import { counted } from "../../units/index.ts";
import type { PlacedTender } from "./fill-cases.ts";
import type { FillStop } from "./fill-plan-types.ts";
import type { DrivenField, WorkedPass } from "./worked-passes.ts";

/**
 * A notice where the rig fills, or the tender stands, on strips already made: headlands worked first, or a place of the
 * tender inside the field. Filling at the end of a headland pass is not told, since the rig stands on it in any case.
 */
export function stopsOnWorked(
  field: DrivenField,
  passes: readonly WorkedPass[],
  stops: readonly FillStop[],
  places: readonly PlacedTender[],
): Notice[] {
  const { pieces, runs, widthM, along } = field.passes;
  // A curved pass is known to the middle of its last piece.
  const halfLastM = (order: number): number =>
    along.length === 2 ? 0 : pieces[runs[order]!.segments.at(-1)!]!.areaM2 / (2 * widthM);
  const worked = runs.flatMap(({ kind, pass, segments }, order) =>
    segments.map((k) => ({ kind, pass, order, polygon: pieces[k]!.polygon })),
  );
  const halts = stops
    .filter(({ passesDone }) => passesDone > 0)
    .map((stop): Stop => {
      const name = `Stop ${stop.number}`;
      const afterOrder = stop.passesDone - 1;
      const tender = places.find(({ id }) => id === stop.at);
      if (tender !== undefined) return { name, afterOrder, place: tender.at };
      const driven = passes[afterOrder]!;
      return {
        name,
        afterOrder: driven.kind === "headland" ? -1 : afterOrder,
        place: beyond(driven, widthM / 2 + halfLastM(afterOrder)),
      };
    });
  const [first, ...more] = stopsOnStrips(worked, halts);
  if (first === undefined) return [];
  const others = more.length === 0 ? "" : ` (and ${counted(more.length, "more stop")})`;
  return [{ ...first, message: `${field.field.name}: ${first.message}${others}`, where: field.field.id }];
}

/** Where the rig stands that has come out of a pass. */
function beyond({ start, end, lengthM }: WorkedPass, byM: number): Point {
  const share = lengthM > 0 ? byM / lengthM : 0;
  return [end[0] + share * (end[0] - start[0]), end[1] + share * (end[1] - start[1])];
}
