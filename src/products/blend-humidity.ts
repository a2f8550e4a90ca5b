import { InputError, type Notice } from "../errors/index.ts";
import type { BlendPart } from "./blend-recipe.ts";
import type { FigureStatus, Product } from "./product.ts";
import { productById } from "./product-list.ts";

/** Critical humidity of two salts together, from a table. */
export interface PairHumidity {
  readonly pair: readonly [string, string];
  readonly percent: number;
  readonly source: string;
  readonly status: FigureStatus;
}

const table = "Adams and Merz 1929, in the encyclopedia article Critical relative humidity, 30 C";
const read = (a: string, b: string, percent: number): PairHumidity => ({
  pair: [a, b],
  percent,
  source: table,
  status: "second-hand",
});
const recalled = (a: string, b: string, percent: number): PairHumidity => ({
  pair: [a, b],
  percent,
  source: "recalled, 30 C",
  status: "from memory",
});

/** Critical relative humidity of two pure salts together, percent at 30 C. */
export const pairHumidities: readonly PairHumidity[] = [
  read("34-0-0", "46-0-0", 18.1),
  read("34-0-0", "21-0-0-24S", 62.3),
  read("34-0-0", "0-0-60", 67.9),
  read("21-0-0-24S", "46-0-0", 56.4),
  read("0-0-60", "46-0-0", 60.3),
  read("0-0-60", "21-0-0-24S", 71.3),
  recalled("11-52-0", "46-0-0", 65.2),
  recalled("11-52-0", "0-0-60", 72.8),
  recalled("11-52-0", "21-0-0-24S", 75.8),
  recalled("11-52-0", "34-0-0", 58),
  recalled("0-46-0", "46-0-0", 65.1),
  recalled("0-46-0", "34-0-0", 52.8),
];

/** Commercial grades draw water sooner than pure salts: Clayton 1984 (IFDC) as quoted; unconfirmed. */
const commercialHumidity: {
  readonly single: number;
  readonly blend: number;
  readonly source: string;
} = {
  single: 70,
  blend: 55,
  source:
    "Clayton 1984, Humidity Factors Affecting Storage and Handling of Fertilizers, IFDC, quoted second-hand; unconfirmed",
};

/** Parts below this share of the weight do not count. */
const LEAST_SHARE = 0.02;
const NITRATE = "34-0-0";
const UREA = "46-0-0";

/** Humidity above which a product or blend draws water. */
export interface CriticalHumidity {
  /** Percent at 30 C from pairs of pure salts, less the coating's points: an upper bound. Null when nothing is known. */
  readonly tablePercent: number | null;
  /** The pair or the product it comes from. */
  readonly from: readonly string[];
  /** Product rule in place of a table: within 5 points where it could be checked. */
  readonly estimated: boolean;
  /** About 70 for one product, 55 for a blend; unconfirmed. */
  readonly commercialPercent: number;
  /** The lower of the two: the limit to work with. */
  readonly limitPercent: number;
  readonly status: FigureStatus | "unconfirmed";
  readonly notices: readonly Notice[];
}

/**
 * Air humidity above which a blend takes up water. The lowest pair among parts of at least 2 % of the weight, else the lowest
 * single salt; a pair without a table value by CRH1 x CRH2 / 100, never with ammonium nitrate. Cooler air is safer; the table
 * is for 30 C and is not extrapolated. `coatingPoints`: typed by the user, no figure was found.
 * Throws `nitrate-with-urea`, `unknown-product`.
 */
export function criticalHumidity(
  parts: readonly BlendPart[],
  coatingPoints = 0,
  own: readonly Product[] = [],
): CriticalHumidity {
  refuseNitrateWithUrea(parts.filter((part) => part.share > 0).map((part) => part.id));
  const counted = parts.filter((part) => part.share >= LEAST_SHARE).map((part) => productById(part.id, own));
  const notices: Notice[] = [];
  const found: {
    readonly percent: number;
    readonly from: string[];
    readonly estimated: boolean;
    readonly status: FigureStatus;
  }[] = [];
  for (const [i, first] of counted.entries()) {
    for (const second of counted.slice(i + 1)) {
      const entry = pairOf(first.id, second.id);
      if (entry !== undefined) {
        found.push({
          percent: entry.percent,
          from: [first.id, second.id],
          estimated: false,
          status: entry.status,
        });
        continue;
      }
      const [a, b] = [first.criticalHumidityPercent, second.criticalHumidityPercent];
      if (a === undefined || b === undefined || first.id === NITRATE || second.id === NITRATE) {
        const message = `no critical humidity is known for ${first.id} with ${second.id}; the blend may draw water sooner`;
        notices.push({ code: "pair-humidity-unknown", message, where: `${first.id} + ${second.id}` });
        continue;
      }
      const percent = productRule(a.value, b.value);
      found.push({ percent, from: [first.id, second.id], estimated: true, status: "arithmetic" });
    }
  }
  if (found.length === 0) {
    for (const { id, criticalHumidityPercent: single } of counted) {
      if (single !== undefined) {
        found.push({ percent: single.value, from: [id], estimated: false, status: single.status });
      }
    }
  }
  const lowest = found.reduce<(typeof found)[number] | null>(
    (best, one) => (best === null || one.percent < best.percent ? one : best),
    null,
  );
  const commercialPercent = counted.length > 1 ? commercialHumidity.blend : commercialHumidity.single;
  const tablePercent = lowest === null ? null : lowest.percent - coatingPoints;
  const fromTable = tablePercent !== null && tablePercent < commercialPercent;
  return {
    tablePercent,
    from: lowest?.from ?? [],
    estimated: lowest?.estimated ?? false,
    commercialPercent,
    limitPercent: fromTable ? tablePercent : commercialPercent,
    status: fromTable ? lowest!.status : "unconfirmed",
    notices,
  };
}

/** CRH1 x CRH2 / 100, percent. */
export const productRule = (first: number, second: number): number => (first * second) / 100;

function pairOf(a: string, b: string): PairHumidity | undefined {
  return pairHumidities.find(
    ({ pair }) => (pair[0] === a && pair[1] === b) || (pair[0] === b && pair[1] === a),
  );
}

/** Throws `nitrate-with-urea`: that mixture takes up water from almost any air. */
export function refuseNitrateWithUrea(ids: readonly string[]): void {
  if (!(ids.includes(NITRATE) && ids.includes(UREA))) return;
  throw new InputError(
    "nitrate-with-urea",
    `the blend holds ${UREA} and ${NITRATE}: their critical humidity is 18 percent`,
    "Take one of them out; another source of nitrogen does not turn to slurry.",
  );
}
