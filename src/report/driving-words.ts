import type { Plan } from "../plan/index.ts";
import { COUNTS_M2, LEAD_CAUTION } from "../strips/index.ts";
import { counted, metresFromInches, numberText } from "../units/index.ts";
import { type DrawnField, passWidthText } from "./drawn-field.ts";
import { headingText, lineFrame, windOf } from "./line-frame.ts";

/** `67 passes, driven in 76 parts`: passes by their numbers, and how often the rig begins anew where exclusions break them. */
export function passesDriven({ driving, passes }: DrawnField): string {
  const { headlandPasses } = driving;
  const headland = headlandPasses === 0 ? "" : `${numberText(headlandPasses, 0)} headland and `;
  const all = headlandPasses + driving.passes;
  const driven = passes.runs.filter(({ areaM2 }) => areaM2 > COUNTS_M2).length;
  const parts = driven === all ? "" : `, driven in ${numberText(driven, 0)} parts`;
  return `${headland}${counted(driving.passes, "pass", "passes")}${parts}`;
}

/** What the operator must know to drive as the files were made: line, passes, order, headlands. A paragraph each. */
export function drivingWords(plan: Plan, field: DrawnField): string[] {
  const { rig } = plan;
  const width = `${rig.rows} rows × ${rig.rowSpacingIn} in. = ${passWidthText(plan)} ft.`;
  return [
    `${lineInWords(field)} ${shiftInWords(field)} ${width}`,
    numbersInWords(field),
    orderInWords(field),
  ];
}

/** What must be set when rates are moved ahead; empty when they are not. */
export const leadWords = (plan: Plan): string => (plan.rig.leadS === undefined ? "" : LEAD_CAUTION);

function lineInWords({ field, checked }: DrawnField): string {
  const { headingDeg } = lineFrame(checked.line);
  const heading = `heading ${headingText(headingDeg)}° from A to B`;
  const { driveAlong } = field;
  const isCurve = checked.guidance.length > 2;
  if (driveAlong === undefined) {
    const { source, record } = field.guidance;
    return `${source}, line ${record}, ${isCurve ? `a curve of ${checked.guidance.length} points` : heading}.`;
  }
  if ("headingDeg" in driveAlong) return `Typed: ${heading}, through the middle of the field.`;
  const [a, b] = [driveAlong.places[0]!, driveAlong.places.at(-1)!];
  const place = ({ latDeg, lonDeg }: typeof a) => `${latDeg.toFixed(6)}, ${lonDeg.toFixed(6)}`;
  const line = `A ${place(a)}; B ${place(b)} (latitude, longitude)`;
  return isCurve
    ? `Typed: a curve of ${driveAlong.places.length} points, ${line}.`
    : `Typed: ${line}, ${heading}.`;
}

function shiftInWords({ passes }: DrawnField): string {
  if (passes.shiftM === 0) return "No shift.";
  const inches = numberText(Math.abs(passes.shiftM) / metresFromInches(1), 1).replace(/\.0$/, "");
  return `Shift the line ${inches} in. to the ${passes.shiftM > 0 ? "right" : "left"}.`;
}

function numbersInWords({ checked, driving }: DrawnField): string {
  const { firstPass, lastPass, headlandPasses } = driving;
  const headland =
    headlandPasses === 0
      ? ""
      : ` Headland: ${counted(headlandPasses, "pass", "passes")} all round, H1 outermost.`;
  if (firstPass === null) return `No pass along the line.${headland}`;
  const right =
    checked.guidance.length > 2
      ? "to its right"
      : `to its right (${windOf((lineFrame(checked.line).headingDeg + 90) % 360)})`;
  return `Pass 0 lies on the line, pass 1 ${right} seen from A to B. Passes ${numberText(firstPass, 0)} to ${numberText(lastPass!, 0)}.${headland}`;
}

function orderInWords({ driving }: DrawnField): string {
  const pattern = {
    "back-and-forth": "back and forth",
    "every-second": "every second pass out, the others on the way back",
    skip: "skipping passes for room to turn",
  }[driving.pattern];
  const headland = {
    last: "headland last, from the inside out, so that nobody turns on strips",
    first: "headland first: then turns go over strips",
  }[driving.headlands];
  const order = driving.headlandPasses === 0 ? pattern : `${pattern}; ${headland}`;
  return `Order: ${order}. Arrows: the way driven; ringed numbers: what comes first, second and so on.`;
}
