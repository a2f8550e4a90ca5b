import type { FieldFills } from "../../plan/index.ts";
import {
  acresText,
  beyondTender,
  fillHereInWords,
  firstLoadsInWords,
  hourText,
  lbText,
  textTable,
  unfilledInWords,
  waitInWords,
  waitsInWords,
} from "../../report/index.ts";
import { counted, numberText, UNKNOWN } from "../../units/index.ts";
import { binsText, keptBackWords, NO_STOP, stopsInAll } from "./fill-words.ts";

/** One field's fills, from its first pass (`isWhole`) or from where the rig stands. */
export function fieldFillWords(fills: FieldFills, name: string, isWhole: boolean): string[] {
  const bins = fills.bins.map((bin) => `${bin.id} ${bin.product}`);
  const first = fills.firstEmptyBin === null ? "" : `, ${bins[fills.firstEmptyBin]} is empty first`;
  const acPerFill = fills.acPerFill === null ? UNKNOWN : acresText(fills.acPerFill);
  const loads = fills.usableLb.map((lb, b) => lb + fills.residualLb[b]!);
  const lines = [
    `${name}: ${acPerFill} acres a fill${first}; ${fills.plan.feasible ? counted(fills.stops.length, "stop") : "no plan"}; ${fills.choice}`,
    `${takesWords(fills, bins)}, ${numberText(100 * fills.overlapShare, 1)} % overlap in it; ${fills.loadsBy === "rig" ? "full loads are" : "full bins hold"} ${binsText(loads, bins)} lb, of which ${binsText(fills.residualLb, bins)} lb stay in`,
    ...(isWhole ? firstLoadsInWords(fills, bins) : []),
    ...beyondTender(fills),
    ...stopWords(fills, bins),
    ...unfilledInWords(fills, bins),
  ];
  if (fills.fillHere !== null) lines.push(fillHereInWords(fills.fillHere, fills));
  const wait = waitInWords(fills);
  lines.push(...(wait === "" ? [] : [wait]), ...waitsInWords(fills));
  if (fills.endScaleLb !== null)
    lines.push(`When the field is done the scales read ${binsText(fills.endScaleLb, bins)} lb.`);
  if (fills.firstLoad !== null) {
    const { scaleLb, afterPass } = fills.firstLoad;
    // A bin that lays nothing here needs no load.
    const laying = bins.flatMap((name, b) =>
      fills.fieldLb[b]! > 0 ? [`${name} ${lbText(scaleLb[b]!)}`] : [],
    );
    const reads = bins.length === 1 ? lbText(scaleLb[0]!) : laying.join(", ");
    lines.push(
      `A first load that reads ${reads} lb would do for ${counted(afterPass.length, "stop")} too, but after pass ${afterPass.join(", ")}.`,
    );
  }
  if ((fills.habitMoreMinutes ?? 0) > 0.5)
    lines.push(`Running until nearly empty would take ${numberText(fills.habitMoreMinutes!, 0)} min more.`);
  const others = fills.choices.filter((one) => one.id !== fills.choice);
  if (others.length > 0) {
    const text = others.map(
      ({ id, minutes, stops }) =>
        `${id} ${minutes === null ? "no plan" : `${counted(stops!, "stop")}, ${numberText(minutes, 0)} min`}`,
    );
    lines.push(`Other ways: ${text.join("; ")}`);
  }
  return [
    ...lines,
    ...fills.notices
      .filter(
        ({ code }) =>
          code !== "tender-below-load" &&
          code !== (fills.plan.feasible ? "reserve-unconfirmed" : fills.plan.reason),
      )
      .map((one) => `Notice: ${one.message}`),
  ];
}

/** What goes out: of the whole field, or of what is left of it. */
function takesWords({ fieldLb, leftLb, meterFactor }: FieldFills, bins: readonly string[]): string {
  const wholeLb = fieldLb.map((lb) => meterFactor * lb);
  const factor = meterFactor === 1 ? "" : `, both by the meter factor ${numberText(meterFactor, 3)}`;
  return leftLb.some((lb, b) => Math.abs(lb - wholeLb[b]!) > 0.5)
    ? `What is left takes ${binsText(leftLb, bins)} lb (the whole field ${binsText(wholeLb, bins)} lb${factor})`
    : `Field takes ${binsText(fieldLb, bins)} lb`;
}

/** Stops as operator and tender read them; bin weights with what cannot be metered out, as a scale shows them. */
function stopWords({ plan, stops, times }: FieldFills, bins: readonly string[]): string[] {
  if (!plan.feasible) return [`No plan: ${plan.message}.`];
  const kept = keptBackWords(plan, bins);
  if (stops.length === 0) return [NO_STOP, kept];
  return [
    ...textTable([
      [
        "stop",
        "after pass",
        "driven",
        "at",
        "scale reads, lb",
        "load, lb",
        "ac since",
        "min since",
        "waits, min",
        "at h:min",
      ],
      ...stops.map((stop) => [
        numberText(stop.number, 0),
        stop.passName,
        numberText(stop.passesDone, 0),
        stop.at,
        binsText(stop.scaleBeforeLb, bins),
        binsText(stop.loadLb, bins),
        acresText(stop.acres),
        numberText(stop.workMinutes, 0),
        stop.waitMinutes === null ? UNKNOWN : numberText(stop.waitMinutes, 0),
        stop.arriveHour === null ? UNKNOWN : hourText(stop.arriveHour),
      ]),
    ]),
    stopsInAll(plan, times),
    kept,
  ];
}
