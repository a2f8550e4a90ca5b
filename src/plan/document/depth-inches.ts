import { CM_PER_IN } from "../../units/index.ts";
/**
 * Bottom of the cores in inches from a depth such as `0-8in`, `8 in` or `0-20cm`; null when it was not stated or is no
 * depth from the surface. A depth is recorded and compared, never a reason to stop.
 */
export function depthInches(depth: string): number | null {
  const read = /^(?:0(?:\.0+)?\s*(?:-|to)\s*)?(\d+(?:\.\d+)?)\s*(in|cm)\.?$/i.exec(depth.trim());
  if (!read) return null;
  const bottom = Number(read[1]);
  return read[2]!.toLowerCase() === "cm" ? Math.round((bottom / CM_PER_IN) * 10) / 10 : bottom;
}
