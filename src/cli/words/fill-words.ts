import type { NoRefillPlan, RefillPlan, RefillTimes } from "../../fills/index.ts";
import { hourText, lbText, textTable } from "../../report/index.ts";
import { counted, numberText } from "../../units/index.ts";
import type { FillsResult } from "../calculations/fills.ts";

/** lb a bin: `left 4,600, right 3,200`, or the figure alone with one bin. */
export const binsText = (lb: readonly number[], bins: readonly string[]): string =>
  lb.length === 1
    ? lbText(lb[0]!)
    : lb.map((one, b) => `${bins[b] ?? `bin ${b + 1}`} ${lbText(one)}`).join(", ");

export const NO_STOP = "No stop: the bins last to the end.";

export const keptBackWords = ({ reserveLb }: RefillPlan, bins: readonly string[]): string =>
  `kept back in each bin: ${binsText(reserveLb, bins)} lb`;

/** How many stops, the minutes they take, and when the field is done where that is known. */
export const stopsInAll = ({ stops, minutes }: RefillPlan, times: RefillTimes | null): string =>
  `${counted(stops.length, "stop")}, ${numberText(minutes, 0)} min without the transfer${times === null ? "" : `; done after ${hourText(times.doneHour)} h`}`;

/** Where the bins are looked at and nothing is loaded. */
const lookWords = ({ looks }: RefillPlan): string[] =>
  looks.map(
    ({ afterPass, enoughLb }) =>
      `After ${counted(afterPass, "pass", "passes")} look at the bins, nothing is loaded: ${binsText(enoughLb, [])} lb or more are enough.`,
  );

/** The stops of a plan as a table, then minutes and the pounds kept back; or why there is none. */
function refillWords(plan: RefillPlan | NoRefillPlan, times: RefillTimes | null): string[] {
  if (!plan.feasible) return [`No plan: ${plan.message}.`];
  const kept = keptBackWords(plan, []);
  if (plan.stops.length === 0) return [NO_STOP, kept, ...lookWords(plan)];
  const rows = plan.stops.map((stop, s) => {
    const timed = times?.stops[s];
    return [
      numberText(s + 1, 0),
      numberText(stop.afterPass, 0),
      stop.placeId,
      binsText(stop.expectedLb, []),
      binsText(stop.loadLb, []),
      ...(timed === undefined
        ? [numberText(stop.minutes, 0)]
        : [
            numberText(timed.acres, 1),
            numberText(timed.workMinutes, 0),
            numberText(timed.waitMinutes, 0),
            hourText(timed.arriveHour),
          ]),
    ];
  });
  const head = [
    "stop",
    "driven",
    "tender at",
    "bin reads, lb",
    "load, lb",
    ...(times === null ? ["minutes"] : ["ac since", "min since", "waits, min", "at h:min"]),
  ];
  return [
    ...textTable([head, ...rows]),
    stopsInAll(plan, times),
    kept,
    ...lookWords(plan),
    ...plan.notices.map((notice) => `Notice: ${notice.message}`),
  ];
}

/** The calculation alone: the plan, what habit would take, the smallest first load. */
export function fillWords({ plan, habit, smallestFirstLoadLb, times }: FillsResult): string[] {
  const lines = refillWords(plan, times);
  if (plan.feasible && habit?.feasible) {
    const more = habit.minutes - plan.minutes;
    lines.push(
      more > 0.5
        ? `Running until nearly empty would take ${numberText(more, 0)} min more.`
        : "Running until nearly empty takes no longer.",
    );
  }
  if (smallestFirstLoadLb !== null)
    lines.push(
      `A first load of ${binsText(smallestFirstLoadLb, [])} lb would do for as many stops and minutes, but moves them.`,
    );
  return lines;
}
