import { M_PER_FT, numberText } from "../units/index.ts";
import { type UnitSystem, unitWords } from "./numbers.ts";
import { element, px } from "./svg.ts";
import { colours, type Inks, inkOf, lineWeights, textFaces, titleFaces } from "./tokens.ts";

/** Width of the neat line with its graduation, px. */
const NEAT_LINE_PX = 6;

/** Sensible lengths, in the unit shown. */
const lengths = [1, 2, 5].flatMap((n) => [1, 10, 100, 1_000, 10_000].map((power) => n * power));

/** The longest sensible length that is not over so many px, in feet or metres, with its px. */
export function scaleLength(
  pxPerM: number,
  mostPx: number,
  system: UnitSystem = "us",
): { readonly length: number; readonly px: number } {
  const pxPerUnit = system === "us" ? pxPerM * M_PER_FT : pxPerM;
  const fitting = lengths.filter((length) => length * pxPerUnit <= mostPx);
  const length = fitting.length > 0 ? Math.max(...fitting) : 1;
  return { length, px: length * pxPerUnit };
}

/** A plat's frame: two lines, and between them bars that alternate at every `graduationPx`, from the middle out. */
export function neatLine(width: number, height: number, graduationPx: number, inks: Inks = "colour"): string {
  const ink = inkOf(inks);
  const box = (inset: number, weight: number) =>
    element("rect", {
      x: inset,
      y: inset,
      width: width - 2 * inset,
      height: height - 2 * inset,
      fill: "none",
      stroke: ink,
      "stroke-width": String(weight),
    });
  const bars = (length: number) => {
    const found: (readonly [number, number])[] = [];
    const first = Math.floor(-length / 2 / graduationPx);
    for (let n = first; n * graduationPx < length / 2; n++) {
      if (n % 2 !== 0) continue;
      const from = Math.max(length / 2 + n * graduationPx, NEAT_LINE_PX);
      const to = Math.min(length / 2 + (n + 1) * graduationPx, length - NEAT_LINE_PX);
      if (to > from) found.push([from, to]);
    }
    return found;
  };
  const middle = NEAT_LINE_PX / 2 + 0.5;
  const level = bars(width).flatMap(([from, to]) =>
    [middle, height - middle].map((y) => `M${px(from)} ${px(y)}H${px(to)}`),
  );
  const upright = bars(height).flatMap(([from, to]) =>
    [middle, width - middle].map((x) => `M${px(x)} ${px(from)}V${px(to)}`),
  );
  const graduation = element("path", {
    d: [...level, ...upright].join(""),
    fill: "none",
    stroke: ink,
    "stroke-width": "2.4",
  });
  return box(0.8, 1.6) + graduation + box(NEAT_LINE_PX + 0.5, lineWeights.thin);
}

/** `x` is the middle of the arrow, `y` its top: 56 px high, 16 wide. */
export function northArrow(x: number, y: number, inks: Inks = "colour"): string {
  const ink = inkOf(inks);
  return (
    element(
      "text",
      { x, y: y + 11, "font-family": titleFaces, "font-size": 14, "text-anchor": "middle", fill: ink },
      "N",
    ) +
    element("path", { d: `M${px(x)} ${px(y + 15)}l5.5 21h-11z`, fill: ink }) +
    element("path", {
      d: `M${px(x - 8)} ${px(y + 36)}h16m-8 0v20`,
      fill: "none",
      stroke: ink,
      "stroke-width": String(lineWeights.medium),
    })
  );
}

/** `x` is the left end, `y` the top: 24 px high, `mostPx` wide at most. Four parts, the first filled. */
export function scaleBar(
  x: number,
  y: number,
  pxPerM: number,
  mostPx: number,
  system: UnitSystem = "us",
  inks: Inks = "colour",
): string {
  const ink = inkOf(inks);
  const { length, px: long } = scaleLength(pxPerM, mostPx, system);
  const label = (at: number, anchor: string, text: string) =>
    element(
      "text",
      { x: at, y: y + 11, "font-family": textFaces, "font-size": 12, "text-anchor": anchor, fill: ink },
      text,
    );
  const filled = [0, 2].map((part) =>
    element("rect", { x: x + (part * long) / 4, y: y + 16, width: long / 4, height: 4, fill: ink }),
  );
  const frame = element("rect", {
    x,
    y: y + 16,
    width: long,
    height: 4,
    fill: "none",
    stroke: ink,
    "stroke-width": String(lineWeights.thin),
  });
  const end = `${numberText(length, 0)} ${unitWords(system).length}`;
  return label(x, "start", "0") + label(x + long, "end", end) + filled.join("") + frame;
}

/** A ring with a paper casing around a place, px. */
export function marker(x: number, y: number, inks: Inks = "colour"): string {
  const ring = (stroke: string, width: number) =>
    element("circle", { cx: x, cy: y, r: 7, fill: "none", stroke, "stroke-width": String(width) });
  const [casing, ink, signal] =
    inks === "colour"
      ? [colours.paper, colours.ink, colours.flag]
      : [colours.white, colours.black, colours.black];
  return ring(casing, 6) + ring(ink, 3.6) + ring(signal, 2);
}
