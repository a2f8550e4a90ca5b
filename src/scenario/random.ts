/**
 * Seeded random numbers with named streams.
 * xoshiro128** 1.1 (D. Blackman and S. Vigna, "Scrambled linear pseudorandom number generators", ACM TOMS 47
 * (2021); from memory, held to the published sequence of state 1, 2, 3, 4 by a test). 32-bit integers only, so
 * every machine gives the same numbers. Each use has a stream of its own: one more draw in one place does not
 * move the others.
 */
export interface Random {
  /** A whole number from 0 to 2^32 - 1. */
  bits(): number;
  /** From 0 to below 1, in steps of 2^-53. */
  uniform(): number;
  between(least: number, most: number): number;
  /** A whole number from 0 to `count` - 1. */
  below(count: number): number;
  chance(probability: number): boolean;
  /** Mean 0, sd 1; Marsaglia's polar method. */
  normal(): number;
  /** A new array in random order. */
  shuffled<T>(items: readonly T[]): T[];
}

const rotated = (word: number, by: number): number => (word << by) | (word >>> (32 - by));

/** The bare generator: four 32-bit words of state, not all zero. */
export function xoshiro128(state: readonly [number, number, number, number]): () => number {
  let [a, b, c, d] = state;
  return () => {
    const result = Math.imul(rotated(Math.imul(b, 5), 7), 9) >>> 0;
    const shifted = b << 9;
    c ^= a;
    d ^= b;
    b ^= c;
    a ^= d;
    c ^= shifted;
    d = rotated(d, 11);
    return result;
  };
}

/** The stream called `name` of a seed (a whole number): FNV-1a of both, spread by a 32-bit mixer. */
export function randomStream(seed: number, name: string): Random {
  let hash = 0x811c9dc5;
  for (const letter of `${seed}/${name}`) {
    hash = Math.imul(hash ^ (letter.codePointAt(0) ?? 0), 0x01000193);
  }
  const word = (): number => {
    hash = (hash + 0x9e3779b9) | 0;
    let mixed = Math.imul(hash ^ (hash >>> 16), 0x85ebca6b);
    mixed = Math.imul(mixed ^ (mixed >>> 13), 0xc2b2ae35);
    return (mixed ^ (mixed >>> 16)) >>> 0;
  };
  return fromBits(xoshiro128([word(), word(), word(), word() | 1]));
}

function fromBits(bits: () => number): Random {
  const uniform = (): number => ((bits() >>> 5) * 0x4000000 + (bits() >>> 6)) / 2 ** 53;
  const below = (count: number): number => Math.floor(uniform() * count);
  return {
    bits,
    uniform,
    below,
    between: (least, most) => least + (most - least) * uniform(),
    chance: (probability) => uniform() < probability,
    normal() {
      for (;;) {
        const x = 2 * uniform() - 1;
        const y = 2 * uniform() - 1;
        const square = x * x + y * y;
        if (square > 0 && square < 1) return x * Math.sqrt((-2 * Math.log(square)) / square);
      }
    },
    shuffled(items) {
      const mixed = [...items];
      for (let i = mixed.length - 1; i > 0; i--) {
        const j = below(i + 1);
        [mixed[i], mixed[j]] = [mixed[j]!, mixed[i]!];
      }
      return mixed;
    },
  };
}
