import { numberText } from "#core";

/** Of two figures as they are shown, so that the three subtract. */
export function signedGap(was: string, is: string): string {
  const gap = shownNumber(is) - shownNumber(was);
  const decimals = is.split(".")[1]?.length ?? 0;
  return `${gap > 0 ? "+" : "−"}${numberText(Math.abs(gap), decimals)}`;
}

const shownNumber = (text: string): number => Number(text.replaceAll(",", "").replace("−", "-"));
