import { headlandStopMinutes, type RefillPlace, sideStopMinutes } from "../fills/index.ts";
import type { Point } from "../geo/index.ts";
import type { Plan } from "./document-types.ts";
import { HEADLAND_MPH } from "./field-work-rate.ts";
import type { CheckedField } from "./result-types.ts";
import type { RigFigures } from "./rig-figures.ts";
import type { WorkedPass } from "./worked-passes.ts";

/** A place of the tender in the field's plane, metres. */
export interface PlacedTender {
  readonly id: string;
  readonly at: Point;
}

/** One way to work a field: the end the first pass begins at, and where the tender stands. */
export interface FillCase {
  readonly id: string;
  readonly beginAt: "A" | "B";
  readonly places: readonly RefillPlace[];
  /** End of the field the rig is at after so many passes. */
  readonly endAfter: (passesDone: number) => "A" | "B";
  readonly placeWords: (placeId: string, end: "A" | "B") => string;
}

const other = (end: "A" | "B"): "A" | "B" => (end === "A" ? "B" : "A");

/**
 * Every case worth looking at. With typed places the rig drives there from the ends of the passes that lie nearer to it and
 * back; without any the tender stands at the end of the pass: at either end where the plan says so, else at one.
 */
export function fillCases(
  plan: Plan,
  rig: RigFigures,
  passes: readonly WorkedPass[],
  typed: readonly PlacedTender[],
): FillCase[] {
  const fixedMinutes = 60 * rig.work.fixedHoursPerStop;
  const moves = plan.fills?.mostMoves ?? 0;
  const cases: FillCase[] = [];
  for (const beginAt of ["A", "B"] as const) {
    const endAfter = (done: number): "A" | "B" => (done % 2 === 0 ? beginAt : other(beginAt));
    if (typed.length > 0) {
      const places = typed.map(({ id, at }) => ({
        id,
        stopMinutes: minutesTo(plan, passes, at, endAfter, fixedMinutes),
      }));
      const groups = moves > 0 && places.length > 1 ? [places] : places.map((place) => [place]);
      for (const group of groups) {
        const where = group.map(({ id }) => id).join(" or ");
        cases.push({
          id: `begin at ${beginAt}, tender at ${where}`,
          beginAt,
          places: group,
          endAfter,
          placeWords: (placeId) => placeId,
        });
      }
      continue;
    }
    const side = (tenderEnd: "A" | "B") =>
      sideStopMinutes({
        passes: passes.length,
        startSide: beginAt === "A" ? 0 : 1,
        tenderSide: tenderEnd === "A" ? 0 : 1,
        minutes: fixedMinutes,
      });
    const placeWords = (_: string, end: "A" | "B"): string => `${end} end`;
    if (rig.reachedAt === "both-ends") {
      const stopMinutes = passes.slice(1).map(() => fixedMinutes);
      const places = [{ id: "either end", stopMinutes }];
      cases.push({ id: `begin at ${beginAt}, tender at either end`, beginAt, places, endAfter, placeWords });
      continue;
    }
    for (const end of [other(beginAt), beginAt]) {
      const places = [{ id: `${end} end`, stopMinutes: side(end) }];
      cases.push({
        id: `begin at ${beginAt}, tender at the ${end} end`,
        beginAt,
        places,
        endAfter,
        placeWords,
      });
    }
  }
  return cases;
}

/** Minutes of a stop at a place, from passes that end at its side of the field; null at the others. */
function minutesTo(
  plan: Plan,
  passes: readonly WorkedPass[],
  tender: Point,
  endAfter: (done: number) => "A" | "B",
  fixedMinutes: number,
): (number | null)[] {
  const at = (pass: WorkedPass, end: "A" | "B"): Point => (end === "A" ? pass.aEnd : pass.bEnd);
  const far = (a: Point, b: Point): number => Math.hypot(a[0] - b[0], a[1] - b[1]);
  return headlandStopMinutes({
    passes: passes.map((pass, k) => ({
      start: at(pass, other(endAfter(k + 1))),
      end: at(pass, endAfter(k + 1)),
    })),
    tender,
    fixedMinutes,
    headlandMph: plan.fills?.headlandMph ?? HEADLAND_MPH,
    reachable: (done) => {
      const pass = passes[done - 1]!;
      const end = endAfter(done);
      return far(at(pass, end), tender) <= far(at(pass, other(end)), tender);
    },
  });
}

/** The plan's places in a field, in its plane. */
export const tenderPlaces = (
  plan: Plan,
  {
    field,
    checked,
  }: { readonly field: { readonly id: string }; readonly checked: Pick<CheckedField, "frame"> },
): PlacedTender[] =>
  (plan.fills?.places ?? [])
    .filter((place) => place.field === field.id)
    .map(({ id, lonDeg, latDeg }) => ({ id, at: checked.frame.toPlane([lonDeg, latDeg]) }));
