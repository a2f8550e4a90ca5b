import { conversionById, methodInWords, type TestMethod } from "../../agronomy/index.ts";
import { InputError, type Notice } from "../../errors/index.ts";
import type { Answers } from "../document/answers.ts";
import type { PlanField } from "../document/document-types.ts";
import { type GuideChoice, type GuideMisfit, misfitsOf, TESTS, takesWay } from "./guide-misfits.ts";

/** What answers say about tests that the guides do not take as they are, field by field. */
export interface WaysThrough {
  /** What stands on a field. */
  readonly of: (fieldId: string) => PlanField["nutrients"];
  /** Answers that keep a field's guide, in words. */
  readonly kept: (choice: GuideChoice, misfit: GuideMisfit) => readonly string[];
  /** What was answered and does not stand on a field that wants a way, in words. */
  readonly passed: (choice: GuideChoice, misfit: GuideMisfit) => readonly string[];
  /** Which fields got what. */
  readonly notices: readonly Notice[];
}

type Test = "P" | "K";
type Kind = "conversion" | "critical-level";

/**
 * A conversion (`conversion.P`) stands on the fields whose test it leads from; a critical level typed for a test, ppm
 * (`critical-level.P`), where all that it could stand on have one test. These are the fields whose guide does not take
 * their test as it is, or all where there are none. One for a field alone (`critical-level.P.north-kettle`) goes before.
 * Throws `not-a-number` and `unknown-conversion`.
 */
export function waysThrough(choices: readonly GuideChoice[], answers: Answers): WaysThrough {
  for (const { field } of choices) requireReadable(answers, field.id);
  const known = choices.filter(({ crop }) => crop !== "");
  const concerned = { P: concernedBy(known, "P"), K: concernedBy(known, "K") };
  const standing = known.flatMap((choice) =>
    TESTS.flatMap(([test]) => waysOf(choice, test, concerned[test], answers)),
  );
  return {
    of: (fieldId) => {
      const own = standing.filter((one) => one.choice.field.id === fieldId);
      const entries = TESTS.flatMap(([test, nutrient]) => {
        const ways = own.filter((one) => one.test === test).map(({ way }) => way);
        return ways.length === 0 ? [] : [[nutrient, Object.assign({}, ...ways)]];
      });
      return entries.length === 0 ? undefined : Object.fromEntries(entries);
    },
    kept: (choice, misfit) => keptBy(choice, misfit, concerned[misfit.test]),
    passed: (choice, misfit) => passedOver(choice, misfit, concerned[misfit.test], answers),
    notices: noticesOf(standing),
  };
}

/** Fields with a test that an answer for all could stand on, those that want it where there are such. */
function concernedBy(choices: readonly GuideChoice[], test: Test): readonly GuideChoice[] {
  const tested = choices.filter(({ tests }) => tests[test] !== undefined);
  const wanting = tested.filter((choice) =>
    misfitsOf(choice, choice.guide, undefined).some(
      (one) => one.test === test && one.error.code === "test-method-mismatch",
    ),
  );
  return wanting.length === 0 ? tested : wanting;
}

interface Standing {
  readonly choice: GuideChoice;
  readonly test: Test;
  readonly key: string;
  readonly answer: string;
  readonly way: { readonly conversion: string } | { readonly criticalLevelPpm: number };
}

function waysOf(
  choice: GuideChoice,
  test: Test,
  concerned: readonly GuideChoice[],
  answers: Answers,
): readonly Standing[] {
  const isConcerned = concerned.includes(choice);
  const answered = (kind: Kind, isForAll: boolean) => {
    const own = `${kind}.${test}.${choice.field.id}`;
    const key = answers[own] !== undefined ? own : `${kind}.${test}`;
    const answer = key === own || (isConcerned && isForAll) ? answers[key] : undefined;
    return answer === undefined ? [] : [{ choice, test, key, answer }];
  };
  const conversions = answered("conversion", true)
    .map((one) => ({ ...one, way: { conversion: one.answer } }))
    .filter(({ way }) => takesWay(choice, test, way));
  const levels = answered("critical-level", methodsOf(concerned, test).length === 1)
    .map((one) => ({ ...one, way: { criticalLevelPpm: Number(one.answer) } }))
    .filter(({ way }) => takesWay(choice, test, { ...conversions[0]?.way, ...way }));
  return [...conversions, ...levels];
}

const methodsOf = (choices: readonly GuideChoice[], test: Test): readonly string[] => [
  ...new Set(choices.map(({ tests }) => tests[test]!.method)),
];

function requireReadable(answers: Answers, fieldId: string): void {
  for (const [test] of TESTS) {
    for (const conversion of [answers[`conversion.${test}`], answers[`conversion.${test}.${fieldId}`]])
      if (conversion !== undefined) conversionById(conversion);
    for (const key of [`critical-level.${test}`, `critical-level.${test}.${fieldId}`]) {
      const level = answers[key];
      if (level === undefined || (Number(level) > 0 && Number.isFinite(Number(level)))) continue;
      throw new InputError(
        "not-a-number",
        `${key}: “${level}” is not a number above 0.`,
        "Give the level in ppm, elemental.",
      );
    }
  }
}

/** By the key for all as long as no field with another test would take it for its own. */
function keptBy(
  { field }: GuideChoice,
  { test, method, conversions, takesLevel }: GuideMisfit,
  concerned: readonly GuideChoice[],
): readonly string[] {
  const convertible = concerned.filter((choice) =>
    misfitsOf(choice, choice.guide, undefined).some((one) => one.test === test && one.conversions.length > 0),
  );
  const endOf = (fields: readonly GuideChoice[]): string =>
    methodsOf(fields, test).length > 1 ? `.${field.id}` : "";
  const others = concerned.length > 1 && endOf(concerned) === "";
  const forAll = others
    ? ` (on all ${concerned.length} fields with that test; on one alone critical-level.${test}.${field.id}=PPM)`
    : "";
  const ways = [
    ...conversions.map(
      ({ id, region, status }) => `conversion.${test}${endOf(convertible)}=${id} (${region}, ${status})`,
    ),
    ...(takesLevel
      ? [`critical-level.${test}${endOf(concerned)}=PPM, a level of your own for ${inWords(method)}${forAll}`]
      : []),
  ];
  return ways.length === 0 ? [] : [ways.join(" or ")];
}

function passedOver(
  { field }: GuideChoice,
  { test, method, error }: GuideMisfit,
  concerned: readonly GuideChoice[],
  answers: Answers,
): readonly string[] {
  if (error.code !== "test-method-mismatch") return [];
  const keysOf = (kind: Kind): readonly string[] =>
    [`${kind}.${test}.${field.id}`, `${kind}.${test}`]
      .filter((key) => answers[key] !== undefined)
      .slice(0, 1);
  const conversions = keysOf("conversion").map((key) => {
    const { id, from, to } = conversionById(answers[key]!);
    return `${key}=${id} leads from ${from.map(methodInWords).join(" or ")} to ${methodInWords(to)}: it does not stand on ${field.name}.`;
  });
  const methods = methodsOf(concerned, test);
  const levels = keysOf("critical-level").map((key) => {
    const why =
      key.endsWith(`.${field.id}`) || methods.length === 1
        ? `the guide's rule for ${inWords(method)} has no critical level`
        : `a level is of one test, and it was said for ${methods.map(inWords).join(" and ")} alike`;
    return `${key}=${answers[key]} does not stand on ${field.name}: ${why}.`;
  });
  return [...conversions, ...levels];
}

const inWords = (method: string): string => methodInWords(method as TestMethod);

/** Fields that are named. */
const SHOWN = 6;

function noticesOf(standing: readonly Standing[]): Notice[] {
  return [...new Set(standing.map(({ key }) => key))].map((key) => {
    const on = standing.filter((one) => one.key === key);
    const names = on.map(
      ({ choice, test }) => `${choice.field.name} (${inWords(choice.tests[test]!.method)})`,
    );
    const more = names.length > SHOWN ? ` and ${names.length - SHOWN} more` : "";
    const unit = key.startsWith("critical-level") ? " ppm" : "";
    const message = `${key}=${on[0]!.answer}${unit} stands on ${names.slice(0, SHOWN).join(", ")}${more}`;
    return { code: "way-through-taken", message, where: key };
  });
}
