import type { RatePoint } from "../plan/index.ts";
import { numberText } from "../units/index.ts";
import { type ChartOptions, chartLine, drawing, textIn } from "./chart-parts.ts";
import { sensibleStep } from "./classes.ts";
import { areaIn, rateIn, type UnitSystem, unitWords } from "./numbers.ts";
import { element, px } from "./svg.ts";
import { colours, inkOf, lineWeights, paperOf } from "./tokens.ts";

/** Acres a day against the strip's mean rate. */
export interface CapacityShown {
  /** By rising rate. */
  readonly points: readonly RatePoint[];
  /** Today's rate, one of the points' or between them, lb/ac. */
  readonly today: RatePoint;
  /** lb/ac above which the tenders are the limit; null when they never are. */
  readonly crossoverLbPerAc: number | null;
  readonly system?: UnitSystem;
}

const MARGIN = { left: 40, top: 18, right: 12, bottom: 36 };

/**
 * A heavy line for a day from full, thin ones for the rig line and the tender line (steady), a broken one for one more tender;
 * a dot at today's rate and a ring at what one more tender would do. Told apart by weight and by words.
 */
export function capacityChart(data: CapacityShown, options: ChartOptions): string {
  const { width, height } = options;
  const { points, today, crossoverLbPerAc, system = "us" } = data;
  const isColour = options.inks !== "black";
  const ink = inkOf(options.inks);
  const flag = isColour ? colours.flag : colours.black;
  const shownDay = (acres: number): number => areaIn(acres, system);
  const rates = points.map((point) => point.rateLbPerAc);
  const [low, high] = [rates[0] ?? 0, Math.max(1, rates.at(-1) ?? 1)];
  const heights = points.flatMap((point) =>
    [point.fromFullAcPerDay, point.rigAcPerDay, point.anotherTenderFromFullAcPerDay].flatMap((acres) =>
      acres === null ? [] : [shownDay(acres)],
    ),
  );
  const [least, most] = [Math.min(...heights), Math.max(...heights)];
  const step = sensibleStep(Math.max(1, (most - least) / 4));
  const bottom = Math.max(0, Math.floor(least / step) * step);
  const top = Math.ceil(most / step + 1e-9) * step;
  const x = (rate: number) =>
    MARGIN.left + ((rate - low) / (high - low)) * (width - MARGIN.left - MARGIN.right);
  const y = (value: number) =>
    height -
    MARGIN.bottom -
    ((value - bottom) / Math.max(1e-9, top - bottom)) * (height - MARGIN.top - MARGIN.bottom);
  const text = textIn(ink);
  const path = (acres: (point: RatePoint) => number | null): string => {
    let d = "";
    for (const point of points) {
      const value = acres(point);
      const shown = value === null ? Number.NaN : shownDay(value);
      if (!(shown >= bottom && shown <= top)) continue;
      d += `${d === "" ? "M" : "L"}${px(x(point.rateLbPerAc))} ${px(y(shown))}`;
    }
    return d;
  };
  const grid: string[] = [];
  const ticks: string[] = [];
  for (let value = bottom; value <= top * (1 + 1e-9); value += step) {
    grid.push(`M${px(MARGIN.left)} ${px(y(value))}H${px(width - MARGIN.right)}`);
    ticks.push(text(MARGIN.left - 5, y(value) + 4, numberText(value, 0), "end"));
  }
  const [from, to] = [rateIn(low, system), rateIn(high, system)];
  const out = sensibleStep((to - from) / 5);
  for (let rate = Math.ceil(from / out) * out; rate <= to; rate += out) {
    const at = x(low + ((rate - from) / (to - from)) * (high - low));
    ticks.push(text(at, height - MARGIN.bottom + 15, numberText(rate, 0), "middle"));
  }
  const now = { at: x(today.rateLbPerAc), down: y(shownDay(today.fromFullAcPerDay)) };
  const another = today.anotherTenderFromFullAcPerDay;
  const isRight = now.at > width * 0.6;
  const beside = (words: string, down: number, fill: string) =>
    element(
      "g",
      {
        stroke: paperOf(options.inks),
        "stroke-width": "3",
        "stroke-linejoin": "round",
        "paint-order": "stroke",
      },
      text(now.at + (isRight ? -9 : 9), down, words, isRight ? "end" : "start", fill),
    );
  const gains = another !== null && another > today.fromFullAcPerDay + 0.5;
  const parts = [
    chartLine(grid.join(""), isColour ? colours.rule : colours.black, isColour ? lineWeights.grid : 0.3),
    chartLine(
      `M${px(MARGIN.left)} ${px(MARGIN.top)}V${px(y(bottom))}H${px(width - MARGIN.right)}`,
      ink,
      lineWeights.axis,
    ),
    chartLine(
      path((point) => point.rigAcPerDay),
      ink,
      lineWeights.thin,
    ),
    chartLine(
      path((point) => point.tenderAcPerDay),
      ink,
      lineWeights.thin,
      "2 2",
    ),
    chartLine(
      path((point) => point.anotherTenderFromFullAcPerDay),
      ink,
      lineWeights.thin,
      "7 4",
    ),
    chartLine(
      path((point) => point.fromFullAcPerDay),
      ink,
      lineWeights.critical,
    ),
    chartLine(`M${px(now.at)} ${px(now.down)}V${px(y(bottom))}`, flag, lineWeights.medium),
    ...(gains
      ? [
          element("circle", {
            cx: now.at,
            cy: y(shownDay(another)),
            r: 4,
            fill: paperOf(options.inks),
            stroke: ink,
            "stroke-width": String(lineWeights.medium),
          }),
          beside(
            `one more tender ${numberText(shownDay(another), 0)}`,
            Math.max(12, y(shownDay(another)) - 7),
            ink,
          ),
        ]
      : []),
    element("circle", { cx: now.at, cy: now.down, r: 4, fill: flag }),
    beside(`now ${numberText(shownDay(today.fromFullAcPerDay), 0)} from full`, now.down + 16, flag),
    ...ticks,
    text(MARGIN.left + 2, 11, `${unitWords(system).area} a day`, "start"),
    text(width - MARGIN.right, height - 5, `mean strip rate, ${unitWords(system).rate} of product`, "end"),
  ];
  const cross =
    crossoverLbPerAc === null
      ? "the tenders are never the limit"
      : `the tenders are the limit above ${numberText(rateIn(crossoverLbPerAc, system), 0)} ${unitWords(system).rate}`;
  const more = gains ? `, with one more tender ${numberText(shownDay(another), 0)}` : "";
  const title = `${system === "us" ? "Acres" : "Hectares"} a day against the strip's rate: now ${numberText(shownDay(today.fromFullAcPerDay), 0)} from full at ${numberText(rateIn(today.rateLbPerAc, system), 0)} ${unitWords(system).rate}${more}; ${cross}`;
  return drawing({ width, height }, title, parts.join(""));
}
