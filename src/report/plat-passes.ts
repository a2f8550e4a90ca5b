import type { MultiPolygon, Point } from "../geo/index.ts";
import { type Plan, rigWidthM } from "../plan/index.ts";
import { broadcastDots } from "./broadcast-dots.ts";
import type { DrawnField } from "./drawn-field.ts";
import type { Layer } from "./layer.ts";
import { lineFrame } from "./line-frame.ts";
import { passPaths } from "./pass-paths.ts";
import { type PassRule, passRules } from "./pass-rules.ts";
import type { PlatLayout } from "./plat-layout.ts";
import { areaPath, element, linePath, px } from "./svg.ts";
import { colours, type Inks, lineWeights, passShare, ramps, ruleShare } from "./tokens.ts";

/** A pass narrower than this shows with its neighbours as one. */
const NARROWEST_PASS_PX = 4;
/** Segments shorter than this get no ticks at their ends. */
const TICKS_FROM_PX = 12;

/**
 * The passes ruled by rate, heavier for more, with a hairline on the lightest, so that a low rate is never blank, and a
 * dotted one where nothing comes. In colour segment ends are ticks of the ground. To be clipped with the boundary.
 */
export function drawPasses(
  plan: Plan,
  field: DrawnField,
  layer: Layer,
  layout: PlatLayout,
  inks: Inks,
): string {
  const every = passesAtOnce(rigWidthM(plan) * layout.pxPerM);
  const rules = passRules(field, layer).filter(
    (rule) => (rule.kind === "headland" ? rule.pass - 1 : rule.pass) % every === 0,
  );
  const ground = inks === "colour" ? colours.sheet : colours.white;
  return (
    element("path", { d: `M0 0H${px(layout.width)}V${px(layout.height)}H0z`, fill: ground }) +
    ruledPasses(rules, layer, layout, inks, every) +
    (inks === "colour" ? ticks(plan, field, layout) : "") +
    hairlines(rules, layout, inks) +
    headlandEdge(field, layout, inks)
  );
}

/** 1, or every 2nd, 4th, 8th pass drawn that many times as wide, until a pass is wide enough to read. */
function passesAtOnce(passPx: number): number {
  let every = 1;
  while (passPx * every < NARROWEST_PASS_PX && every < 64) every *= 2;
  return every;
}

function ruledPasses(
  rules: readonly PassRule[],
  layer: Layer,
  layout: PlatLayout,
  inks: Inks,
  every: number,
): string {
  const byLook = new Map<string, { step: number; width: number; path: string }>();
  for (const rule of rules) {
    if (rule.step < 0) continue;
    const share = inks === "colour" ? passShare(rule.step) : ruleShare[rule.step]!;
    const width = rule.widthM * layout.pxPerM * every * share;
    const key = `${rule.step} ${px(width)}`;
    const look = byLook.get(key) ?? { step: rule.step, width, path: "" };
    look.path += linePath(rule.path, layout.toPx);
    byLook.set(key, look);
  }
  return [...byLook.values()]
    .map(({ step, width, path }) =>
      element("path", {
        d: path,
        fill: "none",
        stroke: inks === "colour" ? ramps[layer.classes.ramp][step]! : colours.black,
        "stroke-width": width,
      }),
    )
    .join("");
}

function hairlines(rules: readonly PassRule[], layout: PlatLayout, inks: Inks): string {
  const ink = inks === "colour" ? colours.ink2 : colours.black;
  const pathOf = (isWanted: (step: number) => boolean) =>
    rules
      .filter((rule) => isWanted(rule.step))
      .map((rule) => linePath(rule.path, layout.toPx))
      .join("");
  const common = { fill: "none", stroke: ink, "stroke-width": String(lineWeights.hairline) };
  const light = pathOf((step) => step === 0 || step === 1);
  const none = pathOf((step) => step < 0);
  return (
    (light === "" ? "" : element("path", { d: light, ...common })) +
    (none === "" ? "" : element("path", { d: none, ...common, "stroke-dasharray": "1 4" }))
  );
}

/** Lines of the ground's colour where segments end: seen on the rules alone. */
function ticks(plan: Plan, field: DrawnField, layout: PlatLayout): string {
  const lengthM = plan.rig.segmentM;
  const { along: guidance, headlandPasses } = field.passes;
  if (lengthM * layout.pxPerM < TICKS_FROM_PX) return "";
  if (guidance.length > 2 || headlandPasses > 0) return endTicks(field, layout);
  const frame = lineFrame([guidance[0]!, guidance[1]!]);
  const corners = outline(field.checked.boundary).map(frame.toLine);
  const across = corners.map(([a]) => a);
  const along = corners.map(([, b]) => b);
  const [left, right] = [Math.min(...across), Math.max(...across)];
  let path = "";
  for (let n = Math.ceil(Math.min(...along) / lengthM); n * lengthM < Math.max(...along); n++) {
    path += linePath([frame.toPlane([left, n * lengthM]), frame.toPlane([right, n * lengthM])], layout.toPx);
  }
  return element("path", { d: path, fill: "none", stroke: colours.sheet, "stroke-width": "0.9" });
}

/** The same piece by piece, where segments do not end on lines across the whole field. */
function endTicks({ passes }: DrawnField, layout: PlatLayout): string {
  const path = passPaths(passes).map(({ path: [from, to], widthM }) => {
    const length = Math.hypot(to![0] - from![0], to![1] - from![1]);
    if (length === 0) return "";
    const [east, north] = [(to![0] - from![0]) / length, (to![1] - from![1]) / length];
    const [x, y] = from!;
    const half = widthM / 2;
    const ends: Point[] = [
      [x - half * north, y + half * east],
      [x + half * north, y - half * east],
    ];
    return linePath(ends, layout.toPx);
  });
  return element("path", { d: path.join(""), fill: "none", stroke: colours.sheet, "stroke-width": "0.9" });
}

/** Where the headland ends and the passes along the line begin. */
function headlandEdge({ passes }: DrawnField, layout: PlatLayout, inks: Inks): string {
  if (passes.headlandPasses === 0) return "";
  const ink = inks === "colour" ? colours.ink2 : colours.black;
  return element("path", {
    d: areaPath(passes.interior, layout.toPx),
    fill: "none",
    stroke: ink,
    "stroke-width": String(lineWeights.hairline),
  });
}

const outline = (area: MultiPolygon) => area.flatMap((polygon) => polygon[0]!);

/** px between the dots of a broadcast layer. */
const DOT_PITCH_PX = 9;

/** px that the outline of the lightest dots adds to their diameter. */
export const DOT_EDGE_PX = 0.8;

/** Broadcast as dots, larger for more. The lightest have an outline. To be clipped with the boundary. */
export function drawDots(
  plan: Plan,
  field: DrawnField,
  layer: Layer,
  layout: PlatLayout,
  inks: Inks,
): string {
  const dots = broadcastDots(plan, field, layer, DOT_PITCH_PX / layout.pxPerM);
  const byStep = new Map<number, { path: string; diameter: number }>();
  for (const dot of dots) {
    const look = byStep.get(dot.step) ?? { path: "", diameter: 2 * dot.radiusM * layout.pxPerM };
    const [x, y] = layout.toPx(dot.at);
    look.path += `M${px(x)} ${px(y)}h0`;
    byStep.set(dot.step, look);
  }
  const ground = inks === "colour" ? colours.sheet : colours.white;
  const circle = (d: string, stroke: string, width: number) =>
    element("path", { d, fill: "none", stroke, "stroke-width": width, "stroke-linecap": "round" });
  const drawn = [...byStep]
    .sort(([a], [b]) => a - b)
    .map(([step, { path, diameter }]) => {
      if (inks === "black") return circle(path, colours.black, diameter);
      const outlineOf = step <= 1 ? circle(path, colours.ink2, diameter + DOT_EDGE_PX) : "";
      return outlineOf + circle(path, ramps[layer.classes.ramp][step]!, diameter);
    });
  const whole = `M0 0H${px(layout.width)}V${px(layout.height)}H0z`;
  return element("path", { d: whole, fill: ground }) + drawn.join("");
}
