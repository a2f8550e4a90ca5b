import { numberText } from "#core";

/** A figure as the name of an edit says it: so many decimals as it has, two at most. */
export function said(value: number | null | undefined, none = "not told"): string {
  if (value === null || value === undefined) return none;
  const decimals = [0, 1].find((few) => Number(value.toFixed(few)) === Number(value.toFixed(2))) ?? 2;
  return numberText(value, decimals);
}
