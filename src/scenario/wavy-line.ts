import type { Random } from "./random.ts";

/** Height y of a line at x, m: a fence, a road, a creek or a railroad that runs from west to east. */
export type Graph = (x: number) => number;

/** A smooth wandering around 0: normal values of sd 1 every `spacingM`, joined without a kink. */
export function wandering(random: Random, fromX: number, toX: number, spacingM: number): Graph {
  const count = Math.ceil((toX - fromX) / spacingM) + 2;
  const values = Float64Array.from({ length: count }, () => Math.max(-2, Math.min(2, random.normal())));
  return (x) => {
    const place = Math.max(0, Math.min(count - 1.001, (x - fromX) / spacingM));
    const left = Math.floor(place);
    const t = place - left;
    return values[left]! + (values[left + 1]! - values[left]!) * t * t * t * (t * (t * 6 - 15) + 10);
  };
}

interface CreekShape {
  /** Height of its middle line at x = 0, m. */
  readonly atM: number;
  /** Rise per metre to the east. */
  readonly slope: number;
  /** How far the valley wanders, sd in m. */
  readonly valleyM: number;
  /** How far the bends swing within the valley, sd in m. */
  readonly bendM: number;
  /** From one bend to the next, m. */
  readonly bendEveryM: number;
}

export function creekLine(random: Random, fromX: number, toX: number, shape: CreekShape): Graph {
  const valley = wandering(random, fromX, toX, 1_100);
  const bends = wandering(random, fromX, toX, shape.bendEveryM);
  return (x) => shape.atM + shape.slope * x + shape.valleyM * valley(x) + shape.bendM * bends(x);
}

/** Distance to a line that is a graph, good where the line is not steep, m. */
export function distanceToGraph(graph: Graph, x: number, y: number): number {
  const slope = (graph(x + 5) - graph(x - 5)) / 10;
  return Math.abs(y - graph(x)) / Math.sqrt(1 + slope * slope);
}
