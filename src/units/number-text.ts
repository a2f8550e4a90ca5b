/** What nobody knows is shown as an en dash. */
export const UNKNOWN = "–";

/** A number with commas between thousands, a true minus sign and so many decimals; no unit. -0 shows as 0. */
export function numberText(value: number, decimals: number): string {
  if (!Number.isFinite(value)) return UNKNOWN;
  const rounded = roundTo(value, decimals);
  const [whole, part] = Math.abs(rounded).toFixed(decimals).split(".");
  const grouped = whole!.replace(/\B(?=(\d{3})+$)/g, ",");
  return `${rounded < 0 ? "−" : ""}${grouped}${part === undefined ? "" : `.${part}`}`;
}

/** The same with a plus before what is above 0: how much more or less. */
export const signedText = (value: number, decimals: number): string =>
  `${value > 0 ? "+" : ""}${numberText(value, decimals)}`;

/** Nearest, an exact half away from zero, so that 2.5 and -2.5 show alike. */
export function roundTo(value: number, decimals: number): number {
  const scale = 10 ** decimals;
  const rounded = (Math.sign(value) * Math.round(Math.abs(value) * scale)) / scale;
  return rounded === 0 ? 0 : rounded;
}

/** The number that a file has of it with so many decimals. */
export const writtenWith = (value: number, decimals: number): number => Number(value.toFixed(decimals));

/** `1 field`, `57 fields`; `many` where more than one is not said with an s. */
export const counted = (count: number, one: string, many: string = `${one}s`): string =>
  `${numberText(count, 0)} ${count === 1 ? one : many}`;

/** A text with its first letter large, as a sentence begins. */
export const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);
