import { sum } from "../numeric/index.ts";

/** Rates by class, the classes of the pieces, and how far any piece's rate moved. */
export interface Coarse {
  /** Class of each piece, 0 to `rates.length` - 1. */
  readonly classOf: Int32Array;
  /** lb product/ac, one a class, to two decimals. */
  readonly rates: readonly number[];
  /** How it was coarsened, in words; empty when no rate moved. */
  readonly how: string;
}

interface CoarseInput {
  readonly rateLbPerAc: Float64Array;
  readonly areaAc: Float64Array;
  readonly pieces: readonly { readonly pass: number; readonly column: number; readonly keptOff?: true }[];
  readonly stepLbPerAc: number;
}

/** Ever coarser: blocks of so many passes by so many segments share their mean; rates go in so many steps. */
const LEVELS: readonly (readonly [block: number, steps: number])[] = [
  [1, 1],
  [1, 2],
  [2, 1],
  [2, 2],
  [2, 4],
  [4, 2],
  [4, 4],
  [8, 4],
  [8, 8],
];

/**
 * The ways to make a map coarser, from nothing at all to one rate a field. A class has the mean of its pieces' rates by
 * area, to two decimals, so pounds keep to rounding. Pieces with rate 0 are never mixed with others, until the
 * last way, which gives one rate to everything but pieces that are kept off.
 */
export function* coarserClasses(input: CoarseInput): Generator<Coarse> {
  for (const [block, steps] of LEVELS) yield coarse(input, block, steps);
  const all = Float64Array.from(input.pieces, ({ keptOff }) => (keptOff ? 0 : 1));
  const but = all.includes(0) ? " but for what is kept clear" : "";
  yield { ...classesBy(input, all), how: `one rate for the whole field${but}` };
}

function coarse(input: CoarseInput, block: number, steps: number): Coarse {
  const { rateLbPerAc, areaAc, pieces, stepLbPerAc } = input;
  if (block === 1 && steps === 1) return { ...classesBy(input, rateLbPerAc), how: "" };
  const sums = new Map<string, { lb: number; ac: number }>();
  const blockOf = (k: number) =>
    `${Math.floor(pieces[k]!.pass / block)} ${Math.floor(pieces[k]!.column / block)}`;
  rateLbPerAc.forEach((rate, k) => {
    if (rate === 0) return;
    const there = sums.get(blockOf(k)) ?? { lb: 0, ac: 0 };
    sums.set(blockOf(k), { lb: there.lb + rate * areaAc[k]!, ac: there.ac + areaAc[k]! });
  });
  const step = steps * stepLbPerAc;
  const keys = rateLbPerAc.map((rate, k) => {
    if (rate === 0) return 0;
    const { lb, ac } = sums.get(blockOf(k))!;
    return Math.max(1, Math.round(lb / ac / step));
  });
  const blocks = block === 1 ? "" : `${block} by ${block} segments share a rate, `;
  return { ...classesBy(input, keys), how: `${blocks}rates in steps of about ${step} lb/ac` };
}

/** Pieces with one key make a class; classes by rising key. */
function classesBy(
  { rateLbPerAc, areaAc }: CoarseInput,
  keys: Float64Array,
): { classOf: Int32Array; rates: number[] } {
  const sorted = [...new Set(keys)].sort((a, b) => a - b);
  const number = new Map(sorted.map((key, k) => [key, k]));
  const classOf = Int32Array.from(keys, (key) => number.get(key)!);
  const rates = sorted.map((_, k) => {
    const own = [...classOf.keys()].filter((piece) => classOf[piece] === k);
    const first = rateLbPerAc[own[0]!]!;
    if (own.every((piece) => rateLbPerAc[piece] === first)) return first;
    const lb = sum(own.map((piece) => rateLbPerAc[piece]! * areaAc[piece]!));
    return Math.round((lb / sum(own.map((piece) => areaAc[piece]!))) * 100) / 100;
  });
  return { classOf, rates };
}
