// The full study, as the page docs/proof-maps.md.
import {
  COST_RATIOS,
  type Figure,
  FLAT,
  GUIDES,
  type MapProof,
  mapProof,
  type NeedProof,
  needProof,
  SOILS,
  TRUTHS,
} from "./proof-study.ts";

export const SIZES: readonly number[] = [5, 10, 15, 20, 30, 60, 120, 180];
const NEED_SIZES = [10, 30, 80];
const FIGURES: readonly Figure[] = ["mapped", "expected", "weighted", "flat"];

export interface SizeProof {
  readonly n: number;
  readonly each: Readonly<Record<string, MapProof>>;
  readonly flat: MapProof;
  /** Means over the truths with a pattern. */
  readonly excess: number;
  readonly cover: number;
}

export interface GuideProof {
  readonly soil: string;
  readonly guide: string;
  readonly n: number;
  readonly proof: NeedProof;
}

/** `fields` of each truth at each size. */
export function sizeProofs(sizes: readonly number[], fields: number): SizeProof[] {
  return sizes.map((n) => {
    const entries = Object.entries(TRUTHS).map(
      ([name, truth], t) => [name, mapProof(truth, n, fields, 1 + 1000 * t)] as const,
    );
    const mean = (of: (proof: MapProof) => number): number =>
      entries.reduce((sum, [, proof]) => sum + of(proof), 0) / entries.length;
    return {
      n,
      each: Object.fromEntries(entries),
      flat: mapProof(FLAT, n, fields, 9001),
      excess: mean((proof) => proof.excess),
      cover: mean((proof) => proof.cover),
    };
  });
}

/** Every soil, guide and size; `fieldsOf` of each truth, and as many turned upside down. */
export function guideProofs(fieldsOf: (n: number) => number): GuideProof[] {
  return Object.entries(SOILS).flatMap(([soil, values]) =>
    Object.entries(GUIDES).flatMap(([guide, rate]) =>
      NEED_SIZES.map((n) => ({ soil, guide, n, proof: needProof(rate, values, n, fieldsOf(n), 5001) })),
    ),
  );
}

const percent = (share: number): string => (100 * share).toFixed(1);
const row = (cells: readonly (string | number)[]): string => `| ${cells.join(" | ")} |`;
const rule = (count: number): string => `|${"---|".repeat(count)}`;

export function proofPage(
  sizes: readonly SizeProof[],
  fields: number,
  guides: readonly GuideProof[],
  needFields: string,
): string {
  const names = Object.keys(TRUTHS);
  const mapRows = sizes.map(({ n, each, flat, excess, cover }) =>
    row([
      n,
      ...names.map((name) => percent(each[name]!.excess)),
      `**${percent(excess)}**`,
      percent(flat.excess),
      ...names.map((name) => percent(each[name]!.cover)),
      `**${percent(cover)}**`,
    ]),
  );
  const biasRows = guides.map(({ soil, guide, n, proof }) =>
    row([soil, guide, n, proof.needed.toFixed(1), ...FIGURES.map((figure) => percent(proof.bias[figure]))]),
  );
  const costRows = guides.map(({ soil, guide, n, proof }) =>
    row([
      ...[soil, guide, n],
      ...COST_RATIOS.flatMap((_, r) => FIGURES.map((figure) => proof.cost[r]![figure].toFixed(1))),
    ]),
  );
  const most = Math.max(...guides.map(({ proof }) => Math.abs(proof.bias.expected)));
  const mostMapped = Math.max(...guides.map(({ proof }) => Math.abs(proof.bias.mapped)));
  return `# The maps held against truth

Written by \`npm run proof:maps\` (a few minutes; seeded, so it writes the same again). A short run of the same study is among the tests
(\`tests/interpolate/proof-maps.test.ts\`); what it simulates stands in \`tests/interpolate/proof-study.ts\`.

Gaussian fields on a square of 800 m, variance 1, samples on a loose grid with the nugget in them; the truth is the field without the nugget,
which is what a cell holds, at 144 places. Spherical with range 0.3 of the side and a nugget of 20 % (spherical 0.3), range 0.6 and 50 %
(spherical 0.6), exponential with range 0.15 and Matern (kappa 1.5) with range 0.1, both 30 %; and fields without any pattern.

## The map and its uncertainty

Excess: mean squared error of the automatic map less that of kriging with the very model the field was drawn from, in % of the variance. Cover:
share of the truth within the map's 90 % intervals, in %. ${fields} fields a figure.

${row(["samples", ...names.map((name) => `excess, ${name}`), "all four", "no pattern", ...names.map((name) => `cover, ${name}`), "all four"])}
${rule(2 * names.length + 4)}
${mapRows.join("\n")}

Asked for: excess of at most 6 % at every number of samples, cover of 85 to 93 % from 10 samples on, for the four together.

## Pounds of the field

Soil tests with mean 22 and standard deviation 7 ppm, normal or lognormal, over the four patterns; three guides of invented figures
(\`GUIDES\`): straight down to nothing, a curve, and steps of 30 lb/ac. Bias: pounds over all fields against the pounds the true cells need,
in %. Weighted need is shown at 2 : 1. Flat: the need of the samples' mean, everywhere. ${needFields}

${row(["soil", "guide", "samples", "needed, lb/ac", "need of the mapped test", "expected need", "weighted need", "flat"])}
${rule(8)}
${biasRows.join("\n")}

* Expected need is the field's total to ${percent(most)} % at worst; the mapped test's need is off by up to ${percent(mostMapped)} %, on a curve, always downward.
* Weighted need means to place more than the soil wants; its bias is the insurance it buys.

## Cost of each figure as a rate

A pound too many costs 1, a pound missing 1, 2 or 4; mean cost an acre and year, in the price of a pound.

${row(["soil", "guide", "samples", ...COST_RATIOS.flatMap((ratio) => FIGURES.map((figure) => `${ratio} : 1 ${figure}`))])}
${rule(3 + COST_RATIOS.length * FIGURES.length)}
${costRows.join("\n")}

How to choose:

* If you can say what a missing pound costs you against a pound too many, weighted need is the cheapest rate, or within a few tenths of a pound
  of it, on every guide. The more one-sided the costs, the more it saves.
* If both cost alike, need of the mapped test is as good and needs no figure from you. On a guide with steps it beats expected need, which puts
  between two steps what no soil wants.
* Expected need is the figure to order by and to compare fields by: its total is right. As a rate it is good on a smooth curve only.
* A flat rate costs more than any map that found a pattern.
`;
}
