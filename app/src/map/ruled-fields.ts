import { M_PER_DEG } from "#core";
import { boxOf } from "../engine/lon-lat.ts";
import type { LonLat, Outline } from "../engine/protocol.ts";
import { crossings } from "../engine/ring-crossings.ts";

/** Rules from one side of the farm to the other. */
const RULES_ACROSS = 80;

/** Metres between the rules of a farm's fields. */
export function rulePitchM(outlines: readonly Outline[]): number {
  const [west, south, east, north] = boxOf(outlines.flatMap((one) => one.boundary));
  const squeeze = Math.cos((((south + north) / 2) * Math.PI) / 180);
  return (Math.max((east - west) * squeeze, north - south) * M_PER_DEG) / RULES_ACROSS;
}

/** A rule is laid side by side in so many lines, each this share of it wide, so that its ends follow a slanting edge. */
const LINES = 6;
export const LINE_SHARE: number = 1 / 4;

/**
 * Lines along the field's passes, cut at its boundary and its holes: rules at an even pitch, each `widthM` wide and made
 * of lines that overlap.
 */
export function rulesOf({ boundary, line, label }: Outline, pitchM: number, widthM: number): LonLat[][] {
  const squeeze = Math.cos((label[1] * Math.PI) / 180);
  const [a, b] = line;
  const length = Math.hypot((b[0] - a[0]) * squeeze, b[1] - a[1]);
  const [east, north] = [((b[0] - a[0]) * squeeze) / length, (b[1] - a[1]) / length];
  const turned = boundary.flat().map((ring) =>
    ring.map(([lon, lat]) => {
      const [x, y] = [(lon - label[0]) * squeeze * M_PER_DEG, (lat - label[1]) * M_PER_DEG];
      return [x * north - y * east, x * east + y * north] as const;
    }),
  );
  const across = turned.flat().map(([x]) => x);
  const rules: LonLat[][] = [];
  const [least, most] = [Math.min(...across), Math.max(...across)];
  for (let n = Math.floor(least / pitchM); n <= Math.ceil(most / pitchM); n++) {
    for (let k = 0; k < LINES; k++)
      layLine(n * pitchM + widthM * (1 - LINE_SHARE) * (k / (LINES - 1) - 1 / 2));
  }
  return rules;

  function layLine(at: number): void {
    const cuts = turned.flatMap((ring) => crossings(ring, 0, at)).sort((p, q) => p - q);
    for (let k = 0; k + 1 < cuts.length; k += 2) {
      rules.push([cuts[k]!, cuts[k + 1]!].map((along) => back(at, along)));
    }
  }

  function back(x: number, y: number): LonLat {
    const [e, n] = [x * north + y * east, -x * east + y * north];
    return [label[0] + e / (squeeze * M_PER_DEG), label[1] + n / M_PER_DEG];
  }
}
