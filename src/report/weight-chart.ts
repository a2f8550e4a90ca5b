import type { FieldFills } from "../plan/index.ts";
import { COUNTS_M2 } from "../strips/index.ts";
import { acres } from "../units/index.ts";
import { type ChartOptions, drawing, textIn } from "./chart-parts.ts";
import { lbText, type UnitSystem, unitWords } from "./numbers.ts";
import { element, px } from "./svg.ts";
import { inkOf } from "./tokens.ts";

interface WeightChartOptions extends ChartOptions {
  /** Place of the bin in the rig's bins. */
  readonly bin: number;
  readonly system?: UnitSystem;
}

/**
 * What one bin's scale shows pass by pass: a line that falls with each pass and rises at each stop, the reserve dotted.
 * Passes stand in working order from the left. Empty without a plan.
 */
export function weightChart(fills: FieldFills, options: WeightChartOptions): string {
  const { width, height, bin, system = "us" } = options;
  const { plan } = fills;
  if (!plan.feasible) return "";
  const ink = inkOf(options.inks);
  const residual = fills.residualLb[bin]!;
  const most = Math.max(fills.usableLb[bin]!, plan.startLb[bin]!) + residual;
  const [left, right, top, bottom] = [54, width - 10, 14, height - 24];
  const count = fills.passes.length;
  const x = (done: number): number => left + ((right - left) * done) / count;
  const y = (lb: number): number => bottom - ((bottom - top) * Math.max(0, lb)) / most;
  const begun = fills.passes.findIndex((pass) => pass.leftLb !== null);
  // A corner that the outline cuts off is no pass.
  const last = fills.passes.findLast(({ areaAc }) => areaAc > acres(COUNTS_M2)) ?? fills.passes.at(-1)!;
  const points: string[] = [];
  fills.passes.forEach((pass, k) => {
    if (pass.leftLb === null) return;
    const after = pass.leftLb[bin]! + residual;
    const before = after + pass.lb[bin]!;
    points.push(
      `${points.length === 0 ? "M" : "L"}${px(x(k))} ${px(y(before))}`,
      `L${px(x(k + 1))} ${px(y(after))}`,
    );
  });
  const text = textIn(ink);
  const level = (lb: number, dash: string | undefined): string =>
    element("path", {
      d: `M${px(left)} ${px(y(lb))}H${px(right)}`,
      stroke: ink,
      "stroke-width": "0.8",
      "stroke-dasharray": dash,
      fill: "none",
    });
  const reserve = plan.reserveLb[bin]! + residual;
  const stops = fills.stops.map((stop) => text(x(stop.passesDone), 11, String(stop.number)));
  const { id, product } = fills.bins[bin]!;
  const title = `bin ${id}, ${product}: ${unitWords(system).mass} on the scale by pass; ${stops.length === 0 ? "no stop" : `stops after ${fills.stops.map((stop) => stop.passesDone).join(", ")} passes`}`;
  return drawing(
    { width, height },
    title,
    level(0, undefined) +
      level(reserve, "2 4") +
      level(most, "9 3") +
      text(left - 6, y(0) + 4, "0", "end") +
      text(left - 6, y(most) + 4, lbText(most, system), "end") +
      (y(0) - y(reserve) > 14 ? text(left - 6, y(reserve) + 4, lbText(reserve, system), "end") : "") +
      element("path", {
        d: points.join(""),
        fill: "none",
        stroke: ink,
        "stroke-width": "1.8",
        "stroke-linejoin": "round",
      }) +
      stops.join("") +
      text(x(Math.max(0, begun)), height - 6, `pass ${fills.passes[Math.max(0, begun)]!.passName}`, "start") +
      text(right, height - 6, `pass ${last.passName}`, "end"),
  );
}
