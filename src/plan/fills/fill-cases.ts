import { InputError } from "../../errors/index.ts";
import { headlandStopMinutes, type RefillPlace } from "../../fills/index.ts";
import { distance, type Point } from "../../geo/index.ts";
import type { Plan } from "../document/document-types.ts";
import { FAR_M, farInWords, metresOff } from "../need/off-field.ts";
import type { CheckedField } from "../results/result-types.ts";
import type { RigFigures } from "../rig/rig-figures.ts";
import { HEADLAND_MPH } from "./field-work-rate.ts";
import type { WorkedPass } from "./worked-passes.ts";

/** A place of the tender in the field's plane, metres. */
export interface PlacedTender {
  readonly id: string;
  readonly at: Point;
}

/** One way to work a field: which way its passes are driven, and where the tender stands. */
export interface FillCase {
  readonly id: string;
  /** The same of a field that is begun. */
  readonly begunId: string;
  /** End the first pass begins at. */
  readonly beginAt: "A" | "B";
  /** In working order, start and end as driven. */
  readonly passes: readonly WorkedPass[];
  readonly places: readonly RefillPlace[];
  readonly placeWords: (placeId: string, end: "A" | "B") => string;
}

const other = (end: "A" | "B"): "A" | "B" => (end === "A" ? "B" : "A");

/**
 * Every case worth looking at: the passes as laid, and every pass driven the other way. With typed places the rig drives
 * there from the ends of the passes that lie nearer to it and back; without any the tender stands at the end of the pass:
 * at either end where the plan says so, else at one. From a headland pass it can be reached in any case.
 */
export function fillCases(
  plan: Plan,
  rig: RigFigures,
  laid: readonly WorkedPass[],
  typed: readonly PlacedTender[],
): FillCase[] {
  const fixedMinutes = 60 * rig.work.fixedHoursPerStop;
  const moves = plan.fills?.mostMoves ?? 0;
  const placeWords = (_: string, end: "A" | "B"): string => `${end} end`;
  return [laid, laid.map(turnedRound)].flatMap((passes): FillCase[] => {
    const beginAt = other(passes[0]!.endAt);
    const named = (tender: string) => ({
      id: `begin at ${beginAt}, ${tender}`,
      begunId: `begun at ${beginAt}, ${tender}`,
    });
    if (typed.length > 0) {
      const places = typed.map(({ id, at }) => ({
        id,
        stopMinutes: minutesTo(plan, passes, at, fixedMinutes),
      }));
      const groups = moves > 0 && places.length > 1 ? [places] : places.map((place) => [place]);
      return groups.map((group) => ({
        ...named(`tender at ${group.map(({ id }) => id).join(" or ")}`),
        beginAt,
        passes,
        places: group,
        placeWords: (placeId) => placeId,
      }));
    }
    const place = (id: string, isThere: (pass: WorkedPass) => boolean): RefillPlace => ({
      id,
      stopMinutes: passes.slice(0, -1).map((pass) => (isThere(pass) ? fixedMinutes : null)),
    });
    if (rig.reachedAt === "both-ends") {
      const places = [place("either end", () => true)];
      return [{ ...named("tender at either end"), beginAt, passes, places, placeWords }];
    }
    return [other(beginAt), beginAt].map((end) => ({
      ...named(`tender at the ${end} end`),
      beginAt,
      passes,
      places: [place(`${end} end`, (pass) => pass.endAt === end || pass.kind === "headland")],
      placeWords,
    }));
  });
}

const turnedRound = (pass: WorkedPass): WorkedPass => ({
  ...pass,
  start: pass.end,
  end: pass.start,
  endAt: other(pass.endAt),
});

/** Minutes of a stop at a place, from passes that end at its side of the field; null at the others. */
function minutesTo(
  plan: Plan,
  passes: readonly WorkedPass[],
  tender: Point,
  fixedMinutes: number,
): (number | null)[] {
  return headlandStopMinutes({
    passes,
    tender,
    fixedMinutes,
    headlandMph: plan.fills?.headlandMph ?? HEADLAND_MPH,
    reachable: (done) => {
      const { kind, start, end } = passes[done - 1]!;
      return kind === "headland" || distance(end, tender) <= distance(start, tender);
    },
  });
}

/** The plan's places in a field, in its plane. Throws `place-far-away` for one more than 5 km from it. */
export const tenderPlaces = (
  plan: Plan,
  {
    field,
    checked,
  }: {
    readonly field: { readonly id: string; readonly name: string };
    readonly checked: Pick<CheckedField, "frame" | "boundary">;
  },
): PlacedTender[] =>
  (plan.fills?.places ?? [])
    .filter((place) => place.field === field.id)
    .map(({ id, lonDeg, latDeg }) => {
      const at = checked.frame.toPlane([lonDeg, latDeg]);
      const offM = metresOff(checked.boundary, at);
      if (offM <= FAR_M) return { id, at };
      throw new InputError(
        "place-far-away",
        `${field.name}: the tender's place ${id}, longitude ${lonDeg} and latitude ${latDeg}, is ${farInWords(offM)} from the field.`,
        "Give a place in or near the field in fills.places.",
      );
    });
