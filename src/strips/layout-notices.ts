import type { Notice } from "../errors/index.ts";
import { containsPoint, type MultiPolygon, multiPolygonArea, type Point } from "../geo/index.ts";
import { acres, counted, M_PER_FT, numberText } from "../units/index.ts";
import { passLines } from "./pass-lines.ts";
import { ASSUMED_TURN_RADIUS_M, type LaidStrips, type RigLayout } from "./strip-layout.ts";
import { tightBends } from "./tight-bends.ts";
import { headlandNeeded, turnBetween } from "./turn-length.ts";

/** What is doubtful about a layout: parts without interior, bends that cannot be driven, a headland too narrow to turn on. */
export const layoutNotices = (laid: LaidStrips, layout: RigLayout): Notice[] => [
  ...(layout.headlandPasses > 0 ? lostParts(laid, layout.boundary) : []),
  ...undrivable(laid, layout),
  ...narrow(layout),
];

const lostParts = ({ interior }: LaidStrips, boundary: MultiPolygon): Notice[] =>
  boundary.flatMap((part, i) => {
    if (boundary.length === 1 && interior.length > 0) return [];
    if (interior.some(([shell]) => containsPoint([part], shell![0]!))) return [];
    const message = `Part ${i + 1} (${acres(multiPolygonArea([part])).toFixed(2)} ac) is all headland: nothing is left inside its headland passes.`;
    return [{ code: "part-all-headland", message, where: placeOf(part[0]![0]!) }];
  });

/** A radius typed says what the rig can follow; otherwise only corners are told. */
const undrivable = (laid: LaidStrips, { guidance, widthM, turnRadiusM }: RigLayout): Notice[] => {
  if (guidance.length === 2) return [];
  const radiusM = turnRadiusM ?? ASSUMED_TURN_RADIUS_M;
  const passes = [
    ...new Set(laid.segments.filter(({ kind }) => kind === "interior").map(({ pass }) => pass)),
  ];
  const bends = tightBends(passLines(laid.interior, guidance, widthM, passes), radiusM);
  if (bends.length === 0) return [];
  const named = bends.slice(0, 5).map(({ pass, place }) => `pass ${pass} at ${placeOf(place)}`);
  const more = bends.length > named.length ? ` and ${bends.length - named.length} more` : "";
  const assumed = turnRadiusM === undefined ? " (assumed)" : "";
  const message = `Inside the bends of the line some passes bend by less than ${feet(radiusM)} ft${assumed} and cannot be driven as laid: ${named.join(", ")}${more}.`;
  return [{ code: "bend-too-tight", message, where: "guidance line" }];
};

/** Only for a radius that was typed: the assumed one would raise doubts about every field. */
const narrow = ({ widthM, headlandPasses, turnRadiusM, pattern }: RigLayout): Notice[] => {
  if (turnRadiusM === undefined || headlandPasses === 0) return [];
  const skipped = pattern === "skip" ? Math.ceil((2 * turnRadiusM) / widthM) : 1;
  const apart = pattern === "every-second" ? 2 : skipped;
  const turn = turnBetween(apart * widthM, turnRadiusM);
  const needed = headlandNeeded(turn, widthM);
  const has = headlandPasses * widthM;
  if (has >= needed) return [];
  const message = `Turns of ${feet(turnRadiusM)} ft radius need ${feet(needed, 1)} ft of headland; ${counted(headlandPasses, "pass", "passes")} ${headlandPasses === 1 ? "is" : "are"} ${feet(has, 1)} ft wide.`;
  return [{ code: "headland-narrow", message, where: "headland" }];
};

const placeOf = ([x, y]: Point): string =>
  `${feet(Math.abs(x))} ft ${x < 0 ? "west" : "east"}, ${feet(Math.abs(y))} ft ${y < 0 ? "south" : "north"} of the middle`;

/** Feet of metres, as rig and radius are typed. */
const feet = (lengthM: number, decimals = 0): string => numberText(lengthM / M_PER_FT, decimals);
