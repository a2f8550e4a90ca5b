import type { Point } from "../geo/index.ts";
import type { Plan } from "../plan/index.ts";
import { drawing } from "./chart-parts.ts";
import type { DrawnField } from "./drawn-field.ts";
import type { Layer } from "./layer.ts";
import { letterPlaces, lineAB, passNumbers, sampleValues } from "./plat-labels.ts";
import { type Inset, type PlatLayout, platLayout, usualInset } from "./plat-layout.ts";
import { marker, neatLine, northArrow, scaleBar, scaleLength } from "./plat-marks.ts";
import { workingMarks } from "./plat-order.ts";
import { drawDots, drawPasses } from "./plat-passes.ts";
import { drawCritical, drawSteps } from "./plat-steps.ts";
import { areaPath, element, escapeText } from "./svg.ts";
import { type Inks, inkOf, lineWeights, paperOf } from "./tokens.ts";

/** Size, inks and marks of a plat. */
export interface PlatOptions {
  /** px. */
  readonly width: number;
  readonly height: number;
  /** Begins every id inside; unique in the document that holds the drawing. */
  readonly id: string;
  /** `black`: black alone tells everything, for print. */
  readonly inks?: Inks;
  readonly inset?: Inset;
  /** Frame with its graduation; on unless false. */
  readonly frame?: boolean;
  /** North arrow and scale bar; on unless false. */
  readonly scale?: boolean;
  /** Values of the samples on a soil layer; on unless false. */
  readonly samples?: boolean;
  readonly lineAB?: boolean;
  readonly passNumbers?: boolean;
  /** Arrows and numbers of blocks: the order the passes are worked in. */
  readonly workingOrder?: boolean;
  /** A place to ring, metres in the field's plane. */
  readonly marker?: Point;
  /** Places that the north arrow keeps clear of besides the letters of the line, metres in the field's plane. */
  readonly keepClear?: readonly Point[];
}

/** What the drawing's `toPx` is, for whoever lays something over it. */
export function layoutOf(field: DrawnField, options: PlatOptions): PlatLayout {
  return platLayout(field.checked.boundary, { ...options, inset: insetOf(options) });
}

function insetOf(options: PlatOptions): Inset {
  if (options.inset) return options.inset;
  const { left, top, right, bottom } = usualInset;
  const more = options.lineAB || options.passNumbers ? 20 : 0;
  return {
    left: left + more,
    top: top + more,
    right: options.scale === false ? left + more : right + more,
    bottom: options.scale === false ? top + more : bottom + more,
  };
}

/**
 * A field's plat as one SVG: ground, steps or passes or dots, boundary, labels, scale, north, neat line. Looks are
 * attributes alone, so that it may stand in a page that allows no inline style. Same input, same text.
 */
export function plat(plan: Plan, field: DrawnField, layer: Layer, options: PlatOptions): string {
  const { width, height, id } = options;
  const inks = options.inks ?? "colour";
  const layout = layoutOf(field, options);
  const boundary = areaPath(field.checked.boundary, layout.toPx);
  const inside = drawLayer(plan, field, layer, layout, inks, options);
  const clip = `<clipPath id="${escapeText(id)}-field">${element("path", { d: boundary, "clip-rule": "evenodd" })}</clipPath>`;
  const parts = [
    element("rect", { width, height, fill: paperOf(inks) }),
    clip,
    element("g", { "clip-path": `url(#${id}-field)` }, inside),
    element("path", {
      d: boundary,
      fill: "none",
      stroke: inkOf(inks),
      "stroke-width": String(lineWeights.boundary),
      "stroke-linejoin": "round",
    }),
    options.passNumbers ? passNumbers(plan, field, layout, inks) : "",
    options.workingOrder ? workingMarks(field, layout, inks) : "",
    options.lineAB ? lineAB(field, layout, inks) : "",
    layer.draws === "steps" && layer.id.startsWith("soil/") && options.samples !== false
      ? sampleValues(field, layer, layout, inks)
      : "",
    options.marker ? marker(...layout.toPx(options.marker), inks) : "",
    surround(layout, layer, options, inks, marksOf(field, layout, options)),
  ];
  const title = `${field.field.name}: ${layer.title}, ${layer.unit}`;
  return drawing({ width, height }, title, parts.join(""));
}

function drawLayer(
  plan: Plan,
  field: DrawnField,
  layer: Layer,
  layout: PlatLayout,
  inks: Inks,
  options: PlatOptions,
): string {
  if (layer.draws === "passes") return drawPasses(plan, field, layer, layout, inks);
  if (layer.draws === "dots") return drawDots(plan, field, layer, layout, inks);
  return drawSteps(field, layer, layout, inks, options.id) + drawCritical(field, layer, layout, inks);
}

const SCALE_MOST_PX = 200;

/** Middle of the north arrow from the right edge, its top from the bottom where nothing is in its way, px. */
const ARROW_PX = { right: 32, usual: 96, wide: 16, high: 56 };
/** px between the middle of a mark and what stands beside it. */
const MARK_PX = 12;

/** Letters and stops, px. */
const marksOf = (field: DrawnField, layout: PlatLayout, options: PlatOptions): Point[] => [
  ...(options.lineAB ? letterPlaces(field, layout) : []),
  ...(options.keepClear ?? []).map(layout.toPx),
];

/** Top of the north arrow: as usual above the scale bar, or the lowest place at the right edge that no mark is in the way of. */
function arrowTop({ width, height }: PlatLayout, marks: readonly Point[]): number {
  const usual = height - ARROW_PX.usual;
  const isClear = (top: number): boolean =>
    marks.every(
      ([x, y]) =>
        Math.abs(x - (width - ARROW_PX.right)) >= ARROW_PX.wide / 2 + MARK_PX ||
        y <= top - MARK_PX ||
        y >= top + ARROW_PX.high + MARK_PX,
    );
  for (let top = usual; top >= MARK_PX; top--) if (isClear(top)) return top;
  return usual;
}

function surround(
  layout: PlatLayout,
  layer: Layer,
  options: PlatOptions,
  inks: Inks,
  marks: readonly Point[],
): string {
  const { width, height, pxPerM } = layout;
  const mostPx = Math.min(SCALE_MOST_PX, width / 3);
  const { px: longPx } = scaleLength(pxPerM, mostPx, layer.system);
  const scale =
    options.scale === false
      ? ""
      : northArrow(width - ARROW_PX.right, arrowTop(layout, marks), inks) +
        scaleBar(width - 24 - longPx, height - 38, pxPerM, mostPx, layer.system, inks);
  return scale + (options.frame === false ? "" : neatLine(width, height, longPx / 2, inks));
}
