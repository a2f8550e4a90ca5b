import { pairHumidities, refuseNitrateWithUrea } from "./blend-humidity.ts";
import type { FigureStatus } from "./product.ts";

/** Whether two products may lie together, and what to do. */
export interface PairVerdict {
  readonly pair: readonly [string, string];
  readonly verdict: "compatible" | "limited" | "incompatible" | "not known";
  /** What to do, in words. */
  readonly words: string;
  /** Percent at 30 C of the pure pair; null when not in the table. */
  readonly criticalHumidityPercent: number | null;
  readonly source: string;
  readonly status: FigureStatus;
}

const ipni = "IPNI South-East Asia, Fertilizer Compatibility and Storage, 2013";
const moore = "Moore et al. 2020, doi 10.2139/ssrn.3612740, abstract";
const sameDay = "fill, run and empty the same day; do not store it";

type Rule = readonly [string, string, PairVerdict["verdict"], string, string, FigureStatus];
const rules: readonly Rule[] = [
  [
    "46-0-0",
    "34-0-0",
    "incompatible",
    "never mix them: they turn to slurry",
    "recalled; critical humidity 18 percent",
    "from memory",
  ],
  ["46-0-0", "0-46-0", "incompatible", "do not mix them: water is set free and the heap cakes", ipni, "read"],
  ["46-0-0", "0-0-60", "limited", sameDay, ipni, "read"],
  ["46-0-0", "0-0-50-17S", "limited", "mix it, but do not store it with urea", ipni, "read"],
  ["46-0-0", "11-52-0", "limited", `draws water faster than either; ${sameDay}`, moore, "read"],
  ["46-0-0", "18-46-0", "limited", `draws water faster than either; ${sameDay}`, moore, "read"],
  [
    "46-0-0",
    "21-0-0-24S",
    "limited",
    sameDay,
    "ours, from the pair's critical humidity of 56 percent",
    "arithmetic",
  ],
  ["21-0-0-24S", "11-52-0", "limited", `draws water faster than either; ${sameDay}`, moore, "read"],
  ["21-0-0-24S", "18-46-0", "limited", `draws water faster than either; ${sameDay}`, moore, "read"],
  ["18-46-0", "0-46-0", "limited", sameDay, "recalled", "from memory"],
  ["0-0-60", "11-52-0", "compatible", "may be mixed and kept dry", "recalled", "from memory"],
  ["0-0-60", "18-46-0", "compatible", "may be mixed and kept dry", "recalled", "from memory"],
  ["0-0-60", "21-0-0-24S", "compatible", "may be mixed and kept dry", "recalled", "from memory"],
  ["0-0-60", "0-46-0", "compatible", "may be mixed and kept dry", ipni, "read"],
  ["0-0-60", "0-0-50-17S", "compatible", "may be mixed and kept dry", ipni, "read"],
  ["0-0-50-17S", "11-52-0", "compatible", "may be mixed and kept dry", ipni, "read"],
  ["0-0-50-17S", "18-46-0", "compatible", "may be mixed and kept dry", ipni, "read"],
];

/**
 * What is known of every pair in a blend, worst first, in words. A pair that no source names is "not known", never
 * compatible by default. Throws `nitrate-with-urea`.
 */
export function blendCompatibility(ids: readonly string[]): PairVerdict[] {
  refuseNitrateWithUrea(ids);
  const rank = ["incompatible", "limited", "not known", "compatible"];
  return ids
    .flatMap((first, i) => ids.slice(i + 1).map((second) => pairVerdict(first, second)))
    .sort((a, b) => rank.indexOf(a.verdict) - rank.indexOf(b.verdict));
}

/** What is known of one pair; the order of the two does not matter. */
export function pairVerdict(first: string, second: string): PairVerdict {
  const same = (a: string, b: string): boolean =>
    (a === first && b === second) || (a === second && b === first);
  const rule = rules.find(([a, b]) => same(a, b));
  const humidity = pairHumidities.find(({ pair }) => same(pair[0], pair[1]));
  return {
    pair: [first, second],
    verdict: rule?.[2] ?? "not known",
    words: rule?.[3] ?? "no source names this pair: try a jar of it overnight before filling a bin",
    criticalHumidityPercent: humidity?.percent ?? null,
    source: rule?.[4] ?? "",
    status: rule?.[5] ?? "common practice",
  };
}
