import { InputError } from "../errors/index.ts";
import type { Answers } from "./answers.ts";
import type { PlanField } from "./document-types.ts";

/**
 * What answers say about tests that the guide does not take as they are: a conversion by name (`conversion.P`) or a
 * critical level typed for the test (`critical-level.P`, ppm). Nothing when nothing was answered. Throws `not-a-number`.
 */
export function waysThrough(answers: Answers): Pick<PlanField, "nutrients"> {
  const P2O5 = wayOf("P", answers);
  const K2O = wayOf("K", answers);
  if (P2O5 === null && K2O === null) return {};
  return { nutrients: { ...(P2O5 ? { P2O5 } : {}), ...(K2O ? { K2O } : {}) } };
}

function wayOf(
  test: "P" | "K",
  answers: Answers,
): { readonly conversion?: string; readonly criticalLevelPpm?: number } | null {
  const conversion = answers[`conversion.${test}`];
  const level = answers[`critical-level.${test}`];
  if (conversion === undefined && level === undefined) return null;
  if (level === undefined) return { conversion: conversion! };
  const criticalLevelPpm = Number(level);
  if (!(criticalLevelPpm > 0 && Number.isFinite(criticalLevelPpm))) {
    throw new InputError(
      "not-a-number",
      `critical-level.${test}: “${level}” is not a number above 0.`,
      "Give the level in ppm, elemental.",
    );
  }
  return { ...(conversion === undefined ? {} : { conversion }), criticalLevelPpm };
}
