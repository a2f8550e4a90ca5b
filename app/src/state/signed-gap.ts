import { signedText, UNKNOWN } from "#core";

/** Of two figures as they are shown, so that the three subtract; – where one is not known. */
export function signedGap(was: string, is: string): string {
  const gap = shownNumber(is) - shownNumber(was);
  if (Number.isNaN(gap)) return UNKNOWN;
  const decimals = is.split(".")[1]?.length ?? 0;
  return signedText(gap, decimals);
}

const shownNumber = (text: string): number => Number(text.replaceAll(",", "").replace("−", "-"));
