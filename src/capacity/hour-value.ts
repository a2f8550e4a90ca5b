import { requireNumber } from "./require-number.ts";
import type { TimeLine } from "./time-lines.ts";

/**
 * $ an hour of the rig must be worth before a second pass pays that costs `feePerAc` and takes `lbPerAcOffStrip`
 * off the strip, on a time line. `valueLostPerLb`: worth of a pound in the strip rather than broadcast, $.
 */
export function breakEvenHourValue(input: {
  readonly line: TimeLine;
  readonly feePerAc: number;
  readonly lbPerAcOffStrip: number;
  readonly valueLostPerLb?: number;
}): number {
  const { line, feePerAc, lbPerAcOffStrip, valueLostPerLb = 0 } = input;
  requireNumber("lbPerAcOffStrip", lbPerAcOffStrip, { above: 0 });
  requireNumber("hoursPerLb", line.hoursPerLb, { above: 0 });
  return (requireNumber("feePerAc", feePerAc) / lbPerAcOffStrip + valueLostPerLb) / line.hoursPerLb;
}
