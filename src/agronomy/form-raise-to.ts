import type { CompileContext } from "./compile-context.ts";
import type { CompiledForm } from "./compiled.ts";
import { plainNumber } from "./plain-number.ts";
import type { RaiseToForm } from "./types.ts";

/** So many pounds per unit of test missing to a level, where the test is low enough to ask for any. */
export function compileRaiseTo(context: CompileContext, form: RaiseToForm): CompiledForm {
  const level = context.resolve(form.level);
  const perUnit = context.resolve(form.perUnit);
  const applyBelow = context.resolve(form.applyBelow);
  const own = context.answers.ownCriticalLevel;
  const trigger = (cec: number): number => own ?? applyBelow.value(cec);
  const aim = (cec: number): number => level.value(cec) + trigger(cec) - applyBelow.value(cec);

  function rate(test: number, cec: number): number {
    return test < trigger(cec) ? Math.max(0, (aim(cec) - test) * perUnit.value(cec)) : 0;
  }

  function steps(test: number, cec: number): string[] {
    const unit = context.guide.testUnit;
    const seen = `The test, ${plainNumber(test)} ${context.testWords}, is`;
    if (!(test < trigger(cec))) {
      return [`${seen} not below ${plainNumber(trigger(cec))} ${unit}: no ${context.nutrient}.`];
    }
    return [
      `${seen} below ${plainNumber(trigger(cec))} ${unit}: the guide applies.`,
      `(${plainNumber(aim(cec))} - ${plainNumber(test)}) x ${perUnit.words(cec)} lb = ${plainNumber(rate(test, cec))} lb ${context.nutrient}/ac.`,
    ];
  }

  return {
    rate,
    band: (test, cec) => (test < trigger(cec) ? "below critical" : "none"),
    steps,
    criticalLevel: trigger,
    isBelowCritical: (test, cec) => test < trigger(cec),
    jumps: (cec) => (aim(cec) > trigger(cec) ? [trigger(cec)] : []),
    needsCec: [level, perUnit, applyBelow].some((part) => part.needsCec),
    constants: [level, perUnit, applyBelow].flatMap((part) => part.constants),
  };
}
