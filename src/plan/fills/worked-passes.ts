import { middleOf, type Point } from "../../geo/index.ts";
import { Summer } from "../../numeric/index.ts";
import { guidanceFrame } from "../../strips/index.ts";
import type { Plan } from "../document/document-types.ts";
import { laidLbPerAc, smallRateOf } from "../maps/small-rate.ts";
import type { CheckedField, FieldResult } from "../results/result-types.ts";

/** What of a field's result tells how it is driven; a field without its plane's functions is enough. */
export type DrivenField = Pick<FieldResult, "field" | "passes" | "prescriptions"> & {
  /** Other forms of the maps, which may have a small rate in place of 0; without them the plan tells it. */
  readonly extras?: FieldResult["extras"];
  /** What is in the bins; without it a blend's density is the plain mean of its parts. */
  readonly laid?: FieldResult["laid"];
  readonly checked: Pick<CheckedField, "areaAc">;
};

/** A run: a pass, or the part of one that the boundary leaves whole, driven from end to end; headland passes too. */
export interface WorkedPass {
  /** Number of its pass: 0 holds the guidance line, they rise to its right. */
  readonly pass: number;
  readonly kind: "interior" | "headland";
  readonly areaAc: number;
  readonly lengthM: number;
  /** Way of the turn before it and along the headland to it, metres. */
  readonly wayBeforeM: number;
  /** lb the files to load place along it, a bin each in the order of the rig's bins. */
  readonly lb: readonly number[];
  /** Where it is driven from and to, field's plane, metres. */
  readonly start: Point;
  readonly end: Point;
  /** Which end of the line its end lies towards. */
  readonly endAt: "A" | "B";
}

/** The passes of a field in working order as they are laid, one entry a run. */
export function workedPasses(plan: Plan, field: DrivenField): WorkedPass[] {
  const { passes } = field;
  const maps = plan.rig.bins.map(({ id }) =>
    field.prescriptions.find((map) => map.pass === "strip" && map.bin === id),
  );
  const small = maps.map((map) => (map === undefined ? 0 : smallRateOf(plan, map, field.extras)));
  const area = passes.runs.map(() => new Summer());
  const lb = passes.runs.map(() => maps.map(() => new Summer()));
  passes.pieces.forEach((piece, k) => {
    const { run } = piece;
    const areaAc = passes.areaAc[k]!;
    area[run]!.add(areaAc);
    maps.forEach((map, b) => {
      if (map !== undefined) lb[run]![b]!.add(areaAc * laidLbPerAc(map, piece, k, small[b]!));
    });
  });
  const [a, b] = passes.along;
  const straight = passes.along.length === 2 ? guidanceFrame([a!, b!]) : null;
  return passes.runs.map((run, r): WorkedPass => {
    const ends =
      straight !== null && run.kind === "interior"
        ? [run.startM, run.endM].map((along) => straight.toPlane([run.pass * passes.widthM, along]))
        : [run.segments[0]!, run.segments.at(-1)!].map((k) => middleOf(passes.pieces[k]!.polygon[0]!));
    // Segments of a run stand in the order driven, metres along it do not.
    const turned = straight !== null && run.kind === "interior" && !run.forward;
    const [start, end] = turned ? [ends[1]!, ends[0]!] : [ends[0]!, ends[1]!];
    return {
      pass: run.pass,
      kind: run.kind,
      areaAc: area[r]!.total,
      lengthM: run.endM - run.startM,
      wayBeforeM: run.turnM + run.moveM,
      lb: lb[r]!.map((one) => one.total),
      start,
      end,
      endAt: run.forward ? "B" : "A",
    };
  });
}
