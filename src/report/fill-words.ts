import type { FieldFills, FillHere } from "../plan/index.ts";
import { counted, KG_PER_LB, numberText } from "../units/index.ts";
import { lbText, type UnitSystem, unitWords } from "./numbers.ts";

/** Bins that get nothing at a stop, and what their scales must read for it; `names` of the bins as the reader knows them. */
export const unfilledInWords = (
  { stops, residualLb }: FieldFills,
  names: readonly string[],
  system: UnitSystem = "us",
): string[] =>
  stops.flatMap(({ number: stop, enoughScaleLb }) =>
    enoughScaleLb.flatMap((lb, b) =>
      lb === null || lb <= residualLb[b]!
        ? []
        : [
            `Stop ${stop}: ${names[b]!} gets nothing, what is in it and was kept back lasts ${stop === stops.length ? "to the end" : "to the next stop"}, if the scale reads ${enoughText(lb, system)} or more.`,
          ],
    ),
  );

/** A weight that is enough, rounded up: never less than is needed. */
function enoughText(lb: number, system: UnitSystem): string {
  const perShown = system === "us" ? 1 : KG_PER_LB;
  return `${lbText(Math.ceil(lb * perShown) / perShown, system)} ${unitWords(system).mass}`;
}

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
