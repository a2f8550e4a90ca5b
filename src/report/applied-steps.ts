import type { AppliedProduct, FieldResult } from "../plan/index.ts";
import { signedText } from "../units/index.ts";
import { acresText, type UnitSystem, unitWords } from "./numbers.ts";
import { ramps } from "./tokens.ts";

/** Placed less planned, share of the plan: limits between the steps of the `diff` ramp. */
export const APPLIED_LIMITS: readonly number[] = [-0.5, -0.2, -0.05, 0.05, 0.2, 0.5];

/** The middle step of the `diff` ramp: as planned. */
export const AS_PLANNED: number = (ramps.diff.length - 1) / 2;

/** Step of a piece: 0 least, 3 as planned, 6 most; -1 where nothing was planned and nothing placed. */
function appliedStep(placedLbPerAc: number, plannedLbPerAc: number): number {
  if (plannedLbPerAc === 0 && placedLbPerAc < 1) return -1;
  const share = plannedLbPerAc === 0 ? 1 : placedLbPerAc / plannedLbPerAc - 1;
  const step = APPLIED_LIMITS.findIndex((limit) => share < limit);
  return step < 0 ? APPLIED_LIMITS.length : step;
}

/** Width of a step's rule along the pass as a share of the pass: wider for farther off the plan, none as planned. */
export const appliedShare = (step: number): number => [0, 0.5, 0.7, 0.9][Math.abs(step - AS_PLANNED)]!;

/** lb/ac planned in each piece of the passes. */
export const plannedLbPerAc = (field: FieldResult, { product }: AppliedProduct): Float64Array =>
  field.prescriptions.find((one) => one.pass === "strip" && one.product === product)!.rateLbPerAc;

/** Step of each piece of the passes on the `diff` ramp; -1 where nothing was planned and nothing placed. */
export function appliedSteps(field: FieldResult, applied: AppliedProduct): Int8Array {
  const planned = plannedLbPerAc(field, applied);
  return Int8Array.from(planned, (rate, k) => appliedStep(applied.placedLbPerAc[k]!, rate));
}

/** How far what was placed is off the plan, to stand behind the planned pounds: ` (+3.2 %)`; nothing where none were planned. */
export function offInWords({ placedLb, plannedLb }: Pick<AppliedProduct, "placedLb" | "plannedLb">): string {
  if (plannedLb === 0) return "";
  return ` (${signedText(100 * (placedLb / plannedLb - 1), 1)} %)`;
}

/** Fewer acres than this are ends of passes, and not told (ours). */
const LEAST_NOTHING_AC = 0.05;

/** What of the ground covered got nothing though the map has a rate, to stand behind the covered acres; empty where it is next to none. */
export function nothingLaidInWords(
  { nothingLaidAc }: Pick<AppliedProduct, "nothingLaidAc">,
  system: UnitSystem = "us",
): string {
  if (nothingLaidAc < LEAST_NOTHING_AC) return "";
  return `, of it ${acresText(nothingLaidAc, system, 2)} ${unitWords(system).area} got nothing where the map has a rate`;
}

/** Acres of each step of the ramp, least first. */
export function appliedAcres(field: FieldResult, applied: AppliedProduct): number[] {
  const acres = ramps.diff.map(() => 0);
  appliedSteps(field, applied).forEach((step, k) => {
    if (step >= 0) acres[step] = acres[step]! + field.passes.areaAc[k]!;
  });
  return acres;
}
