import {
  type GuideMisfit,
  guideMisfits,
  methodInWords,
  oxideText,
  type PlanField,
  testMethodFrom,
} from "#core";
import { plan } from "./opened.ts";
import { field } from "./results.ts";

/** How the tests of a field were done, by its files and what was answered to them; null before they are read. */
function methodsOf(one: PlanField): { readonly P: string; readonly K: string } | null {
  const shown = field.value;
  if (shown?.id !== one.id) return null;
  const { P, K } = shown.ground.methods;
  const source = plan.value?.sources.find(({ path, as }) => as === "samples" && path === one.samples);
  const finish = source?.answers["method.P"];
  return { P: P === "mehlich-3" && finish !== undefined ? finish : P, K };
}

/** What keeps a guide from reading the tests of a field as they are; nothing while they are not read. */
export function misfitsIn(one: PlanField, guide: string): readonly GuideMisfit[] {
  const methods = methodsOf(one);
  if (methods === null) return [];
  const hasCec = field.value!.ground.samples.some(({ values }) => values.CEC !== null);
  const key = JSON.stringify([guide, one.crop, one.nutrients, methods, hasCec]);
  const known = found.get(key);
  if (known) return known;
  const misfits = guideMisfits(guide, one, methods, hasCec);
  if (found.size >= MOST_FOUND) found.clear();
  found.set(key, misfits);
  return misfits;
}

/** A move of a slider changes nothing of what a guide reads: what was found is kept. */
const found = new Map<string, readonly GuideMisfit[]>();
const MOST_FOUND = 200;

/** `does not read P by Mehlich-3`, for a list of guides. */
export const misfitWords = (misfits: readonly GuideMisfit[]): string =>
  [...new Set(misfits.map(wordsOf))].join(", ");

function wordsOf({ test, nutrient, method, error }: GuideMisfit): string {
  if (error.code === "crop-not-in-guide") return "not for this crop";
  if (error.code === "nutrient-not-in-guide") return `no ${oxideText(nutrient)} for this crop`;
  if (error.code === "cec-missing") return "needs a CEC";
  if (error.code === "finish-not-stated") return "how was Mehlich-3 P read?";
  return `does not read ${test} by ${methodInWords(testMethodFrom(method, nutrient))}`;
}
