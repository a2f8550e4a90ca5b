import type { Point } from "../geo/index.ts";
import { type Plan, rigWidthM } from "../plan/index.ts";
import { COUNTS_M2 } from "../strips/index.ts";
import { numberText } from "../units/index.ts";
import type { DrawnField } from "./drawn-field.ts";
import type { Layer } from "./layer.ts";
import { lineFrame } from "./line-frame.ts";
import { passPaths } from "./pass-paths.ts";
import type { PlatLayout } from "./plat-layout.ts";
import { element, linePath, px } from "./svg.ts";
import { type Inks, inkOf, lineWeights, paperOf, textFaces } from "./tokens.ts";

/** Room that a sample's value needs, px. */
const VALUE_PX = { wide: 25, high: 15 };

/**
 * The samples of a soil layer like soundings on a chart: a dot at every place, its value above it where there is room;
 * a ring and brackets where it is left out of the map.
 */
export function sampleValues(field: DrawnField, layer: Layer, layout: PlatLayout, inks: Inks): string {
  const test = layer.id.split("/")[1] as "P" | "K" | "CEC";
  const values = field.checked.samples.map((sample) => sample[test]);
  const decimals = values.some((value) => value !== null && value < 10 && value % 1 !== 0) ? 1 : 0;
  const off = (field.field.switchedOff ?? []).filter((one) => one.test === test);
  const leftOut = new Set(off.map(({ sample }) => sample));
  let dots = "";
  let rings = "";
  const texts: string[] = [];
  const taken: Point[] = [];
  const hasRoom = ([x, y]: Point) =>
    taken.every(([x2, y2]) => Math.abs(x - x2) >= VALUE_PX.wide || Math.abs(y - y2) >= VALUE_PX.high);
  values.forEach((value, i) => {
    if (value === null) return;
    const [x, y] = layout.toPx(field.checked.places[i]!);
    const isOff = leftOut.has(field.checked.samples[i]!.id);
    if (isOff) rings += `M${px(x)} ${px(y)}h0`;
    else dots += `M${px(x)} ${px(y)}h0`;
    if (!hasRoom([x, y])) return;
    taken.push([x, y]);
    const text = numberText(value, decimals);
    texts.push(element("text", { x, y: y - 5 }, isOff ? `(${text})` : text));
  });
  if (dots + rings === "") return "";
  const dot = (d: string, stroke: string, width: number) =>
    d === ""
      ? ""
      : element("path", { d, fill: "none", stroke, "stroke-width": width, "stroke-linecap": "round" });
  const group = {
    "font-family": textFaces,
    "font-size": 13,
    "font-weight": "bold",
    "text-anchor": "middle",
    fill: inkOf(inks),
    stroke: paperOf(inks),
    "stroke-width": inks === "colour" ? 2.4 : 5,
    "stroke-linejoin": "round",
    "paint-order": "stroke",
  };
  const full = dot(dots, paperOf(inks), 6) + dot(dots, inkOf(inks), 4);
  const hollow = dot(rings, inkOf(inks), 8) + dot(rings, paperOf(inks), 5);
  return full + hollow + element("g", group, texts.join(""));
}

/** px a line A-B runs on past the field, and its letters' circles. */
const BEYOND_PX = 16;
const LETTER_PX = 9;

const isOff = ([x, y]: Point, layout: PlatLayout): boolean =>
  x < LETTER_PX || y < LETTER_PX || x > layout.width - LETTER_PX || y > layout.height - LETTER_PX;

/** A line A-B as it is drawn and the places of its letters, px; null where there is no room for it. */
function drawnLine(field: DrawnField, layout: PlatLayout): { line: readonly Point[]; ends: Point[] } | null {
  const { guidance } = field.checked;
  const isCurve = guidance.length > 2;
  const line = isCurve ? guidance : alongField(field, layout);
  const ends = [line[0]!, line.at(-1)!].map(layout.toPx);
  return !isCurve && ends.some((end) => isOff(end, layout)) ? null : { line, ends };
}

/** Where the letters of the line A-B stand, px. */
export const letterPlaces = (field: DrawnField, layout: PlatLayout): Point[] =>
  (drawnLine(field, layout)?.ends ?? []).filter((end) => !isOff(end, layout));

/** The guidance line as dashes and dots, with letters at its ends: a straight one along the field, a curve as it is. */
export function lineAB(field: DrawnField, layout: PlatLayout, inks: Inks): string {
  const found = drawnLine(field, layout);
  if (found === null) return "";
  const { line, ends } = found;
  const path = linePath(line, layout.toPx);
  const drawn = (stroke: string, width: number, dashes?: string) =>
    element("path", { d: path, fill: "none", stroke, "stroke-width": width, "stroke-dasharray": dashes });
  const letters = ends.map(([x, y], i) =>
    isOff([x, y], layout) ? "" : inCircle(x, y, i === 0 ? "A" : "B", LETTER_PX, inks),
  );
  return drawn(paperOf(inks), 4) + drawn(inkOf(inks), lineWeights.critical, "12 3 2 3") + letters.join("");
}

function alongField(field: DrawnField, layout: PlatLayout): Point[] {
  const frame = lineFrame(field.checked.line);
  const along = outlineAlong(field);
  const beyondM = BEYOND_PX / layout.pxPerM;
  return [along.least - beyondM, along.most + beyondM].map((at) => frame.toPlane([0, at]));
}

/** A letter or a number in a circle. */
export function inCircle(x: number, y: number, text: string, radius: number, inks: Inks): string {
  const circle = element("circle", {
    cx: x,
    cy: y,
    r: radius,
    fill: paperOf(inks),
    stroke: inkOf(inks),
    "stroke-width": String(lineWeights.boundary),
  });
  const look = {
    "font-family": textFaces,
    "font-size": radius < 9 ? 11 : 13,
    "font-weight": "bold",
    "text-anchor": "middle",
    fill: inkOf(inks),
  };
  return circle + element("text", { x, y: y + (radius < 9 ? 4 : 4.5), ...look }, text);
}

function outlineAlong(field: DrawnField): { least: number; most: number } {
  const frame = lineFrame(field.checked.line);
  let [least, most] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (const polygon of field.checked.boundary) {
    for (const point of polygon[0]!) {
      const [, along] = frame.toLine(point);
      [least, most] = [Math.min(least, along), Math.max(most, along)];
    }
  }
  return { least, most };
}

/** px that a pass number needs beside its neighbour. */
const NUMBER_ROOM_PX = 26;

/** px that a pass number stands off the end of its pass. */
const NUMBER_OFF_PX = 10;

/** Numbers of the passes at their ends towards A: the outermost, and as many as there is room for. */
export function passNumbers(plan: Plan, field: DrawnField, layout: PlatLayout, inks: Inks): string {
  const { passes } = field;
  const widthM = rigWidthM(plan);
  const every = [1, 2, 5, 10, 20, 50, 100].find((n) => n * widthM * layout.pxPerM >= NUMBER_ROOM_PX) ?? 100;
  const starts = new Map<number, number>();
  passes.pieces.forEach(({ kind, pass, alongStartM, areaM2 }, k) => {
    if (kind === "headland" || areaM2 < COUNTS_M2) return;
    const first = starts.get(pass);
    if (first === undefined || alongStartM < passes.pieces[first]!.alongStartM) starts.set(pass, k);
  });
  if (starts.size === 0) return "";
  const paths = passPaths(passes);
  const outer = [Math.min(...starts.keys()), Math.max(...starts.keys())];
  const isClear = (pass: number) =>
    outer.every((one) => Math.abs(one - pass) * widthM * layout.pxPerM >= NUMBER_ROOM_PX);
  const isStraight = passes.along.length === 2;
  const numbers = [...starts]
    .filter(([pass]) => pass !== 0 && (outer.includes(pass) || (pass % every === 0 && isClear(pass))))
    .sort(([a], [b]) => Number(outer.includes(b)) - Number(outer.includes(a)));
  const taken: Point[] = [];
  const texts = numbers.flatMap(([pass, k]) => {
    const { path } = paths[k]!;
    const [from, to] = [layout.toPx(path[0]!), layout.toPx(path[1]!)];
    const length = Math.hypot(to[0] - from[0], to[1] - from[1]) || 1;
    const headlandPx = passes.headlandPasses * widthM * layout.pxPerM;
    const off = NUMBER_OFF_PX + headlandPx;
    const x = from[0] - (off * (to[0] - from[0])) / length;
    const y = from[1] - (off * (to[1] - from[1])) / length;
    const isFree = taken.every(([x2, y2]) => Math.hypot(x - x2, y - y2) >= NUMBER_ROOM_PX * 0.75);
    if (!isStraight && !isFree) return [];
    taken.push([x, y]);
    return [element("text", { x, y: y + 4 }, numberText(pass, 0))];
  });
  const group = {
    "font-family": textFaces,
    "font-size": 12,
    "text-anchor": "middle",
    fill: inkOf(inks),
    stroke: paperOf(inks),
    "stroke-width": 3,
    "stroke-linejoin": "round",
    "paint-order": "stroke",
  };
  return element("g", group, texts.join(""));
}
