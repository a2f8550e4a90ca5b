import { type CompileContext, compileRemoval } from "./compile-context.ts";
import type { CompiledForm } from "./compiled.ts";
import { plainNumber } from "./plain-number.ts";
import type { BuildUpForm } from "./types.ts";

/** Build-up, maintenance, drawdown. A test on the critical level is not below it. */
export function compileBuildUp(context: CompileContext, form: BuildUpForm): CompiledForm {
  const critical = context.resolve(form.criticalLevel);
  const perUnit = context.resolve(form.perUnit);
  const years = form.spreadOver === undefined ? undefined : context.resolve(form.spreadOver);
  const removal = compileRemoval(context, form.removal);
  const addition =
    form.addition === undefined || !context.answers.withAddition
      ? undefined
      : context.resolve(form.addition.lbPerAc);
  const limit = context.resolve(form.limit);
  const zero = form.zeroAt === undefined ? undefined : context.resolve(form.zeroAt);
  const { buildUp, ownCriticalLevel } = context.answers;
  const unit = context.guide.testUnit;

  const criticalAt = (cec: number): number => ownCriticalLevel ?? critical.value(cec);
  // A critical level typed by the user moves the ranges above it by as much.
  const shift = (cec: number): number => criticalAt(cec) - critical.value(cec);
  const limitAt = (cec: number): number => limit.value(cec) + shift(cec);
  const zeroAt = (cec: number): number => (zero === undefined ? limitAt(cec) : zero.value(cec) + shift(cec));
  const isWithin = (test: number, cec: number): boolean =>
    test < limitAt(cec) || (test === limitAt(cec) && form.limitAt === "within");
  const yearsValue = (cec: number): number => years?.value(cec) ?? 1;
  const added = (cec: number): number => addition?.value(cec) ?? 0;
  const kept = (cec: number, yieldBuPerAc: number): number => removal.lbPerAc(yieldBuPerAc) + added(cec);
  const drawdownShare = (test: number, cec: number): number =>
    1 - (test - limitAt(cec)) / (zeroAt(cec) - limitAt(cec));

  function band(test: number, cec: number): string {
    if (test < criticalAt(cec)) return "below critical";
    if (isWithin(test, cec)) return "maintenance";
    return test < zeroAt(cec) ? "drawdown" : "none";
  }

  function rate(test: number, cec: number, yieldBuPerAc: number): number {
    const level = criticalAt(cec);
    if (test < level) {
      const raise = buildUp ? ((level - test) * perUnit.value(cec)) / yearsValue(cec) : 0;
      return raise + kept(cec, yieldBuPerAc);
    }
    if (isWithin(test, cec)) return kept(cec, yieldBuPerAc);
    return test < zeroAt(cec) ? kept(cec, yieldBuPerAc) * drawdownShare(test, cec) : 0;
  }

  function keptSteps(cec: number, yieldBuPerAc: number): string[] {
    const steps = [
      `Removal: ${removal.words(yieldBuPerAc)} = ${plainNumber(removal.lbPerAc(yieldBuPerAc))} lb ${context.nutrient}/ac.`,
    ];
    if (form.addition !== undefined && addition !== undefined) {
      steps.push(
        `The guide adds ${addition.words(cec)} lb ${context.nutrient}/ac (${countsInWords(form.addition.counts)}): ${plainNumber(kept(cec, yieldBuPerAc))} lb/ac.`,
      );
    }
    return steps;
  }

  function criticalSteps(test: number, cec: number): string {
    const own =
      ownCriticalLevel === undefined
        ? critical.words(cec, unit)
        : `${plainNumber(ownCriticalLevel)} ${unit}, typed`;
    const place = test < criticalAt(cec) ? "below" : test === criticalAt(cec) ? "on" : "above";
    return `Critical level ${own}; the test, ${plainNumber(test)} ${context.testWords}, is ${place} it.`;
  }

  function steps(test: number, cec: number, yieldBuPerAc: number): string[] {
    const result = [criticalSteps(test, cec)];
    const place = band(test, cec);
    if (place === "below critical") {
      if (buildUp) {
        const over = years === undefined ? "" : ` / ${years.words(cec)} years`;
        const raise = ((criticalAt(cec) - test) * perUnit.value(cec)) / yearsValue(cec);
        result.push(
          `Build-up: (${plainNumber(criticalAt(cec))} - ${plainNumber(test)}) x (${perUnit.words(cec)}) lb${over} = ${plainNumber(raise)} lb ${context.nutrient}/ac a year.`,
        );
      } else result.push("The years of build-up are over without a new test: removal alone.");
      result.push(...keptSteps(cec, yieldBuPerAc));
      result.push(`Together ${plainNumber(rate(test, cec, yieldBuPerAc))} lb ${context.nutrient}/ac.`);
    } else if (place === "maintenance") {
      result.push(`Up to ${plainNumber(limitAt(cec))} ${unit} what the crop takes is replaced.`);
      result.push(...keptSteps(cec, yieldBuPerAc));
    } else if (place === "drawdown") {
      result.push(...keptSteps(cec, yieldBuPerAc));
      result.push(
        `Drawdown from ${plainNumber(limitAt(cec))} to ${plainNumber(zeroAt(cec))} ${unit}: share ${plainNumber(drawdownShare(test, cec))}, ${plainNumber(rate(test, cec, yieldBuPerAc))} lb ${context.nutrient}/ac.`,
      );
    } else {
      // Without drawdown a test on the limit may still be within; then only tests above it get nothing.
      const includesEdge = zero !== undefined || form.limitAt === "beyond";
      const edge = `${plainNumber(zeroAt(cec))} ${unit}`;
      result.push(
        includesEdge
          ? `At ${edge} and above the guide gives no ${context.nutrient}.`
          : `Above ${edge} the guide gives no ${context.nutrient}.`,
      );
    }
    return result;
  }

  return {
    rate,
    band,
    steps,
    criticalLevel: criticalAt,
    isBelowCritical: (test, cec) => test < criticalAt(cec),
    jumps: (cec) => (zero === undefined ? [limitAt(cec)] : []),
    needsCec: [critical, perUnit, years, addition, limit, zero].some((part) => part?.needsCec === true),
    constants: [
      ...[critical, perUnit, years, addition, limit, zero].flatMap((part) => part?.constants ?? []),
      ...removal.constants,
    ],
  };
}

function countsInWords(counts: "per crop" | "per application" | "not stated"): string {
  if (counts === "per crop") return "once a crop";
  if (counts === "per application") return "once an application";
  return "here once a crop; the text read does not say";
}
