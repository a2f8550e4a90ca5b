import { drawing, textIn } from "./chart-parts.ts";
import type { Layer } from "./layer.ts";
import type { ChartOptions } from "./leave-one-out-chart.ts";
import { numberText, unitWords } from "./numbers.ts";
import { element, px } from "./svg.ts";
import { colours, lineWeights, ramps } from "./tokens.ts";

const MARGIN = { left: 8, top: 30, right: 8, bottom: 34 };

/**
 * Area of each class as upright bars in the colours of the steps, least at the left, areas written on top and
 * limits below; the critical level crosses the bars where one level holds for the field.
 */
export function histogramChart(layer: Layer, options: ChartOptions): string {
  const { width, height } = options;
  const isColour = options.inks !== "black";
  const ink = isColour ? colours.ink : colours.black;
  const { steps, ramp, labels, limits } = layer.classes;
  const most = Math.max(...layer.classAreas, 1e-9);
  const each = (width - MARGIN.left - MARGIN.right) / labels.length;
  const foot = height - MARGIN.bottom;
  const text = textIn(ink);
  const bars = layer.classAreas.map((area, k) => {
    const high = ((foot - MARGIN.top) * area) / most;
    const step = steps[k]!;
    const x = MARGIN.left + k * each;
    const fill = isColour ? (step < 0 ? colours.paper : ramps[ramp][step]!) : colours.white;
    const bar = element("rect", {
      x: x + 1,
      y: foot - high,
      width: each - 2,
      height: high,
      fill,
      stroke: ink,
      "stroke-width": String(lineWeights.thin),
    });
    return bar + text(x + each / 2, foot - high - 4, numberText(area, 1));
  });
  const decimals = labels.some((label) => /\.\d/.test(label)) ? 1 : 0;
  const firstLimit = layer.classes.hasNone ? 1 : 0;
  const marks = limits
    .map((limit, k) => text(MARGIN.left + (k + 1) * each, foot + 14, numberText(limit, decimals)))
    .slice(firstLimit);
  if (layer.classes.hasNone) marks.unshift(text(MARGIN.left + each / 2, foot + 14, "none"));
  const unit = `${layer.unit}; bars in ${unitWords(layer.system).area}`;
  const parts = [
    ...bars,
    element("path", {
      d: `M${px(MARGIN.left)} ${px(foot)}H${px(width - MARGIN.right)}`,
      stroke: ink,
      "stroke-width": String(lineWeights.axis),
    }),
    critical(layer, each, foot, ink),
    ...marks,
    text(width - MARGIN.right, height - 5, unit, "end"),
  ];
  const title = `${layer.title}: area of each class, ${layer.unit}`;
  return drawing({ width, height }, title, parts.join(""));
}

function critical(layer: Layer, each: number, foot: number, ink: string): string {
  const level = layer.critical?.everywhere;
  if (level === null || level === undefined) return "";
  const x = MARGIN.left + placeAmongClasses(layer, level) * each;
  return element("path", {
    d: `M${px(x)} ${px(MARGIN.top - 14)}V${px(foot + 2)}`,
    stroke: ink,
    "stroke-width": lineWeights.critical,
    "stroke-dasharray": "9 3",
  });
}

/** Where a value stands on a scale of equal classes: 1.5 is the middle of the second class. */
export function placeAmongClasses(layer: Layer, value: number): number {
  const { limits } = layer.classes;
  const k = limits.findIndex((limit) => value <= limit);
  const index = k < 0 ? limits.length : k;
  const from = limits[index - 1] ?? Math.min(layer.least, value);
  const to = limits[index] ?? Math.max(layer.most, value);
  return index + (to > from ? (value - from) / (to - from) : 0.5);
}
