import { numberText } from "../units/index.ts";
import { dotShare } from "./broadcast-dots.ts";
import { drawing } from "./chart-parts.ts";
import type { Layer } from "./layer.ts";
import { unitWords } from "./numbers.ts";
import { DOT_EDGE_PX } from "./plat-passes.ts";
import { element, escapeText, px } from "./svg.ts";
import {
  colours,
  type Inks,
  inkOf,
  lineWeights,
  noneEdge,
  paperOf,
  passShare,
  ramps,
  rulePitchPx,
  ruleShare,
  textFaces,
  titleFaces,
} from "./tokens.ts";

/** Size, inks and frame of a legend. */
export interface LegendOptions {
  /** px, 196 unless given. */
  readonly width?: number;
  readonly inks?: Inks;
  /** Begins every id inside; unique in the document. */
  readonly id: string;
  /** Frame around it; on unless false. */
  readonly frame?: boolean;
}

const ROW_PX = 24;
const HEAD_PX = 48;
const SWATCH = { width: 26, height: 20 };
const PAD_PX = 10;
const LABEL_LEFT_PX = 34;
/** Room for a label, and for one with the guide's name of the class. */
const LABEL_PX = 84;
const WIDE_LABEL_PX = 104;
const NAMED_LABEL_PX = 164;
const WIDE_FROM_PX = 230;
const AREA_PX = 38;

/** Height of the legend, px. */
const legendHeight = (layer: Layer): number =>
  HEAD_PX + layer.classes.labels.length * ROW_PX + (layer.critical ? 26 : 8);

/**
 * The legend as a histogram: a row a class, most on top, with swatch as on the plat, limits, a bar by area and
 * the area to a tenth. The critical level is a broken line across the rows where it falls between two classes,
 * and words below.
 */
export function legend(layer: Layer, options: LegendOptions): string {
  const width = options.width ?? 196;
  const inks = options.inks ?? "colour";
  const height = legendHeight(layer);
  const ink = inkOf(inks);
  const second = inks === "colour" ? colours.ink2 : colours.black;
  const { labels, names } = layer.classes;
  const most = Math.max(...layer.classAreas);
  const pad = options.frame === false ? 0 : PAD_PX;
  const labelLeft = pad + LABEL_LEFT_PX;
  const barLeft = labelLeft + labelRoom(names.length > 0, width);
  const barRoom = width - barLeft - AREA_PX - pad;
  const text = (x: number, y: number, words: string, more: Record<string, string | number> = {}) =>
    element(
      "text",
      { x, y, "font-family": textFaces, "font-size": 13, fill: ink, ...more },
      escapeText(words),
    );
  const rows = labels.map((label, k) => {
    const y = HEAD_PX + (labels.length - 1 - k) * ROW_PX;
    const area = layer.classAreas[k]!;
    const words = names[k] ? `${label} ${names[k]}` : label;
    const bar =
      most > 0 && area > 0 && barRoom > 8
        ? element("rect", { x: barLeft, y: y + 4, width: (barRoom * area) / most, height: 12, fill: second })
        : "";
    return (
      swatch(layer, k, pad, y, inks, `${options.id}-swatch-${k}`) +
      text(labelLeft, y + 15, words) +
      bar +
      text(width - pad, y + 15, numberText(area, 1), { "text-anchor": "end" })
    );
  });
  const small = { "font-size": 12, fill: second };
  const parts = [
    options.frame === false
      ? ""
      : element("rect", {
          x: 0.5,
          y: 0.5,
          width: width - 1,
          height: height - 1,
          fill: paperOf(inks),
          stroke: ink,
          "stroke-width": String(lineWeights.thin),
        }),
    text(pad, 20, layer.title, { "font-family": titleFaces, "font-weight": "bold", "font-size": 14 }),
    text(pad, 38, layer.unit, small),
    text(width - pad, 38, layer.system === "us" ? "acres" : unitWords(layer.system).area, {
      ...small,
      "text-anchor": "end",
    }),
    ...rows,
    criticalLine(layer, width, ink),
    layer.critical
      ? text(pad, height - 9, `critical level ${layer.critical.text}${whereCritical(layer)}`, small)
      : "",
  ];
  const title = `${layer.title}, ${layer.unit}, area of each class`;
  return drawing({ width, height }, title, parts.join(""));
}

const labelRoom = (isNamed: boolean, width: number): number =>
  isNamed ? NAMED_LABEL_PX : width < WIDE_FROM_PX ? LABEL_PX : WIDE_LABEL_PX;

/** Broken, at its place between the rows; only where one level holds for the whole field. */
function criticalLine(layer: Layer, width: number, ink: string): string {
  const level = layer.critical?.everywhere;
  if (level === null || level === undefined || sideOf(layer) !== "both") return "";
  const y = HEAD_PX - 2 + (layer.classes.labels.length - placeAmongClasses(layer, level)) * ROW_PX;
  const path = `M6 ${px(y)}H${px(width - 6)}`;
  return element("path", {
    d: path,
    fill: "none",
    stroke: ink,
    "stroke-width": lineWeights.critical,
    "stroke-dasharray": "9 3",
  });
}

/** On which side of one critical level the field lies; `both` also where levels differ within it. */
function sideOf({ critical, least, most }: Layer): "above" | "below" | "both" {
  const level = critical?.everywhere;
  if (level === null || level === undefined) return "both";
  return least >= level ? "above" : most < level ? "below" : "both";
}

/** The plat has a line only where the field lies on both sides of the level. */
function whereCritical(layer: Layer): string {
  const side = sideOf(layer);
  return side === "both" ? ", broken line" : `, all ${side}`;
}

/** A class's swatch alone, as a drawing; `id` begins the ids inside and is unique in the document. */
export const classSwatch = (layer: Layer, k: number, id: string): string =>
  drawing(SWATCH, layer.classes.labels[k]!, swatch(layer, k, 0, 0, "colour", `${id}-${k}`));

/** Where a value stands on a scale of equal classes: 1.5 is the middle of the second class. */
function placeAmongClasses(layer: Layer, value: number): number {
  const { limits } = layer.classes;
  const k = limits.findIndex((limit) => value <= limit);
  const index = k < 0 ? limits.length : k;
  const from = limits[index - 1] ?? Math.min(layer.least, value);
  const to = limits[index] ?? Math.max(layer.most, value);
  return index + (to > from ? (value - from) / (to - from) : 0.5);
}

/** A class as it looks on the plat. */
function swatch(layer: Layer, k: number, x: number, y: number, inks: Inks, id: string): string {
  const step = layer.classes.steps[k]!;
  const ink = inkOf(inks);
  const { width, height } = SWATCH;
  const box = (fill: string) =>
    element("rect", { x, y, width, height, fill, stroke: ink, "stroke-width": String(lineWeights.thin) });
  const ground = inks === "colour" ? colours.sheet : colours.white;
  const ramp = ramps[layer.classes.ramp];
  if (layer.draws === "steps" && inks === "colour") return step < 0 ? bare(x, y) : box(ramp[step]!);
  if (step < 0) {
    const dotted = element("path", {
      d: `M${px(x)} ${px(y + height / 2)}h${width}`,
      stroke: ink,
      "stroke-width": String(lineWeights.hairline),
      "stroke-dasharray": "1 4",
    });
    return box(ground) + (layer.draws === "passes" ? dotted : "");
  }
  const colour = inks === "colour" ? ramp[step]! : colours.black;
  const clip = `<clipPath id="${escapeText(id)}">${element("rect", { x, y, width, height })}</clipPath>`;
  const sign = (stroke: string, strokeWidth: number) =>
    element("path", {
      d: signs(layer, step, x, y),
      fill: "none",
      stroke,
      "stroke-width": strokeWidth,
      "clip-path": `url(#${id})`,
      "stroke-linecap": layer.draws === "dots" ? "round" : undefined,
    });
  const edge = inks === "colour" ? colours.ink2 : colours.black;
  const isLight = step <= 1;
  const weight = weightOf(layer, step, inks);
  return [
    clip,
    element("rect", { x, y, width, height, fill: ground }),
    isLight && layer.draws === "dots" && inks === "colour" ? sign(edge, weight + DOT_EDGE_PX) : "",
    sign(colour, weight),
    isLight && layer.draws === "passes" ? sign(edge, lineWeights.hairline) : "",
    box("none"),
  ].join("");
}

/** Where nothing comes: bare paper in a dotted edge. */
const bare = (x: number, y: number): string =>
  element("rect", {
    x: x + 0.6,
    y: y + 0.6,
    width: SWATCH.width - 1.2,
    height: SWATCH.height - 1.2,
    fill: colours.paper,
    stroke: colours.ink,
    "stroke-width": String(noneEdge.width),
    "stroke-dasharray": noneEdge.dashes.join(" "),
  });

/** px between the rules or dots of a swatch. */
const RULE_PX = 9;
const DOT_PX = 9;

function signs(layer: Layer, step: number, x: number, y: number): string {
  const { width, height } = SWATCH;
  let path = "";
  if (layer.draws === "dots") {
    for (let row = 0; row < 3; row++) {
      for (let dot = 0; dot < 4; dot++) {
        path += `M${px(x + 3 + DOT_PX * (dot + (row % 2) / 2))} ${px(y + 1.5 + row * 7.5)}h0`;
      }
    }
  } else if (layer.draws === "steps" && layer.classes.ramp === "soil") {
    const pitch = rulePitchPx[step]!;
    for (let at = Math.min(pitch, height / 2); at < height; at += pitch) {
      path += `M${px(x)} ${px(y + Math.round(at) - 0.5)}h${width}`;
    }
  } else {
    for (let at = RULE_PX / 2; at < width; at += RULE_PX) path += `M${px(x + at)} ${px(y)}v${height}`;
  }
  return path;
}

function weightOf(layer: Layer, step: number, inks: Inks): number {
  if (layer.draws === "dots") return 2 * DOT_PX * dotShare(step);
  if (layer.draws === "steps" && layer.classes.ramp === "soil") return 1;
  return RULE_PX * (inks === "colour" ? passShare(step) : ruleShare[step]!);
}
