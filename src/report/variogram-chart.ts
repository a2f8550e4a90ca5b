import {
  type BandPoint,
  semivariance,
  type VariogramBin,
  type VariogramModel,
} from "../interpolate/index.ts";
import { numberText } from "../units/index.ts";
import { type ChartOptions, chartLine, drawing, textIn } from "./chart-parts.ts";
import { sensibleStep } from "./classes.ts";
import { lengthIn, type UnitSystem, unitWords } from "./numbers.ts";
import { element, px } from "./svg.ts";
import { colours, inkOf, lineWeights, paperOf } from "./tokens.ts";

/** Pairs of samples by distance, and the model that a map was kriged with. */
export interface VariogramShown {
  /** Nearest first; distances in metres, semivariance in the square of the test's unit. */
  readonly bins: readonly VariogramBin[];
  /** Null where nothing was kriged: the pairs stand alone. */
  readonly model: VariogramModel | null;
  /** Drawn thin and broken for comparison: the classical fit to the bins. */
  readonly fitted?: VariogramModel | null;
  /** Ruled: where 90 % of the averaged variograms' weight lies, nearest distance first. */
  readonly band?: readonly BandPoint[];
  /** The test's unit: `ppm`. */
  readonly unit: string;
  readonly system?: UnitSystem;
}

/** Points the model line is drawn through, beside the one at no distance. */
const LINE_POINTS = 60;
/** Radius of the circle of the bin with most pairs, and of the smallest one, px. */
const MOST_PX = 6;
const LEAST_PX = 1.8;
/** Between two rules of the band, px. */
const RULE_PITCH = 4;
const MARGIN = { left: 42, top: 16, right: 10, bottom: 22 };

/**
 * Semivariance against distance: bins as open circles whose area goes by their pairs, the model as a line from its
 * nugget on, the band of the averaged ones in level rules. Directional models are drawn along their longer axis. Without bins and model an empty frame.
 */
export function variogramChart(data: VariogramShown, options: ChartOptions): string {
  const { width, height } = options;
  const { bins, model, fitted, unit } = data;
  const system = data.system ?? "us";
  const isColour = options.inks !== "black";
  const ink = inkOf(options.inks);
  const farthest = Math.max(1, ...bins.map((bin) => bin.distanceM)) * 1.04;
  const lines = [model, fitted ?? null].map((one) => (one ? modelLine(one, farthest) : []));
  const band = (data.band ?? []).filter((point) => point.distanceM <= farthest);
  const highest = Math.max(
    1e-9,
    ...bins.map((bin) => bin.semivariance),
    ...lines.flat().map(([, g]) => g),
    ...band.map((point) => point.high),
  );
  const stepUp = sensibleStep(highest / 4);
  const top = Math.ceil(highest / stepUp - 1e-9) * stepUp;
  const right = lengthIn(farthest, system);
  const stepOut = sensibleStep(right / 4);
  const x = (metres: number) => MARGIN.left + (metres / farthest) * (width - MARGIN.left - MARGIN.right);
  const y = (value: number) => height - MARGIN.bottom - (value / top) * (height - MARGIN.top - MARGIN.bottom);
  const text = textIn(ink);
  const ticks: string[] = [];
  const grid: string[] = [];
  for (let value = 0; value <= top * (1 + 1e-9); value += stepUp) {
    ticks.push(text(MARGIN.left - 5, y(value) + 4, numberText(value, decimalsFor(stepUp)), "end"));
    grid.push(`M${px(MARGIN.left)} ${px(y(value))}H${px(width - MARGIN.right)}`);
  }
  for (let length = 0; length <= right; length += stepOut) {
    const at = x((length / right) * farthest);
    if (at < width - MARGIN.right - 26) ticks.push(text(at, height - 7, numberText(length, 0), "middle"));
  }
  const most = Math.max(1, ...bins.map((bin) => bin.pairs));
  const circles = bins.map((bin) =>
    element("circle", {
      cx: x(bin.distanceM),
      cy: y(bin.semivariance),
      r: Math.max(LEAST_PX, MOST_PX * Math.sqrt(bin.pairs / most)),
      fill: paperOf(options.inks),
      stroke: ink,
      "stroke-width": String(lineWeights.medium),
    }),
  );
  const path = (points: readonly (readonly [number, number])[]) =>
    points.map(([h, g], k) => `${k === 0 ? "M" : "L"}${px(x(h))} ${px(y(g))}`).join("");
  const parts = [
    chartLine(grid.join(""), isColour ? colours.rule : colours.black, isColour ? lineWeights.grid : 0.3),
    chartLine(
      `M${px(MARGIN.left)} ${px(y(top))}V${px(y(0))}H${px(width - MARGIN.right)}`,
      ink,
      lineWeights.axis,
    ),
    chartLine(bandRules(band, x, y), isColour ? colours.line : colours.black, lineWeights.grid),
    chartLine(path(lines[1]!), ink, lineWeights.thin, "5 3"),
    chartLine(path(lines[0]!), ink, lineWeights.critical),
    ...circles,
    ...ticks,
    text(MARGIN.left + 2, 11, `semivariance, ${unit} squared`, "start"),
    text(width - MARGIN.right, height - 7, unitWords(system).length, "end"),
  ];
  const title = `Variogram: ${bins.length} distances${model ? " and the model used" : ""}, ${unit} squared`;
  return drawing({ width, height }, title, parts.join(""));
}

/** Distances a band is asked for so that it fills the chart of these bins. */
export function bandDistances(bins: readonly VariogramBin[]): number[] {
  const farthest = Math.max(1, ...bins.map((bin) => bin.distanceM)) * 1.04;
  return Array.from({ length: LINE_POINTS }, (_, k) => (farthest * (k + 0.5)) / LINE_POINTS);
}

/** Level rules between the lower and the upper edge of a band. */
function bandRules(
  band: readonly BandPoint[],
  x: (metres: number) => number,
  y: (value: number) => number,
): string {
  const edge = [
    ...band.map(({ distanceM, low }) => [x(distanceM), y(low)] as const),
    ...band.toReversed().map(({ distanceM, high }) => [x(distanceM), y(high)] as const),
  ];
  if (edge.length < 4) return "";
  const heights = edge.map(([, at]) => at);
  const rules: string[] = [];
  const top = Math.ceil(Math.min(...heights) / RULE_PITCH) * RULE_PITCH;
  for (let at = top + 0.5; at < Math.max(...heights); at += RULE_PITCH) {
    const crossings = edge.flatMap(([x0, y0], k) => {
      const [x1, y1] = edge[(k + 1) % edge.length]!;
      return y0 > at !== y1 > at ? [x0 + ((at - y0) / (y1 - y0)) * (x1 - x0)] : [];
    });
    crossings.sort((a, b) => a - b);
    for (let k = 0; k + 1 < crossings.length; k += 2) {
      rules.push(`M${px(crossings[k]!)} ${px(at)}H${px(crossings[k + 1]!)}`);
    }
  }
  return rules.join("");
}

/** From just beyond no distance, where the nugget stands, to the farthest. */
function modelLine(model: VariogramModel, farthestM: number): (readonly [metres: number, value: number])[] {
  const angle = ((model.anisotropy?.angleDeg ?? 0) * Math.PI) / 180;
  return Array.from({ length: LINE_POINTS + 1 }, (_, k) => {
    const metres = Math.max(1e-6, (farthestM * k) / LINE_POINTS);
    return [metres, semivariance(model, metres * Math.sin(angle), metres * Math.cos(angle))] as const;
  });
}

const decimalsFor = (step: number): number => (step >= 1 ? (Number.isInteger(step) ? 0 : 1) : 2);
