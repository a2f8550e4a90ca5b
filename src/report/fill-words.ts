import type { FieldFills, FillHere } from "../plan/index.ts";
import { capital, counted, KG_PER_LB, numberText } from "../units/index.ts";
import { lbText, type UnitSystem, unitWords } from "./numbers.ts";

/** Bins that get nothing at a stop, and what their scales must read for it; `names` of the bins as the reader knows them. */
export function unfilledInWords(
  fills: FieldFills,
  names: readonly string[],
  system: UnitSystem = "us",
): string[] {
  const { stops, looks, passes, residualLb } = fills;
  const untilWords = (enoughTo: number): string => {
    const look = looks.find(({ passesDone }) => passesDone === enoughTo);
    if (look !== undefined) return `until the look at the scales after pass ${look.passName}`;
    return enoughTo >= passes.length ? "to the end" : "to the next stop";
  };
  const atStops = stops.flatMap(({ number: stop, enoughScaleLb, enoughTo }) =>
    enoughScaleLb.flatMap((lb, b) =>
      lb === null || lb <= residualLb[b]!
        ? []
        : [
            `Stop ${stop}: ${names[b]!} gets nothing, what is in it and was kept back lasts ${untilWords(enoughTo)}, if the scale reads ${enoughText(lb, system)} or more.`,
          ],
    ),
  );
  const looked = looks.flatMap(({ passName, passesDone, enoughScaleLb, enoughTo }) => {
    const least = enoughScaleLb.flatMap((lb, b) =>
      lb <= residualLb[b]! ? [] : [`${names[b]!} ${enoughText(lb, system)} or more`],
    );
    return least.length === 0
      ? []
      : [
          `After pass ${passName} (${passesDone} driven) look at the scales, no tender is needed: what is in the bins and was kept back lasts ${untilWords(enoughTo)}, if they read ${least.join(" and ")}; else fill first.`,
        ];
  });
  return [...atStops, ...looked];
}

/** What the scales are to read before the first pass, which the stops' figures start from; none without a plan. `names` of the bins. */
export function firstLoadsInWords(
  { plan, residualLb, fieldLb }: FieldFills,
  names: readonly string[],
  system: UnitSystem = "us",
): string[] {
  if (!plan.feasible) return [];
  const loads = plan.startLb.flatMap((lb, b) =>
    fieldLb[b] === 0 ? [] : [`${names[b]!}: ${lbText(lb + residualLb[b]!, system)}`],
  );
  if (loads.length === 0) return [];
  return [
    `Before the first pass load until the scales read ${loads.join("; ")} ${unitWords(system).mass}: the figures at the stops follow from it. What the bins hold of the same product from the field before counts.`,
  ];
}

/** How long the rig waits in all; nothing where no times are told. */
export function waitInWords({ hasTender, stops, times }: FieldFills): string {
  if (times === null || stops.length === 0) return "";
  if (!hasTender) return "No tender is counted: product is always at hand where the rig stops.";
  const minutes = stops.reduce((sum, stop) => sum + (stop.waitMinutes ?? 0), 0);
  return `The rig waits ${numberText(minutes, 0)} min for the tender in this field.`;
}

/** What each wait for the tender is for, in one line; none where nobody waits or nothing true can be said of it. */
export function waitsInWords({ stops }: FieldFills, system: UnitSystem = "us"): string[] {
  const waits = stops.flatMap(({ number: stop, waitMinutes, shortLb }) =>
    waitMinutes === null || waitMinutes < 0.5 || shortLb === null
      ? []
      : [
          `at stop ${stop} ${numberText(waitMinutes, 0)} min, for ${lbText(shortLb, system)} ${unitWords(system).mass} that the tender lacked for this load when it drove off`,
        ],
  );
  return waits.length === 0 ? [] : [`Waits: ${waits.join("; ")}.`];
}

/** Stops that no tender can fill as they stand, in words to put above them; none where every load can be brought. */
export const beyondTender = ({ notices }: FieldFills): string[] =>
  notices.flatMap(({ code, message }) => (code === "tender-below-load" ? [`${capital(message)}.`] : []));

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

/** Scales that show less than stays in a bin, or more than it has room for, and what the stops then go by; undefined where nothing is typed. */
export function scalesInWords(
  scaleLb: readonly (number | undefined)[],
  { residualLb, holdsLb }: Pick<FieldFills, "residualLb" | "holdsLb">,
  system: UnitSystem = "us",
): { readonly bin: number; readonly words: string }[] {
  const text = (lb: number): string => `${lbText(lb, system)} ${unitWords(system).mass}`;
  return scaleLb.flatMap((lb, bin) => {
    const [least, most] = [residualLb[bin]!, residualLb[bin]! + holdsLb[bin]!];
    if (lb === undefined || (lb >= least && lb <= most)) return [];
    const why =
      lb < least
        ? `less than the ${text(least)} that cannot be metered out; it counts as empty`
        : `more than the ${text(most)} that the bin holds; it counts as full`;
    return [{ bin, words: `${text(lb)} is ${why}. Read the scale again.` }];
  });
}
