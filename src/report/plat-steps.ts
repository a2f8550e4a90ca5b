import type { Point } from "../geo/index.ts";
import { contour, regionsAbove, surfaceOf } from "./contour.ts";
import type { DrawnField } from "./drawn-field.ts";
import type { Layer } from "./layer.ts";
import { lineFrame } from "./line-frame.ts";
import type { PlatLayout } from "./plat-layout.ts";
import { element, linePath, px, ringPath } from "./svg.ts";
import {
  colours,
  type Inks,
  inkOf,
  lineWeights,
  noneEdge,
  paperOf,
  ramps,
  rulePitchPx,
  ruleShare,
} from "./tokens.ts";

const thinEdge = { stroke: colours.ink2, "stroke-width": String(lineWeights.contour) };
/** Round ground where nothing comes. */
const dottedEdge = {
  stroke: colours.ink,
  "stroke-width": String(noneEdge.width),
  "stroke-dasharray": noneEdge.dashes.join(" "),
};

/** px between the rules along the pass that show a need in black. */
const NEED_PITCH_PX = 8;

/**
 * Flat steps with contours between them: the ground of the least class first, then every region above a limit over
 * it. In black soil tests are level rules, closer for more; needs are rules along the pass, heavier for more.
 * `id` begins the ids of clip paths. To be clipped with the boundary.
 */
export function drawSteps(
  field: DrawnField,
  layer: Layer,
  layout: PlatLayout,
  inks: Inks,
  id: string,
): string {
  const surface = surfaceOf(field.cells.grid, layer.values);
  const { classes } = layer;
  const regions = regionsAbove(surface, classes.limits).map((rings) =>
    rings.map((ring) => ringPath(ring, layout.toPx)).join(""),
  );
  const whole = `M0 0H${px(layout.width)}V${px(layout.height)}H0z`;
  const parts = [whole, ...regions].flatMap((path, k) => {
    if (path === "" || (k < regions.length && path === regions[k])) return [];
    if (inks === "colour") {
      const step = classes.steps[k]!;
      const fill = step < 0 ? colours.paper : ramps[classes.ramp][step]!;
      const edge = classes.hasNone && k === 1 ? dottedEdge : thinEdge;
      return [
        element("path", {
          d: path,
          fill,
          ...(k === 0 ? {} : edge),
        }),
      ];
    }
    return [ruledRegion(field, layer, layout, path, k, `${id}-above-${k}`)];
  });
  return parts.join("");
}

/** One region in black: white, then its rules, then a thin contour. */
function ruledRegion(
  field: DrawnField,
  layer: Layer,
  layout: PlatLayout,
  path: string,
  k: number,
  id: string,
): string {
  const step = layer.classes.steps[k]!;
  const ground = element("path", { d: path, fill: colours.white });
  const edge =
    k === 0 ? "" : element("path", { d: path, fill: "none", stroke: colours.black, "stroke-width": "0.6" });
  if (step < 0) return ground + edge;
  const [rules, width] =
    layer.classes.ramp === "soil"
      ? [levelRules(layout, rulePitchPx[step]!), 1]
      : [passRulesOver(field, layout), ruleShare[step]! * NEED_PITCH_PX];
  const drawn = element("path", {
    d: rules,
    fill: "none",
    stroke: colours.black,
    "stroke-width": width,
    "clip-path": `url(#${id})`,
  });
  return `<clipPath id="${id}">${element("path", { d: path })}</clipPath>${ground}${drawn}${edge}`;
}

/** Level rules over the whole plat, on half pixels so that a rule of 1 px is sharp. */
function levelRules(layout: PlatLayout, pitch: number): string {
  let path = "";
  for (let y = pitch; y < layout.height; y += pitch) path += `M0 ${y - 0.5}H${px(layout.width)}`;
  return path;
}

/** Rules along the line A-B over the whole plat. */
function passRulesOver(field: DrawnField, layout: PlatLayout): string {
  const frame = lineFrame(field.checked.line);
  const corners: Point[] = [
    [0, 0],
    [layout.width, 0],
    [layout.width, layout.height],
    [0, layout.height],
  ];
  const seen = corners.map((corner) => frame.toLine(layout.toPlane(corner)));
  const across = seen.map(([a]) => a);
  const along = seen.map(([, b]) => b);
  const pitchM = NEED_PITCH_PX / layout.pxPerM;
  let path = "";
  for (let n = Math.ceil(Math.min(...across) / pitchM); n * pitchM < Math.max(...across); n++) {
    path += linePath(
      [frame.toPlane([n * pitchM, Math.min(...along)]), frame.toPlane([n * pitchM, Math.max(...along)])],
      layout.toPx,
    );
  }
  return path;
}

/** The critical level as a broken line in a paper casing; empty where the layer has none. */
export function drawCritical(field: DrawnField, layer: Layer, layout: PlatLayout, inks: Inks): string {
  if (!layer.critical) return "";
  const { ppm } = layer.critical;
  const gap = layer.values.map((value, i) => value - ppm[i]!);
  const path = contour(surfaceOf(field.cells.grid, gap), 0)
    .map((ring) => ringPath(ring, layout.toPx))
    .join("");
  if (path === "") return "";
  const casing = paperOf(inks);
  const ink = inkOf(inks);
  return (
    element("path", { d: path, fill: "none", stroke: casing, "stroke-width": lineWeights.critical + 2 }) +
    element("path", {
      d: path,
      fill: "none",
      stroke: ink,
      "stroke-width": lineWeights.critical,
      "stroke-dasharray": "9 3",
    })
  );
}
