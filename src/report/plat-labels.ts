import { boundsOf, type Point } from "../geo/index.ts";
import type { Plan } from "../plan/index.ts";
import { type DrawnField, passWidthM } from "./drawn-field.ts";
import type { Layer } from "./layers.ts";
import { lineFrame } from "./line-frame.ts";
import { numberText } from "./numbers.ts";
import type { PlatLayout } from "./plat-layout.ts";
import type { Inks } from "./plat-steps.ts";
import { element, linePath, px } from "./svg.ts";
import { colours, lineWeights, textFaces, titleFaces } from "./tokens.ts";

const inkOf = (inks: Inks): string => (inks === "colour" ? colours.ink : colours.black);
const paperOf = (inks: Inks): string => (inks === "colour" ? colours.paper : colours.white);

/** Room that a sample's value needs, px. */
const VALUE_PX = { wide: 25, high: 15 };

/**
 * The samples of a soil layer like soundings on a chart: a dot at every place, its value above it where there is room.
 */
export function sampleValues(field: DrawnField, layer: Layer, layout: PlatLayout, inks: Inks): string {
  const test = layer.id.split("/")[1] as "P" | "K" | "CEC";
  const values = field.checked.samples.map((sample) => sample[test]);
  const decimals = values.some((value) => value !== null && value < 10 && value % 1 !== 0) ? 1 : 0;
  let dots = "";
  const texts: string[] = [];
  const taken: Point[] = [];
  const hasRoom = ([x, y]: Point) =>
    taken.every(([x2, y2]) => Math.abs(x - x2) >= VALUE_PX.wide || Math.abs(y - y2) >= VALUE_PX.high);
  values.forEach((value, i) => {
    if (value === null) return;
    const [x, y] = layout.toPx(field.checked.places[i]!);
    dots += `M${px(x)} ${px(y)}h0`;
    if (!hasRoom([x, y])) return;
    taken.push([x, y]);
    texts.push(element("text", { x, y: y - 5 }, numberText(value, decimals)));
  });
  if (dots === "") return "";
  const dot = (stroke: string, width: number) =>
    element("path", { d: dots, fill: "none", stroke, "stroke-width": width, "stroke-linecap": "round" });
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
  return dot(paperOf(inks), 6) + dot(inkOf(inks), 4) + element("g", group, texts.join(""));
}

/** px a line A-B runs on past the field, and its letters' circles. */
const BEYOND_PX = 16;
const LETTER_PX = 9;

/** The line A-B along the field as dashes and dots, with its letters; empty when it lies off the drawing. */
export function lineAB(field: DrawnField, layout: PlatLayout, inks: Inks): string {
  const frame = lineFrame(field.checked.line);
  const along = outlineAlong(field);
  const beyondM = BEYOND_PX / layout.pxPerM;
  const ends = [along.least - beyondM, along.most + beyondM].map((at) => frame.toPlane([0, at])) as [
    Point,
    Point,
  ];
  const places = ends.map(layout.toPx);
  const isOff = ([x, y]: Point) =>
    x < LETTER_PX || y < LETTER_PX || x > layout.width - LETTER_PX || y > layout.height - LETTER_PX;
  if (places.some(isOff)) return "";
  const path = linePath(ends, layout.toPx);
  const line = (stroke: string, width: number, dashes?: string) =>
    element("path", { d: path, fill: "none", stroke, "stroke-width": width, "stroke-dasharray": dashes });
  const letters = places.map(([x, y], i) => {
    const circle = element("circle", {
      cx: x,
      cy: y,
      r: LETTER_PX,
      fill: paperOf(inks),
      stroke: inkOf(inks),
      "stroke-width": String(lineWeights.boundary),
    });
    const letter = element(
      "text",
      {
        x,
        y: y + 4.5,
        "font-family": textFaces,
        "font-size": 13,
        "font-weight": "bold",
        "text-anchor": "middle",
        fill: inkOf(inks),
      },
      i === 0 ? "A" : "B",
    );
    return circle + letter;
  });
  return line(paperOf(inks), 4) + line(inkOf(inks), lineWeights.critical, "12 3 2 3") + letters.join("");
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

/** Numbers of the passes outside the field at their ends towards A: the outermost, and as many as there is room for. */
export function passNumbers(plan: Plan, field: DrawnField, layout: PlatLayout, inks: Inks): string {
  const frame = lineFrame(field.checked.line);
  const widthM = passWidthM(plan);
  const every = [1, 2, 5, 10, 20, 50, 100].find((n) => n * widthM * layout.pxPerM >= NUMBER_ROOM_PX) ?? 100;
  const starts = new Map<number, number>();
  for (const { pass, alongStartM } of field.passes.pieces) {
    starts.set(pass, Math.min(starts.get(pass) ?? Number.POSITIVE_INFINITY, alongStartM));
  }
  const outer = [Math.min(...starts.keys()), Math.max(...starts.keys())];
  const isClear = (pass: number) =>
    outer.every((one) => Math.abs(one - pass) * widthM * layout.pxPerM >= NUMBER_ROOM_PX);
  const numbers = [...starts]
    .filter(([pass]) => pass !== 0 && (outer.includes(pass) || (pass % every === 0 && isClear(pass))))
    .map(([pass, along]) => {
      const [x, y] = layout.toPx(frame.toPlane([pass * widthM, along - 10 / layout.pxPerM]));
      return element("text", { x, y: y + 4 }, numberText(pass, 0));
    });
  const group = { "font-family": textFaces, "font-size": 12, "text-anchor": "middle", fill: inkOf(inks) };
  return element("g", group, numbers.join(""));
}

/** A word in every hole that has room for it. */
export function holeWords(field: DrawnField, word: string, layout: PlatLayout, inks: Inks): string {
  return field.checked.boundary
    .flatMap((polygon) => polygon.slice(1))
    .flatMap((hole) => {
      const { minX, minY, maxX, maxY } = boundsOf([[hole]]);
      const [wide, high] = [(maxX - minX) * layout.pxPerM, (maxY - minY) * layout.pxPerM];
      if (wide < 8 * word.length || high < 16) return [];
      const [x, y] = layout.toPx([(minX + maxX) / 2, (minY + maxY) / 2]);
      const look = {
        "font-family": titleFaces,
        "font-size": 13,
        "font-style": "italic",
        "text-anchor": "middle",
      };
      return [element("text", { x, y: y + 4, ...look, fill: inkOf(inks) }, word)];
    })
    .join("");
}
