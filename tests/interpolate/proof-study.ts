// The automatic map and the needs read off it, on simulated fields where the truth is known. The short run is
// proof-maps.test.ts; the full one is written to docs/proof-maps.md.
import { chooseModel, krige, predictiveFactor, type VariogramModel } from "../../src/interpolate/index.ts";
import { expectedNeed, needQuantile } from "../../src/need/index.ts";
import { simulate } from "./simulate.ts";

/** A block so small that it only takes the nugget out: the truth is the structured part, what a cell holds. */
const SPOT = { widthM: 1, heightM: 1 };
const SIDE_M = 800;
/** Of a normal distribution, 5 % lie beyond it. */
const Z90 = 1.6448536;

const share = (r: number): number => r * SIDE_M;

/** Models of variance 1, from short to long, little to much nugget, three shapes. */
export const TRUTHS: Readonly<Record<string, VariogramModel>> = {
  "spherical 0.3": { nugget: 0.2, structures: [{ type: "spherical", partialSill: 0.8, range: share(0.3) }] },
  "spherical 0.6": { nugget: 0.5, structures: [{ type: "spherical", partialSill: 0.5, range: share(0.6) }] },
  exponential: { nugget: 0.3, structures: [{ type: "exponential", partialSill: 0.7, range: share(0.15) }] },
  matern: { nugget: 0.3, structures: [{ type: "matern", partialSill: 0.7, range: share(0.1), kappa: 1.5 }] },
};
/** No pattern at all: the truth is the same everywhere. */
export const FLAT: VariogramModel = { nugget: 1, structures: [] };

export interface MapProof {
  /** Mean squared error of the automatic map less that of kriging with the true model; the variance is 1. */
  readonly excess: number;
  /** Mean squared error with the true model. */
  readonly least: number;
  /** Share of the truth inside the 90 % intervals of the automatic map. */
  readonly cover: number;
}

/** Mean over `fields` simulated fields of n samples each. */
export function mapProof(truth: VariogramModel, n: number, fields: number, seed: number): MapProof {
  let [excess, least, covered, places] = [0, 0, 0, 0];
  for (let k = 0; k < fields; k++) {
    const { samples, targets, structured } = simulate(n, SIDE_M, truth, seed + k);
    const auto = krige(samples, chooseModel(samples).model, targets, { block: SPOT });
    // Of a field without pattern the true model knows the samples' mean.
    const best = krige(samples, truth, targets, { block: SPOT }).estimate;
    structured.forEach((is, i) => {
      const error = auto.estimate[i]! - is;
      least += (best[i]! - is) ** 2;
      excess += error ** 2 - (best[i]! - is) ** 2;
      if (Math.abs(error) <= Z90 * Math.sqrt(auto.variance[i]! * predictiveFactor(n))) covered++;
      places++;
    });
  }
  return { excess: excess / places, least: least / places, cover: covered / places };
}

/** Pounds an acre for a test in ppm. Figures invented; the shapes are those of published guides. */
export type Guide = (ppm: number) => number;

export const GUIDES: Readonly<Record<string, Guide>> = {
  straight: (ppm) => Math.max(0, 5 * (34 - ppm)),
  curved: (ppm) => 160 * Math.exp(-ppm / 14),
  stepped: (ppm) => (ppm < 12 ? 120 : ppm < 18 ? 90 : ppm < 24 ? 60 : ppm < 30 ? 30 : 0),
};

/** A pound missing costs this many times a pound in excess. */
export const COST_RATIOS: readonly number[] = [1, 2, 4];

export interface NeedProof {
  /** Pounds of all fields over the pounds truly needed, less 1. */
  readonly bias: Readonly<Record<Figure, number>>;
  /** By cost ratio: mean cost of the rate, in the price of an excess pound, an acre. */
  readonly cost: readonly Readonly<Record<Figure, number>>[];
  /** Pounds truly needed, an acre. */
  readonly needed: number;
}

/** Need of the mapped test, expected need, its cu/(cu+co) quantile, need of the samples' mean everywhere. */
export type Figure = "mapped" | "expected" | "weighted" | "flat";

/**
 * How a test in ppm follows from a Gaussian field of variance 1, both with mean 22 and standard deviation 7 ppm: at a
 * sample, and as the mean over a cell that holds the variation of the nugget.
 */
export interface Soil {
  readonly atSample: (g: number) => number;
  readonly inCell: (structured: number, nugget: number) => number;
}

export const SOILS: Readonly<Record<string, Soil>> = {
  normal: { atSample: (g) => Math.max(0.5, 22 + 7 * g), inCell: (g) => Math.max(0.5, 22 + 7 * g) },
  lognormal: {
    atSample: (g) => LOG.level * Math.exp(LOG.spread * g),
    inCell: (g, nugget) => LOG.level * Math.exp(LOG.spread * g + (LOG.spread ** 2 * nugget) / 2),
  },
};

const LOG = { spread: Math.sqrt(Math.log1p((7 / 22) ** 2)), level: 22 / Math.sqrt(1 + (7 / 22) ** 2) };

/**
 * Over all truths, `fields` of each and as many turned upside down, which are as likely and take chance out of the
 * bias. The bias of `weighted` is that at 2 : 1.
 */
export function needProof(guide: Guide, soil: Soil, n: number, fields: number, seed: number): NeedProof {
  const zero = (): Record<Figure, number> => ({ mapped: 0, expected: 0, weighted: 0, flat: 0 });
  const pounds = zero();
  const cost = COST_RATIOS.map(zero);
  let needed = 0;
  let places = 0;
  Object.values(TRUTHS).forEach((truth, t) => {
    for (let k = 0; k < 2 * fields; k++) {
      const sign = k % 2 === 0 ? 1 : -1;
      const field = simulate(n, SIDE_M, truth, seed + 10_000 * t + (k >> 1));
      const samples = { ...field.samples, value: field.samples.value.map((g) => soil.atSample(sign * g)) };
      const { model } = chooseModel(samples);
      const { estimate, variance } = krige(samples, model, field.targets, { block: SPOT });
      const mean = estimate.map((e) => Math.max(0, e));
      const predictive = { mean, variance: variance.map((v) => v * predictiveFactor(n)) };
      const is = field.structured.map((g) => guide(soil.inCell(sign * g, truth.nugget)));
      const level = samples.value.reduce((a, b) => a + b, 0) / n;
      const fixed = {
        mapped: mean.map((ppm) => guide(ppm)),
        expected: expectedNeed(predictive, guide),
        flat: mean.map(() => guide(level)),
      };
      COST_RATIOS.forEach((ratio, r) => {
        const figures = { ...fixed, weighted: needQuantile(predictive, guide, ratio / (1 + ratio)) };
        for (const figure of Object.keys(figures) as Figure[]) {
          figures[figure].forEach((rate, i) => {
            const short = is[i]! - rate;
            cost[r]![figure] += short > 0 ? ratio * short : -short;
            if (ratio === 2) pounds[figure] += rate;
          });
        }
      });
      for (const pound of is) needed += pound;
      places += is.length;
    }
  });
  const each = (of: Record<Figure, number>, map: (v: number) => number): Record<Figure, number> => ({
    mapped: map(of.mapped),
    expected: map(of.expected),
    weighted: map(of.weighted),
    flat: map(of.flat),
  });
  return {
    bias: each(pounds, (sum) => sum / needed - 1),
    cost: cost.map((sums) => each(sums, (sum) => sum / places)),
    needed: needed / places,
  };
}
