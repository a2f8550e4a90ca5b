import { numberText } from "../units/index.ts";
import { type ChartOptions, chartLine, drawing, textIn } from "./chart-parts.ts";
import { sensibleStep } from "./classes.ts";
import { element, px } from "./svg.ts";
import { colours, inkOf, lineWeights } from "./tokens.ts";

/** Each sample, and what the others say of its place; in the test's unit, in one order. */
export interface LeftOut {
  readonly observed: Float64Array;
  readonly estimate: Float64Array;
  readonly unit: string;
  /** One level for the whole field; left out where there is none. */
  readonly criticalLevel?: number;
}

/** Samples on one side of the critical level whose neighbours put them on the other. */
export interface WrongSide {
  readonly saidAbove: number;
  readonly saidBelow: number;
  readonly samples: number;
  readonly text: string;
}

/** Samples that the map, made without them, puts on the wrong side of the critical level; null without a level. */
export function wrongSide({ observed, estimate, criticalLevel }: LeftOut): WrongSide | null {
  if (criticalLevel === undefined) return null;
  let [saidAbove, saidBelow, samples] = [0, 0, 0];
  observed.forEach((value, i) => {
    const said = estimate[i]!;
    if (!Number.isFinite(value) || !Number.isFinite(said)) return;
    samples++;
    if (value < criticalLevel && said >= criticalLevel) saidAbove++;
    if (value >= criticalLevel && said < criticalLevel) saidBelow++;
  });
  const text = `Left out in turn, ${saidAbove + saidBelow} of ${samples} samples fall on the wrong side of the critical level: ${saidAbove} below it said above, ${saidBelow} above it said below.`;
  return { saidAbove, saidBelow, samples, text };
}

/** Room for the word under the right end of the axis. */
const WORD_PX = 76;

const MARGIN = { left: 34, top: 16, right: 8, bottom: 22 };

/** Measured to the right, estimated from the others upward, 1:1 line, the critical level as a broken cross. */
export function leaveOneOutChart(data: LeftOut, options: ChartOptions): string {
  const { width, height } = options;
  const inks = options.inks ?? "colour";
  const ink = inkOf(inks);
  const rule = inks === "colour" ? colours.rule : colours.black;
  const shown = [...data.observed].map((value, i) => [value, data.estimate[i]!] as const);
  const finite = shown.filter(([a, b]) => Number.isFinite(a) && Number.isFinite(b));
  const most = Math.max(1e-9, data.criticalLevel ?? 0, ...finite.flat());
  const step = sensibleStep(most / 4);
  const top = Math.ceil(most / step) * step;
  const x = (value: number) => MARGIN.left + (value / top) * (width - MARGIN.left - MARGIN.right);
  const y = (value: number) => height - MARGIN.bottom - (value / top) * (height - MARGIN.top - MARGIN.bottom);
  const text = textIn(ink);
  const ticks: string[] = [];
  const grid: string[] = [];
  for (let value = 0; value <= top * (1 + 1e-9); value += step) {
    const label = numberText(value, step < 1 ? 1 : 0);
    if (x(value) < width - MARGIN.right - WORD_PX) ticks.push(text(x(value), height - 7, label, "middle"));
    ticks.push(text(MARGIN.left - 5, y(value) + 4, label, "end"));
    grid.push(`M${px(MARGIN.left)} ${px(y(value))}H${px(width - MARGIN.right)}`);
  }
  const level = data.criticalLevel;
  const cross =
    level === undefined
      ? ""
      : chartLine(
          `M${px(x(level))} ${px(y(top))}V${px(y(0))}M${px(x(0))} ${px(y(level))}H${px(x(top))}`,
          ink,
          lineWeights.medium,
          "6 3",
        );
  const dots = finite.map(([a, b]) => `M${px(x(a))} ${px(y(b))}h0`).join("");
  const parts = [
    chartLine(grid.join(""), rule, inks === "colour" ? lineWeights.grid : 0.3),
    chartLine(`M${px(x(0))} ${px(y(top))}V${px(y(0))}H${px(x(top))}`, ink, lineWeights.axis),
    chartLine(`M${px(x(0))} ${px(y(0))}L${px(x(top))} ${px(y(top))}`, ink, lineWeights.axis),
    cross,
    element("path", { d: dots, fill: "none", stroke: ink, "stroke-width": 4.4, "stroke-linecap": "round" }),
    ...ticks,
    text(MARGIN.left + 2, 11, `from the others, ${data.unit}`, "start"),
    text(width - MARGIN.right, height - 7, "measured", "end"),
  ];
  const title = `Each sample left out in turn: measured against estimated from the others, ${data.unit}`;
  return drawing({ width, height }, title, parts.join(""));
}
