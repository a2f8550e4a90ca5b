import { numberText } from "#core";

/** A figure as the name of an edit says it: so many decimals as it has, two at most. */
export function said(value: number | null | undefined, none = "not told"): string {
  if (value === null || value === undefined) return none;
  const decimals = [0, 1].find((few) => Number(value.toFixed(few)) === Number(value.toFixed(2))) ?? 2;
  return numberText(value, decimals);
}

/** Dollars as the name of an edit says them: with cents where there are any. */
export function saidUsd(usd: number | null | undefined, none = "not told"): string {
  if (usd === null || usd === undefined) return none;
  return `$${numberText(usd, Number.isInteger(usd) ? 0 : 2)}`;
}
