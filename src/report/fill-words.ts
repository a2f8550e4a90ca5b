import type { FieldFills, FillHere } from "../plan/index.ts";
import { capital, counted, numberText } from "../units/index.ts";
import { lbText } from "./numbers.ts";

/** Bins that get nothing at a stop, and what their scales must read for it; `names` of the bins as the reader knows them. */
export function unfilledInWords(fills: FieldFills, names: readonly string[]): string[] {
  const { stops, looks, passes, residualLb } = fills;
  const untilWords = (enoughTo: number): string => {
    const look = looks.find(({ passesDone }) => passesDone === enoughTo);
    if (look !== undefined) return `until the look at the scales after pass ${numberText(look.pass, 0)}`;
    return enoughTo >= passes.length ? "to the end" : "to the next stop";
  };
  const atStops = stops.flatMap(({ number: stop, enoughScaleLb, enoughTo }) =>
    enoughScaleLb.flatMap((lb, b) =>
      lb === null || lb <= residualLb[b]!
        ? []
        : [
            `Stop ${stop}: ${names[b]!} gets nothing, what is in it and was kept back lasts ${untilWords(enoughTo)}, if the scale reads ${lbText(Math.ceil(lb))} lb or more.`,
          ],
    ),
  );
  const looked = looks.flatMap(({ pass, passesDone, enoughScaleLb, enoughTo }) => {
    const least = enoughScaleLb.flatMap((lb, b) =>
      lb <= residualLb[b]! ? [] : [`${names[b]!} ${lbText(Math.ceil(lb))} lb or more`],
    );
    return least.length === 0
      ? []
      : [
          `After pass ${numberText(pass, 0)} (${passesDone} driven) look at the scales, no tender is needed: what is in the bins and was kept back lasts ${untilWords(enoughTo)}, if they read ${least.join(" and ")}; else fill first.`,
        ];
  });
  return [...atStops, ...looked];
}

/** What each wait for the tender is for, in one line; none where nobody waits or nothing true can be said of it. */
export function waitsInWords({ stops }: FieldFills): string[] {
  const waits = stops.flatMap(({ number: stop, waitMinutes, shortLb }) =>
    waitMinutes === null || waitMinutes < 0.5 || shortLb === null
      ? []
      : [
          `at stop ${stop} ${numberText(waitMinutes, 0)} min, for ${lbText(shortLb)} lb that the tender lacked for this load when it drove off`,
        ],
  );
  return waits.length === 0 ? [] : [`Waits: ${waits.join("; ")}.`];
}

/** Stops that no tender can fill as they stand, in words to put above them; none where every load can be brought. */
export const beyondTender = ({ notices }: FieldFills): string[] =>
  notices.flatMap(({ code, message }) => (code === "tender-below-load" ? [`${capital(message)}.`] : []));

/** Whether the rig may as well fill where it stands, against the plan that drives on first. */
export function fillHereInWords({ at, minutes, stops }: FillHere, { plan }: FieldFills): string {
  if (minutes === null) return `No filling where the rig stands, at the ${at}: the tender is not there.`;
  const inAll = `Filling first where the rig stands, ${at}: ${counted(stops!, "stop")}, ${numberText(minutes, 0)} min`;
  if (!plan.feasible) return `${inAll}.`;
  const more = minutes - plan.minutes;
  return Math.abs(more) < 0.5 && stops === plan.stops.length
    ? `${inAll} too.`
    : `${inAll}, ${numberText(Math.abs(more), 0)} min ${more < 0 ? "less" : "more"} than to drive on first.`;
}
