import {
  FT_MPH_HOURS_PER_AC,
  hoursAtRate,
  levers,
  type Rig,
  type RigWork,
  type TimeLines,
  tenderList,
  timeLinesOf,
} from "../../capacity/index.ts";
import { sum } from "../../numeric/index.ts";
import { dayAcres } from "../rig/day-acres.ts";
import type { RigFigures } from "../rig/rig-figures.ts";
import type { SeasonOfPlan } from "./season-plan-types.ts";

/** A field as far as days and loads go. */
interface SeasonRow {
  readonly areaAc: number;
  readonly lb: number;
  readonly loadLb: number;
  readonly rate: { readonly acPerHour: number };
  readonly doneAc: number;
}

/** A rig whose one bin holds just the load that counts. */
const loadRig = (work: RigWork, loadLb: number): Rig => ({
  ...work,
  binFt3: loadLb,
  lbPerFt3: 1,
  residualLb: 0,
});

/** The rig with the turn efficiency that gives the acres an hour. */
export function workAt(work: RigWork, acPerHour: number): RigWork {
  const full = (work.widthFt * work.mph) / FT_MPH_HOURS_PER_AC;
  return { ...work, turnEfficiency: Math.min(1, acPerHour / full) };
}

/** Means over the acres not done: one field that stands for the farm. */
function farmMean(rows: readonly SeasonRow[]): { loadLb: number; rateLbPerAc: number; acPerHour: number } {
  const left = rows.some((row) => row.areaAc > row.doneAc)
    ? rows.map((row) => row.areaAc - row.doneAc)
    : rows.map((row) => row.areaAc);
  const total = sum(left);
  const rateLbPerAc = sum(rows.map((row, i) => (row.lb / row.areaAc) * left[i]!)) / total;
  const hours = sum(rows.map((row, i) => left[i]! / row.rate.acPerHour));
  // Fills add up: acres over acres a fill.
  const fills = sum(rows.map((row, i) => ((row.lb / row.areaAc) * left[i]!) / row.loadLb));
  return {
    rateLbPerAc,
    acPerHour: total / hours,
    loadLb: fills > 0 ? (rateLbPerAc * total) / fills : rows[0]!.loadLb,
  };
}

export function farmLines(rig: RigFigures, rows: readonly SeasonRow[]): TimeLines {
  const { loadLb, acPerHour } = farmMean(rows);
  return timeLinesOf(workAt(rig.work, acPerHour), loadLb, rig.tenders ?? undefined);
}

/** A day on the farm's mean acre, moves between fields in it as they come. */
export function dayFigures(
  rig: RigFigures,
  rows: readonly SeasonRow[],
  moveHours: number,
): Pick<SeasonOfPlan, "acPerDayFromFull" | "acPerDayFromEmpty" | "acPerDaySteady"> {
  const { loadLb, rateLbPerAc, acPerHour } = farmMean(rows);
  const work = workAt(rig.work, acPerHour);
  const { hoursPerAc } = hoursAtRate(timeLinesOf(work, loadLb, rig.tenders ?? undefined), rateLbPerAc);
  const { acresAMove, hoursAMove } = movesLeft(rows, moveHours);
  const fields = Array.from({ length: 60 }, (_, i) => ({
    id: `${i}`,
    areaAc: acresAMove,
    rateLbPerAc,
    moveHours: i === 0 ? 0 : hoursAMove,
  }));
  const { tenders } = rig;
  const day = {
    rig: loadRig(work, loadLb),
    fields,
    ...(tenders === null ? {} : { tenders: tenderList(tenders) }),
  };
  return {
    acPerDayFromFull: dayAcres(day, loadLb, "full"),
    acPerDayFromEmpty: dayAcres(day, loadLb, "all-empty"),
    acPerDaySteady: rig.work.hoursPerDay / (hoursPerAc + hoursAMove / acresAMove),
  };
}

/** Acres that are left for each move to a field of them: in one that is begun the rig stands already. All the farm's once it is done. */
function movesLeft(
  rows: readonly SeasonRow[],
  moveHours: number,
): { readonly acresAMove: number; readonly hoursAMove: number } {
  const open = rows.filter((row) => row.areaAc > row.doneAc);
  if (open.length === 0)
    return { acresAMove: sum(rows.map((row) => row.areaAc)) / rows.length, hoursAMove: moveHours };
  const moves = open.filter((row) => row.doneAc === 0).length;
  const acres = sum(open.map((row) => row.areaAc - row.doneAc));
  return { acresAMove: acres / Math.max(1, moves), hoursAMove: moves === 0 ? 0 : moveHours };
}

/** Both levers in steady acres a day on the farm's mean acre, moves left out. */
export function leversOf(
  rig: RigFigures,
  rows: readonly SeasonRow[],
  lowerRate: number | undefined,
): SeasonOfPlan["levers"] {
  const { loadLb, rateLbPerAc, acPerHour } = farmMean(rows);
  const lowerLbPerAc = lowerRate ?? 0.8 * rateLbPerAc;
  const work = workAt(rig.work, acPerHour);
  if (rig.tenders !== null && rateLbPerAc > 0) {
    const both = levers({ rig: loadRig(work, loadLb), tenders: rig.tenders, rateLbPerAc, lowerLbPerAc });
    const { today, lowerRate, anotherTender, tripHoursLikeAnotherTender } = both;
    return { lowerLbPerAc, today, lowerRate, anotherTender, tripHoursLikeAnotherTender };
  }
  const lines = timeLinesOf(work, loadLb);
  const at = (rate: number) => {
    const { hoursPerAc, bound } = hoursAtRate(lines, rate);
    return { acPerDay: rig.work.hoursPerDay / hoursPerAc, bound };
  };
  return {
    lowerLbPerAc,
    today: at(rateLbPerAc),
    lowerRate: at(lowerLbPerAc),
    anotherTender: null,
    tripHoursLikeAnotherTender: null,
  };
}
