const PLAIN_NUMBER = /^[+-]?(\d+\.?\d*|\.\d+)([eE][+-]?\d+)?$/;

/**
 * The number a cell holds: digits, one decimal point, a sign, an exponent; blanks around it do not matter.
 * Null for anything else: a blank, `1,020`, `90,5`, `<5`, `0x10`, `Infinity`, `1e999`.
 */
export function readNumber(text: string): number | null {
  const trimmed = text.trim();
  if (!PLAIN_NUMBER.test(trimmed)) return null;
  const value = Number(trimmed);
  return Number.isFinite(value) ? value : null;
}
