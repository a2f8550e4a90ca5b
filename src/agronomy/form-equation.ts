import type { ResolvedAmount } from "./amount.ts";
import type { CompileContext } from "./compile-context.ts";
import type { CompiledForm } from "./compiled.ts";
import { plainNumber } from "./plain-number.ts";
import type { EquationForm } from "./types.ts";

/** A sufficiency equation in yield and test, with cut-off and minimum; never below zero. */
export function compileEquation(context: CompileContext, form: EquationForm): CompiledForm {
  const optional = (amount: EquationForm["cutOff"]): ResolvedAmount | undefined =>
    amount === undefined ? undefined : context.resolve(amount);
  const intercept = optional(form.intercept);
  const perBu = optional(form.perBu);
  const perPpm = optional(form.perPpm);
  const perBuPpm = optional(form.perBuPpm);
  const cutOff = optional(form.cutOff);
  const minimum = optional(form.minimum);
  const parts = [intercept, perBu, perPpm, perBuPpm, cutOff, minimum];
  const at = (part: ResolvedAmount | undefined, cec: number, otherwise: number): number =>
    part?.value(cec) ?? otherwise;

  const raw = (test: number, cec: number, yieldBuPerAc: number): number =>
    at(intercept, cec, 0) +
    at(perBu, cec, 0) * yieldBuPerAc +
    at(perPpm, cec, 0) * test +
    at(perBuPpm, cec, 0) * yieldBuPerAc * test;
  const isCut = (test: number, cec: number): boolean => test >= at(cutOff, cec, Number.POSITIVE_INFINITY);

  function rate(test: number, cec: number, yieldBuPerAc: number): number {
    if (isCut(test, cec)) return 0;
    return Math.max(raw(test, cec, yieldBuPerAc), at(minimum, cec, 0), 0);
  }

  function steps(test: number, cec: number, yieldBuPerAc: number): string[] {
    const unit = context.guide.testUnit;
    if (isCut(test, cec)) {
      return [
        `The test, ${plainNumber(test)} ${context.testWords}, is at or above ${plainNumber(at(cutOff, cec, 0))} ${unit}: no ${context.nutrient}.`,
      ];
    }
    const terms = [
      intercept === undefined ? "" : intercept.words(cec),
      perBu === undefined ? "" : `${perBu.words(cec)} x ${yieldBuPerAc} bu`,
      perPpm === undefined ? "" : `(${perPpm.words(cec)}) x ${plainNumber(test)} ${unit}`,
      perBuPpm === undefined
        ? ""
        : `(${perBuPpm.words(cec)}) x ${yieldBuPerAc} bu x ${plainNumber(test)} ${unit}`,
    ].filter((term) => term !== "");
    const result = raw(test, cec, yieldBuPerAc);
    const lines = [`${terms.join(" + ")} = ${plainNumber(result)} lb ${context.nutrient}/ac.`];
    const least = at(minimum, cec, 0);
    if (result < least) lines.push(`The guide gives at least ${plainNumber(least)} lb/ac where any is due.`);
    else if (result < 0) lines.push("Below nothing: no application.");
    return lines;
  }

  return {
    rate,
    band: (test, cec) => (isCut(test, cec) ? "none" : "response"),
    steps,
    criticalLevel: (cec) => cutOff?.value(cec),
    isBelowCritical: (test, cec) => test < at(cutOff, cec, Number.POSITIVE_INFINITY),
    jumps: (cec) => (cutOff === undefined ? [] : [cutOff.value(cec)]),
    needsCec: parts.some((part) => part?.needsCec === true),
    constants: parts.flatMap((part) => part?.constants ?? []),
  };
}
