const MISSING = /^(|-+|\*+|n\/?a|ns|none|null|nan|-9999(\.0+)?|-99(\.0+)?|#n\/a)$/i;
const NOT_DETECTED = /^(n\.?d\.?|bdl|bld|lod|<\s*lod|not[ -]detected|below detection( limit)?)$/i;

/** Whether a cell says "no value" (marks met in lab files: common practice). It is never 0. */
export function isMissingMark(text: string): boolean {
  return MISSING.test(text.trim());
}

/** Whether a cell says "less than can be seen" without saying how much that is. */
export function isNotDetected(text: string): boolean {
  return NOT_DETECTED.test(text.trim());
}
