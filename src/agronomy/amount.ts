import { QuestionError } from "../errors/index.ts";
import { plainNumber } from "./plain-number.ts";
import type { Amount, Guide } from "./types.ts";

/** An `Amount` with options and constants put in: still open is only the CEC of the place. */
export interface ResolvedAmount {
  value(cecMeq: number): number;
  /** The figure, with its arithmetic where it has any and a unit when given: `75 + 2.5 x CEC 10 = 100 ppm`. */
  words(cecMeq: number, unit?: string): string;
  readonly needsCec: boolean;
  readonly constants: readonly string[];
}

/** Answers to the options of a guide, by key. */
export type OptionAnswers = { readonly [key: string]: string };

/** Throws `QuestionError` when the amount hangs on an option that was not answered. */
export function resolveAmount(guide: Guide, amount: Amount, answers: OptionAnswers): ResolvedAmount {
  if (typeof amount === "string") return fromConstant(guide, amount);
  if ("sum" in amount) return fromSum(amount.sum.map((part) => resolveAmount(guide, part, answers)));
  if ("cecLine" in amount) return fromLine(guide, amount.cecLine.intercept, amount.cecLine.slope);
  if ("byCec" in amount) {
    const { limit, at, low, high } = amount.byCec;
    return fromCec(
      fromConstant(guide, limit),
      at,
      resolveAmount(guide, low, answers),
      resolveAmount(guide, high, answers),
    );
  }
  const { key, values } = amount.byOption;
  const answer = answers[key];
  const chosen = answer === undefined ? undefined : values[answer];
  if (chosen === undefined) throw new QuestionError([optionQuestion(guide, key)]);
  return resolveAmount(guide, chosen, answers);
}

/** The open question for one option of a guide. */
function optionQuestion(guide: Guide, key: string): QuestionError["questions"][number] {
  const option = guide.options.find((entry) => entry.key === key);
  if (option === undefined) throw new Error(`guide ${guide.id} uses option ${key} and does not list it`);
  return { key: `option.${key}`, text: option.question, choices: option.choices, seen: `guide ${guide.id}` };
}

/** The figure of a constant; a missing id is a fault in the guide's data. */
function constantValue(guide: Guide, id: string): number {
  const constant = guide.constants[id];
  if (constant === undefined) throw new Error(`guide ${guide.id} has no constant ${id}`);
  return constant.value;
}

function fromConstant(guide: Guide, id: string): ResolvedAmount {
  const value = constantValue(guide, id);
  return {
    value: () => value,
    words: (_cecMeq, unit) => withUnit(plainNumber(value, 4), unit),
    needsCec: false,
    constants: [id],
  };
}

function fromSum(parts: readonly ResolvedAmount[]): ResolvedAmount {
  const value = (cecMeq: number): number => parts.reduce((sum, part) => sum + part.value(cecMeq), 0);
  return {
    value,
    words: (cecMeq, unit) => {
      const added = parts.map((part) => plainNumber(part.value(cecMeq))).join(" + ");
      return withUnit(`${added} = ${plainNumber(value(cecMeq))}`, unit);
    },
    needsCec: parts.some((part) => part.needsCec),
    constants: parts.flatMap((part) => part.constants),
  };
}

function fromLine(guide: Guide, interceptId: string, slopeId: string): ResolvedAmount {
  const intercept = constantValue(guide, interceptId);
  const slope = constantValue(guide, slopeId);
  return {
    value: (cecMeq) => intercept + slope * cecMeq,
    words: (cecMeq, unit) =>
      withUnit(
        `${plainNumber(intercept)} + ${plainNumber(slope)} x CEC ${plainNumber(cecMeq)} = ${plainNumber(intercept + slope * cecMeq)}`,
        unit,
      ),
    needsCec: true,
    constants: [interceptId, slopeId],
  };
}

function fromCec(
  limit: ResolvedAmount,
  at: "low" | "high",
  low: ResolvedAmount,
  high: ResolvedAmount,
): ResolvedAmount {
  const edge = limit.value(Number.NaN);
  const isLow = (cecMeq: number): boolean => cecMeq < edge || (cecMeq === edge && at === "low");
  const pick = (cecMeq: number): ResolvedAmount => (isLow(cecMeq) ? low : high);
  return {
    value: (cecMeq) => (Number.isNaN(cecMeq) ? Number.NaN : pick(cecMeq).value(cecMeq)),
    words: (cecMeq, unit) =>
      `${pick(cecMeq).words(cecMeq, unit)} (CEC ${plainNumber(cecMeq)} is ${sideInWords(isLow(cecMeq), at)} ${plainNumber(edge)})`,
    needsCec: true,
    constants: [...limit.constants, ...low.constants, ...high.constants],
  };
}

function sideInWords(low: boolean, at: "low" | "high"): string {
  if (low) return at === "low" ? "not above" : "below";
  return at === "low" ? "above" : "not below";
}

const withUnit = (figure: string, unit: string | undefined): string =>
  unit === undefined ? figure : `${figure} ${unit}`;
