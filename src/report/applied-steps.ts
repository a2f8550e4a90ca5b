import type { AppliedProduct, FieldResult } from "../plan/index.ts";
import { drawing } from "./chart-parts.ts";
import { numberText } from "./numbers.ts";
import { platLayout } from "./plat-layout.ts";
import { areaPath, element } from "./svg.ts";
import { colours, lineWeights, ramps } from "./tokens.ts";

/** Placed less planned, share of the plan: limits between the steps of the `diff` ramp. */
export const APPLIED_LIMITS: readonly number[] = [-0.5, -0.2, -0.05, 0.05, 0.2, 0.5];

/** Step of a piece: 0 least, 3 as planned, 6 most; null where nothing was planned and nothing placed. */
function appliedStep(placedLbPerAc: number, plannedLbPerAc: number): number | null {
  if (plannedLbPerAc === 0 && placedLbPerAc < 1) return null;
  const share = plannedLbPerAc === 0 ? 1 : placedLbPerAc / plannedLbPerAc - 1;
  const step = APPLIED_LIMITS.findIndex((limit) => share < limit);
  return step < 0 ? APPLIED_LIMITS.length : step;
}

/** Acres of each step of the ramp, least first. */
export function appliedAcres(field: FieldResult, applied: AppliedProduct): number[] {
  const map = field.prescriptions.find((one) => one.pass === "strip" && one.product === applied.product)!;
  const acres = ramps.diff.map(() => 0);
  field.passes.areaAc.forEach((areaAc, k) => {
    const step = appliedStep(applied.placedLbPerAc[k]!, map.rateLbPerAc[k]!);
    if (step !== null) acres[step] = acres[step]! + areaAc;
  });
  return acres;
}

/** What was placed beyond the plan is outlined, so that less and more are told apart in grey too. */
const outlineOf = (step: number): { readonly stroke?: string; readonly "stroke-width"?: string } =>
  step > (ramps.diff.length - 1) / 2 ? { stroke: colours.ink, "stroke-width": "0.7" } : {};

/** A field's pieces by placed less planned: ochre less, blue and outlined more. Looks are attributes alone. */
export function appliedPlat(
  field: FieldResult,
  applied: AppliedProduct,
  size: { readonly width: number; readonly height: number },
): string {
  const { boundary } = field.checked;
  const inset = { left: 6, top: 6, right: 6, bottom: 6 };
  const { toPx } = platLayout(boundary, { ...size, inset });
  const map = field.prescriptions.find((one) => one.pass === "strip" && one.product === applied.product)!;
  const bySteps = ramps.diff.map((): string[] => []);
  field.passes.pieces.forEach(({ polygon }, k) => {
    const step = appliedStep(applied.placedLbPerAc[k]!, map.rateLbPerAc[k]!);
    if (step !== null) bySteps[step]!.push(areaPath([polygon], toPx));
  });
  const title = `${field.field.name}: ${applied.product}, placed less planned; ${numberText(applied.placedLb, 0)} lb placed, ${numberText(applied.plannedLb, 0)} lb planned`;
  return drawing(
    size,
    title,
    bySteps
      .map((paths, step) =>
        paths.length === 0
          ? ""
          : element("path", { d: paths.join(""), fill: ramps.diff[step]!, ...outlineOf(step) }),
      )
      .join("") +
      element("path", {
        d: areaPath(boundary, toPx),
        fill: "none",
        stroke: colours.ink,
        "stroke-width": String(lineWeights.boundary),
      }),
  );
}
