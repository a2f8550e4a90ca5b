import { type CompileContext, compileRemoval } from "./compile-context.ts";
import type { CompiledForm } from "./compiled.ts";
import { plainNumber } from "./plain-number.ts";
import type { ClassesForm } from "./types.ts";

/** A class table: the class of the test gives a fixed rate, removal, or nothing. */
export function compileClasses(context: CompileContext, form: ClassesForm): CompiledForm {
  const unit = context.guide.testUnit;
  const constants: string[] = [];
  const classes = form.classes.map((entry) => {
    const top = entry.upTo === undefined ? undefined : context.resolve(entry.upTo);
    const fixed = entry.lbPerAc === undefined ? undefined : context.resolve(entry.lbPerAc);
    const removal = entry.removal === undefined ? undefined : compileRemoval(context, entry.removal);
    constants.push(...(top?.constants ?? []), ...(fixed?.constants ?? []), ...(removal?.constants ?? []));
    return {
      name: entry.name,
      top: top?.value(Number.NaN) ?? Number.POSITIVE_INFINITY,
      fixed: fixed?.value(Number.NaN),
      removal,
    };
  });
  // The class that replaces removal keeps the test where it is: those below it stand for a response.
  const maintained = classes.findIndex((entry) => entry.removal !== undefined);
  const lowerTakesEdge = form.edgeIn === "lower class";

  function classOf(test: number): (typeof classes)[number] {
    const found = classes.find((entry) => test < entry.top || (lowerTakesEdge && test === entry.top));
    if (found === undefined) throw new Error(`guide ${context.guide.id}: the last class has an upper edge`);
    return found;
  }

  function rate(test: number, _cecMeq: number, yieldBuPerAc: number): number {
    const entry = classOf(test);
    return entry.fixed ?? entry.removal?.lbPerAc(yieldBuPerAc) ?? 0;
  }

  function edgesInWords(index: number): string {
    const below = classes[index - 1]?.top;
    const top = classes[index]?.top ?? Number.POSITIVE_INFINITY;
    const from = below === undefined ? "" : `${lowerTakesEdge ? "above" : "from"} ${plainNumber(below)}`;
    const to =
      top === Number.POSITIVE_INFINITY ? "" : `${lowerTakesEdge ? "up to" : "below"} ${plainNumber(top)}`;
    return `${[from, to].filter((part) => part !== "").join(", ")} ${unit}`;
  }

  function steps(test: number, _cecMeq: number, yieldBuPerAc: number): string[] {
    const entry = classOf(test);
    const lines = [
      `The test, ${plainNumber(test)} ${context.testWords}, is in class ${entry.name} (${edgesInWords(classes.indexOf(entry))}).`,
    ];
    if (entry.fixed !== undefined) {
      lines.push(`Class rate ${plainNumber(entry.fixed)} lb ${context.nutrient}/ac.`);
    } else if (entry.removal !== undefined) {
      lines.push(
        `Class rate is removal: ${entry.removal.words(yieldBuPerAc)} = ${plainNumber(entry.removal.lbPerAc(yieldBuPerAc))} lb ${context.nutrient}/ac.`,
      );
    } else lines.push(`Class rate: no ${context.nutrient}.`);
    return lines;
  }

  return {
    rate,
    band: (test) => (Number.isNaN(test) ? "" : classOf(test).name),
    steps,
    criticalLevel: () => undefined,
    isBelowCritical: (test) => !Number.isNaN(test) && classes.indexOf(classOf(test)) < maintained,
    jumps: () => classes.map((entry) => entry.top).filter(Number.isFinite),
    needsCec: false,
    constants,
  };
}
