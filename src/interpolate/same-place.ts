import { InputError } from "../errors/index.ts";
import type { Samples } from "./types.ts";

/** Two samples at one place: their positions in the arrays, first < second. */
interface SamePlace {
  readonly first: number;
  readonly second: number;
}

/** Every pair of samples at one place, in order of the second. Empty when all stand apart. */
function samePlaces({ x, y }: Samples): SamePlace[] {
  const order = Array.from(x.keys()).sort((a, b) => x[a]! - x[b]! || a - b);
  const found: SamePlace[] = [];
  for (let i = 0; i < order.length; i++) {
    const a = order[i]!;
    for (let j = i + 1; j < order.length && x[order[j]!]! === x[a]!; j++) {
      const b = order[j]!;
      if (y[b]! === y[a]!) found.push({ first: a, second: b });
    }
  }
  return found.sort((a, b) => a.second - b.second || a.first - b.first);
}

/**
 * Refuses what kriging has no answer for: no sample at all (`no-samples`) and two at one place
 * (`samples-at-one-place`, rows counted from 1). Arrays of unequal length or values that are no numbers are our bug.
 */
export function checkSamples(samples: Samples): void {
  const { x, y, value } = samples;
  if (x.length !== y.length || x.length !== value.length) throw new Error("samples: arrays differ in length");
  for (const array of [x, y, value]) {
    if (!array.every(Number.isFinite)) throw new Error("samples: every coordinate and value must be finite");
  }
  if (x.length === 0)
    throw new InputError("no-samples", "there is no sample to map from", "Give at least one sample.");
  const pair = samePlaces(samples)[0];
  if (pair === undefined) return;
  const { first, second } = pair;
  throw new InputError(
    "samples-at-one-place",
    `samples ${first + 1} and ${second + 1} stand at one place (${x[first]}, ${y[first]}) with the values ${value[first]} and ${value[second]}`,
    "Keep one of the two, or their mean, before mapping.",
  );
}
