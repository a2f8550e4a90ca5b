/** Take a typed number within limits; false where it is none. */
export function takeNumber(
  text: string,
  least: number,
  most: number,
  take: (value: number) => void,
): boolean {
  const typed = text.trim() === "" ? Number.NaN : Number(text);
  const isFit = Number.isFinite(typed) && typed >= least && typed <= most;
  if (isFit) take(typed);
  return isFit;
}
