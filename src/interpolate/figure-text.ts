/** Three significant digits, whole numbers from 100 on. */
export function figure(value: number): string {
  // Sums that cancel leave the rounding of a double.
  if (Math.abs(value) < 1e-9) return "0";
  return Math.abs(value) >= 100 ? `${Math.round(value)}` : `${Number(value.toPrecision(3))}`;
}

/** A share in percent, as `figure`. */
export function percent(share: number): string {
  return `${figure(100 * share)} %`;
}
